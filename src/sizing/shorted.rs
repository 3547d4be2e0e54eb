//! What devices ask of shorts, as sums over the leads.
//!
//! A device must open on the smallest short at the far end of its lead, and must neither be torn by
//! the largest one at its start nor let it harm the lead. One over the current is a sum over the
//! resistances that the short goes through: the smallest short may have no more of them, the largest
//! no less. Shorts are reckoned in kiloamperes here, so that the sums are of the size of one.

use std::collections::{BTreeMap, BTreeSet};

use super::ohms::Ohms;
use super::outfit::{Outfit, Stock};
use super::problem::Limit;
use crate::circuit::{Faults, Guarded, Hindrance, Wiring};
use crate::job::LeadId;

/// Which short.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Short {
    /// The smallest, at the far end.
    Far,
    /// The largest, at the start.
    Near,
}

impl Short {
    /// One where more resistance does harm, else minus one.
    fn turn(self) -> f64 {
        match self {
            Self::Far => 1.0,
            Self::Near => -1.0,
        }
    }
}

/// What the devices of a job ask of shorts.
pub struct Shorted<'s, 'a> {
    stock: &'s Stock<'a>,
    options: &'s [Vec<Outfit>],
    leads: Vec<Option<Asked>>,
}

/// A set of outfits with the shorts in it.
#[derive(Clone, Copy)]
pub struct Here<'h, 'a> {
    /// The job so wired.
    pub wiring: &'h Wiring<'a>,
    /// What dead shorts draw.
    pub faults: &'h Faults,
    /// The outfits; position = lead id.
    pub outfits: &'h [Outfit],
}

impl Here<'_, '_> {
    fn hindrance(&self, short: Short, lead: usize) -> Option<Hindrance> {
        match short {
            Short::Far => self.faults.hindrance_far(self.wiring, LeadId(lead)),
            Short::Near => self.faults.hindrance_near(self.wiring, LeadId(lead)),
        }
    }
}

/// What the options of one lead ask.
struct Asked {
    far: Side,
    near: Side,
}

/// What they ask of one of its shorts.
struct Side {
    /// One over the current that each option can do with, in 1/kA.
    asked: Vec<f64>,
    /// One over the current in each sample, in 1/kA; the thickest options first, then the thinnest.
    found: Vec<f64>,
    /// The leads that move it.
    moving: Vec<Moving>,
}

/// How one over a current answers to the resistance of a lead, in 1/(kA Ω).
#[derive(Debug, Clone, Copy)]
struct Moving {
    lead: usize,
    /// The least in any sample.
    least: f64,
    /// The most.
    most: f64,
}

impl Side {
    /// `None` where nothing flows in some sample.
    fn of(samples: &[Here<'_, '_>], lead: usize, short: Short) -> Option<Self> {
        let hindrances = samples.iter().map(|sample| sample.hindrance(short, lead));
        let hindrances: Vec<Hindrance> = hindrances.collect::<Option<_>>()?;
        let moving = (0..samples.first()?.outfits.len()).filter_map(|other| {
            let slopes = || hindrances.iter().map(|hindrance| hindrance.slopes[other]);
            let (least, most) = (slopes().reduce(f64::min)?, slopes().reduce(f64::max)?);
            let moves = least.abs().max(most.abs()) >= LEAST_SLOPE;
            moves.then_some(Moving {
                lead: other,
                least: least * KILO,
                most: most * KILO,
            })
        });
        Some(Self {
            asked: Vec::new(),
            moving: moving.collect(),
            found: hindrances
                .iter()
                .map(|hindrance| hindrance.per_amp * KILO)
                .collect(),
        })
    }

    /// What is out of reach is asked in reach of the sums, so that it does not drown them.
    fn asking(mut self, asked: impl Iterator<Item = f64>) -> Self {
        let most = self.most();
        self.asked = asked.map(|asked| asked.min(most)).collect();
        self
    }

    /// More than is ever found.
    fn most(&self) -> f64 {
        2.0 * self.found.iter().copied().fold(0.0, f64::max)
    }
}

const KILO: f64 = 1e3;

/// Leads that move one over a current by less than this for each ohm are not on its way, in 1/(A Ω).
const LEAST_SLOPE: f64 = 1e-12;

impl<'s, 'a> Shorted<'s, 'a> {
    /// Reads the devices' curves, and how shorts answer to resistances; the more samples of sets of
    /// outfits, the surer.
    pub fn of(stock: &'s Stock<'a>, options: &'s [Vec<Outfit>], samples: &[Here<'_, 'a>]) -> Self {
        let leads = options.iter().enumerate();
        Self {
            leads: leads
                .map(|(lead, outfits)| Asked::of(stock, lead, outfits, samples))
                .collect(),
            stock,
            options,
        }
    }

    /// Every demand as it stands at a set of outfits; those of the leads `lost` to it are left out.
    pub fn limits(&self, ohms: &Ohms<'_>, here: Here<'_, '_>, lost: &[usize]) -> Vec<Limit> {
        let leads = (0..self.leads.len()).filter(|lead| !lost.contains(lead));
        leads
            .flat_map(|lead| self.limits_of(ohms, here, lead))
            .collect()
    }

    /// The demands of one lead as they stand at a set of outfits; nowhere do they ask more than the
    /// truth.
    pub fn limits_of(
        &self,
        ohms: &Ohms<'_>,
        here: Here<'_, '_>,
        lead: usize,
    ) -> impl Iterator<Item = Limit> {
        let limit = move |short| self.limit(ohms, here, lead, short);
        [Short::Far, Short::Near].into_iter().filter_map(limit)
    }

    /// One demand; `None` where nothing is asked or nothing flows.
    fn limit(
        &self,
        ohms: &Ohms<'_>,
        here: Here<'_, '_>,
        lead: usize,
        short: Short,
    ) -> Option<Limit> {
        let side = self.leads[lead].as_ref()?.side(short);
        let asked = (lead, side.asked.clone());
        self.limit_asking(ohms, here, (lead, short), vec![asked])
    }

    /// What a lead's device asks of the smallest short so that it spares another conductor, as it
    /// stands with that conductor's option; `None` where nothing flows.
    pub fn limit_by_other(
        &self,
        ohms: &Ohms<'_>,
        here: Here<'_, '_>,
        lead: usize,
        (conductor, at): (Guarded, usize),
    ) -> Option<Limit> {
        let most = self.leads[lead].as_ref()?.far.most();
        if conductor.share <= 0.0 {
            return None;
        }
        let other = conductor.lead.0;
        let devices: BTreeSet<usize> = self.options[lead]
            .iter()
            .filter_map(|outfit| outfit.device)
            .collect();
        let stands = |outfit: &Outfit| {
            self.stock.withstands(other, outfit) / (conductor.share * conductor.share)
        };
        let asked_by = |device: usize| -> Vec<f64> {
            let device = self.stock.devices[device].in_air(self.stock.job.cold);
            let asked = |outfit: &Outfit| KILO / device.spares(stands(outfit)).least.a();
            let options = self.options[other].iter();
            options.map(|outfit| asked(outfit).min(most)).collect()
        };
        let asked: BTreeMap<usize, Vec<f64>> = devices
            .into_iter()
            .map(|device| (device, asked_by(device)))
            .collect();
        // What both ask together is no sum of what each asks. With the conductor as it is it is what
        // the device asks; another conductor changes that by no more than for the device that it
        // changes most.
        let own = self.options[lead].iter().map(|outfit| {
            let asked = outfit.device.and_then(|device| asked.get(&device));
            asked.map_or(most, |asked| asked[at])
        });
        let changed = |option: usize| {
            let changes = asked.values().map(|asked| asked[option] - asked[at]);
            changes.fold(f64::NEG_INFINITY, f64::max)
        };
        let changed = (0..self.options[other].len()).map(changed);
        let asked = vec![(lead, own.collect()), (other, changed.collect())];
        self.limit_asking(ohms, here, (lead, Short::Far), asked)
    }

    /// A demand on a short of a lead; `asked` are the leads that ask, with what each option asks.
    fn limit_asking(
        &self,
        ohms: &Ohms<'_>,
        here: Here<'_, '_>,
        (lead, short): (usize, Short),
        asked: Vec<(usize, Vec<f64>)>,
    ) -> Option<Limit> {
        let side = self.leads[lead].as_ref()?.side(short);
        let here_found = here.hindrance(short, lead)?.per_amp * KILO;
        let turn = short.turn();
        // Where current has another way, more resistance on this one makes it count for less. Each
        // step away from here is taken at the slope that harms least, so that the sum asks no more
        // than the truth.
        let adds_of = |moving: &Moving| -> Vec<f64> {
            let ohm = |outfit: &Outfit| match short {
                Short::Far => ohms.hot(self.stock, moving.lead, outfit),
                Short::Near => ohms.cold(self.stock, moving.lead, outfit),
            };
            let now = ohm(&here.outfits[moving.lead]);
            let add = |outfit: &Outfit| {
                let more = turn * (ohm(outfit) - now);
                more * if more > 0.0 {
                    moving.least
                } else {
                    moving.most
                }
            };
            self.options[moving.lead].iter().map(add).collect()
        };
        let mut terms: BTreeMap<usize, Vec<f64>> = side
            .moving
            .iter()
            .map(|moving| (moving.lead, adds_of(moving)))
            .collect();
        for (asking, asked) in asked {
            let none = || vec![0.0; asked.len()];
            let adds = terms.entry(asking).or_insert_with(none);
            for (add, asked) in adds.iter_mut().zip(&asked) {
                *add -= turn * asked;
            }
        }
        Some(Limit {
            most: -turn * here_found,
            terms: terms.into_iter().collect(),
        })
    }
}

impl Asked {
    /// What the options of a lead ask; `None` where it goes without a device.
    fn of(
        stock: &Stock<'_>,
        lead: usize,
        outfits: &[Outfit],
        samples: &[Here<'_, '_>],
    ) -> Option<Self> {
        if outfits.iter().any(|outfit| outfit.device.is_none()) {
            return None;
        }
        let first = samples.first()?;
        let beside = first.faults.beside_batteries(first.wiring, LeadId(lead));
        let spared = outfits.iter().filter_map(|outfit| {
            let device = stock.device(outfit)?.in_air(stock.job.cold);
            let spared = device.spares(stock.withstands(lead, outfit));
            let largest = spared.largest.min(device.interrupting);
            Some((spared.least.a(), (largest.a() - beside).max(0.0)))
        });
        let spared: Vec<(f64, f64)> = spared.collect();
        let side = |short| Side::of(samples, lead, short);
        Some(Self {
            far: side(Short::Far)?.asking(spared.iter().map(|(least, _)| KILO / least)),
            near: side(Short::Near)?.asking(spared.iter().map(|(_, largest)| KILO / largest)),
        })
    }

    fn side(&self, short: Short) -> &Side {
        match short {
            Short::Far => &self.far,
            Short::Near => &self.near,
        }
    }
}
