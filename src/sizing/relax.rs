//! From sizes and circuits to a problem of pure numbers.
//!
//! The volts that a limit counts are a sum of amperes times ohms along the way, so they are linear
//! in the resistances as long as the amperes do not change. They do change a little, with loads of
//! fixed power and where current has two ways. A limit is therefore taken as it stands at one set of
//! outfits, and lowered until it asks no more than the truth at the corners of all options; what it
//! still lets pass is judged exactly.

use std::collections::BTreeMap;

use super::exact::{LimitKey, VoltLimit, Volts};
use super::outfit::{Outfit, Stock};
use super::problem::{Choice, Limit, Problem, spread};
use crate::circuit::{LeadOhms, Wiring};
use crate::job::{LeadId, Season};

/// A set of outfits with its states solved.
pub struct Sample {
    /// The outfits; position = lead id.
    pub outfits: Vec<Outfit>,
    /// The states.
    pub volts: Volts,
}

/// Resistances of every outfit as the states have them.
pub struct Ohms<'a> {
    /// The job with every lead on one rung of its ladder, or on its last.
    rungs: Vec<Wiring<'a>>,
    /// Temperature of each lead in each state, by the least current found; by state, then lead.
    amps: Vec<Vec<f64>>,
}

impl<'a> Ohms<'a> {
    /// Reckons with the least currents of the samples.
    pub fn of(stock: &Stock<'a>, samples: &[Sample]) -> Self {
        let most = stock.ladders.iter().map(Vec::len).max().unwrap_or(0);
        let wired = |rung: usize| {
            let outfits: Vec<Outfit> = (0..stock.ladders.len())
                .map(|lead| stock.plain(lead, rung.min(stock.ladders[lead].len() - 1)))
                .collect();
            stock.wiring(&outfits)
        };
        let states = 0..stock.job.states.len();
        let leads = 0..stock.ladders.len();
        let least = |state: usize, lead: usize| {
            let amps = samples.iter().map(|sample| {
                sample.volts.runs[state]
                    .solved
                    .lead_amps(LeadId(lead))
                    .abs()
            });
            amps.fold(f64::INFINITY, f64::min)
        };
        Self {
            rungs: (0..most).map(wired).collect(),
            amps: states
                .map(|state| leads.clone().map(|lead| least(state, lead)).collect())
                .collect(),
        }
    }

    /// The resistance of a lead in a state, at the end of its tolerance that `harm_per_ohm` makes
    /// the worse one.
    pub fn of_outfit(
        &self,
        stock: &Stock<'_>,
        lead: usize,
        outfit: &Outfit,
        state: usize,
        harm_per_ohm: f64,
    ) -> f64 {
        let wiring = &self.rungs[outfit.rung];
        let id = LeadId(lead);
        let celsius = match stock.job.states[state].season {
            Season::Cold => stock.job.cold.c(),
            Season::Hot => wiring.loaded_c(id, self.amps[state][lead]),
        };
        let LeadOhms { cable, joints, .. } = wiring.lead_ohms(id, celsius);
        let guard = stock
            .device(outfit)
            .map_or(0.0, |device| device.resistance.ohm());
        let rules = &stock.job.rules;
        let end = if harm_per_ohm > 0.0 { 1.0 } else { -1.0 };
        let cable_off =
            rules.tolerance_length.value.fraction() + rules.tolerance_conductor.value.fraction();
        let warmer = rules.tolerance_temperature.value.k();
        let warmth = wiring.cable_ohm(id, celsius + warmer) - cable;
        let joint_off = rules.tolerance_joint.value.fraction();
        cable * (1.0 + end * cable_off) + end * warmth + (joints + guard) * (1.0 + end * joint_off)
    }
}

/// Turns limits on volts into sums.
pub struct Relaxer<'s, 'a> {
    stock: &'s Stock<'a>,
    options: &'s [Vec<Outfit>],
    samples: Vec<Sample>,
    /// Position of every limit in each sample.
    known: Vec<BTreeMap<LimitKey, usize>>,
    /// Resistances of the options.
    pub ohms: Ohms<'a>,
}

/// What a size counts for in mass by the turn of its lead, so that no two choices weigh the same.
const TURN_KG: f64 = 0.01;

/// Leads whose ohms move a limit by less than this, in volts, are left out of it.
const LEAST_MOVE_V: f64 = 1e-6;

impl<'s, 'a> Relaxer<'s, 'a> {
    /// The first sample is of the thickest outfits, the second of the thinnest.
    pub fn of(stock: &'s Stock<'a>, options: &'s [Vec<Outfit>], samples: Vec<Sample>) -> Self {
        let keyed = |sample: &Sample| {
            let limits = sample.volts.limits.iter().enumerate();
            limits
                .map(|(position, limit)| (limit.key(), position))
                .collect()
        };
        Self {
            known: samples.iter().map(keyed).collect(),
            ohms: Ohms::of(stock, &samples),
            stock,
            options,
            samples,
        }
    }

    /// The problem of a job: every limit that the thinnest outfits break and that is not `lost`
    /// on any size, as it stands at both ends.
    pub fn problem(&self, lost: &[LimitKey]) -> Problem {
        let mut problem = Problem {
            leads: self.choices(),
            ..Problem::default()
        };
        for limit in self
            .samples
            .first()
            .map_or(&[][..], |sample| &sample.volts.limits)
        {
            let key = limit.key();
            if lost.contains(&key) || self.is_slack(&key) {
                continue;
            }
            for end in 0..self.samples.len().min(2) {
                let sample = &self.samples[end];
                if let Some(limit) = self.limit_in(end, &key) {
                    let here = (&sample.outfits[..], &sample.volts);
                    problem.limits.push(self.hopeful(limit, here));
                }
            }
        }
        problem
    }

    fn choices(&self) -> Vec<Vec<Choice>> {
        let leads = self.options.iter().enumerate();
        leads
            .map(|(lead, outfits)| {
                let turn = self.stock.turns[lead];
                let choice = |outfit: &Outfit| Choice {
                    price: outfit.price,
                    // Of leads that are alike in all else the one whose name comes first is thicker,
                    // wherever it stands in the file.
                    mass: self.stock.candidate(lead, outfit).mass_kg
                        + TURN_KG * turn * outfit.rung as f64,
                };
                outfits.iter().map(choice).collect()
            })
            .collect()
    }

    /// A limit as a sample found it, where the sample's state has an operating point.
    fn limit_in(&self, sample: usize, key: &LimitKey) -> Option<&VoltLimit> {
        let position = self.known[sample].get(key)?;
        let volts = &self.samples[sample].volts;
        let limit = &volts.limits[*position];
        let solved = &volts.runs[limit.state].solved;
        let works = solved.solution.converged && solved.collapsed().is_empty();
        works.then_some(limit)
    }

    fn is_slack(&self, key: &LimitKey) -> bool {
        let thinnest = self.limit_in(1, key);
        thinnest.is_some_and(|limit| !limit.is_broken())
    }

    /// A limit as it stands at a set of outfits: exact there, and right nearby.
    pub fn tangent(&self, limit: &VoltLimit, here: (&[Outfit], &Volts)) -> Limit {
        let (outfits, volts) = here;
        let slopes = volts.slopes(limit);
        let mut base = limit.harm;
        let mut terms = Vec::new();
        for (lead, slope) in slopes.iter().copied().enumerate() {
            let volt = |outfit: &Outfit| slope * self.ohm(lead, outfit, limit.state, slope);
            let adds: Vec<f64> = self.options[lead].iter().map(volt).collect();
            if spread(&adds) >= LEAST_MOVE_V {
                base -= volt(&outfits[lead]);
                terms.push((lead, adds));
            }
        }
        Limit {
            most: limit.most - base,
            terms,
        }
    }

    /// The same, lowered so that it asks no more than the truth at any sample.
    pub fn hopeful(&self, limit: &VoltLimit, here: (&[Outfit], &Volts)) -> Limit {
        let (outfits, volts) = here;
        let slopes = volts.slopes(limit);
        let key = limit.key();
        let mut tangent = self.tangent(limit, here);
        let over = (0..self.samples.len()).filter_map(|sample| {
            let truth = self.limit_in(sample, &key)?.harm;
            let theirs = &self.samples[sample].outfits;
            let moved = tangent.terms.iter().map(|(lead, _)| {
                let slope = slopes[*lead];
                let ohm = |outfit: &Outfit| self.ohm(*lead, outfit, limit.state, slope);
                slope * (ohm(&theirs[*lead]) - ohm(&outfits[*lead]))
            });
            Some(limit.harm + moved.sum::<f64>() - truth)
        });
        tangent.most += over.fold(0.0, f64::max);
        tangent
    }

    fn ohm(&self, lead: usize, outfit: &Outfit, state: usize, harm_per_ohm: f64) -> f64 {
        self.ohms
            .of_outfit(self.stock, lead, outfit, state, harm_per_ohm)
    }
}
