//! What one size thinner would break, and what one size thicker would bring.

use serde::Serialize;

use super::carry::Burden;
use super::choose::Chosen;
use super::exact::{Broken, Exact, VoltLimit};
use super::outfit::{Outfit, Stock};
use crate::check::HAIR;
use crate::circuit::{Faults, Guarding};
use crate::job::LeadId;
use crate::quantity::ConductorSize;

/// What the next thinner size of a lead does.
pub enum Thinner {
    /// It breaks a limit.
    Breaks {
        /// Which, in words.
        what: String,
        /// Part of the limit that the chosen size leaves, where it is one on volts.
        left: Option<f64>,
    },
    /// It breaks nothing, but costs no less.
    NoCheaper,
    /// There is none.
    None,
}

/// What the next thicker size of a lead costs and brings.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Thicker {
    /// The size.
    pub size: ConductorSize,
    /// What it costs more, roughly.
    pub dearer: f64,
    /// What it brings, in words.
    pub brings: String,
}

/// What the leads of a choice are worth.
pub struct Worths<'s, 'a> {
    /// Where the choice was made from.
    pub stock: &'s Stock<'a>,
    /// The choice.
    pub chosen: &'s Chosen<'a>,
    /// The task of each lead's device.
    tasks: Vec<Option<Guarding<'s>>>,
    /// How the harm of each limit answers to each lead's ohms.
    slopes: Vec<Vec<f64>>,
    /// Number of limits that the choice itself breaks.
    broken: usize,
}

impl<'s, 'a> Worths<'s, 'a> {
    /// Looks at how every limit answers to every lead.
    pub fn of(stock: &'s Stock<'a>, chosen: &'s Chosen<'a>) -> Self {
        let volts = &chosen.exact.volts;
        let slopes = volts.limits.iter().map(|limit| volts.slopes(limit));
        Self {
            slopes: slopes.collect(),
            tasks: (0..chosen.outfits.len())
                .map(|lead| {
                    let guarded = chosen.outfits[lead].device.is_some();
                    guarded.then(|| chosen.exact.task(lead))
                })
                .collect(),
            broken: chosen.exact.broken(stock, &chosen.outfits).count(),
            stock,
            chosen,
        }
    }

    /// What one size thinner would break.
    pub fn thinner(&self, lead: usize) -> Thinner {
        let now = &self.chosen.outfits[lead];
        let ladder = &self.stock.ladders[lead];
        let resistance = |rung: usize| ladder[rung].cable.max_resistance;
        let Some(rung) = (0..now.rung).rfind(|rung| resistance(*rung) > resistance(now.rung))
        else {
            return Thinner::None;
        };
        let thin = Outfit { rung, ..*now };
        let duty = &self.chosen.exact.duties[lead];
        if let Burden::Overloaded { what } = self.stock.burden(lead, &thin, duty) {
            return Thinner::Breaks { what, left: None };
        }
        let more = self.ohm(lead, &thin) - self.ohm(lead, now);
        self.first_broken(lead, more)
            .or_else(|| self.unguarded(lead, &thin))
            .or_else(|| self.broken_exactly(lead, rung))
            .unwrap_or(Thinner::NoCheaper)
    }

    /// The device that a thinner cable would no longer be guarded by, the shorts being as they are.
    fn unguarded(&self, lead: usize, thin: &Outfit) -> Option<Thinner> {
        let allowed = self.stock.candidate(lead, thin).allowed.current;
        let stands = self.stock.withstands(lead, thin);
        let told = |what: String| Thinner::Breaks { what, left: None };
        self.tasks.iter().enumerate().find_map(|(id, task)| {
            let task = task.as_ref()?;
            let mut conductors = task.conductors.iter();
            let conductor = conductors.find(|conductor| conductor.lead.0 == lead)?;
            let device = self.stock.device(&self.chosen.outfits[id])?;
            let name = &self.stock.job.leads[id].name;
            let most = allowed.a() * task.rules.protection_most.value.fraction();
            if conductor.ampacity.a().is_finite() && device.rating.a() > most * (1.0 + HAIR) {
                return Some(told(format!(
                    "the {:.0} A device of `{name}` would be too large for it: {most:.0} A at most",
                    device.rating.a()
                )));
            }
            if task.is_self_limited() {
                return None;
            }
            let opens = device
                .in_air(task.demand.cold)
                .opens_within(task.fault_far)?;
            let amps = task.fault_far.a() * conductor.share;
            (amps * amps * opens.s() > stands).then(|| {
                told(format!(
                    "a dead short of {amps:.0} A would harm it before the device of `{name}` opens"
                ))
            })
        })
    }

    /// Whether every limit on volts that is kept stays kept with another cable.
    pub fn keeps_volts(&self, lead: usize, rung: usize) -> bool {
        let now = &self.chosen.outfits[lead];
        let other = Outfit { rung, ..*now };
        let more = self.ohm(lead, &other) - self.ohm(lead, now);
        self.first_broken(lead, more).is_none()
    }

    /// Whether another cable stands what the devices that guard it let through.
    pub fn stands_shorts(&self, lead: usize, rung: usize) -> bool {
        let mut outfits = self.chosen.outfits.clone();
        outfits[lead].rung = rung;
        let wiring = self.stock.wiring(&outfits);
        let faults = Faults::of(&wiring);
        let duties = &self.chosen.exact.duties;
        let task = |id: usize| Guarding::of(&wiring, &faults, LeadId(id), &duties[id]);
        let guards = |id: &usize| {
            let mut conductors = self.tasks[*id].iter().flat_map(|task| &task.conductors);
            conductors.any(|conductor| conductor.lead.0 == lead)
        };
        let mut guarding = (0..outfits.len()).filter(guards);
        guarding.all(|id| {
            let device = self.stock.device(&outfits[id]);
            device.is_none_or(|device| task(id).opened_by(device))
        })
    }

    fn ohm(&self, lead: usize, outfit: &Outfit) -> f64 {
        self.stock.ohm(lead, outfit)
    }

    /// The limit on volts that more resistance breaks furthest.
    fn first_broken(&self, lead: usize, more_ohm: f64) -> Option<Thinner> {
        let limits = self.chosen.exact.volts.limits.iter().zip(&self.slopes);
        let kept = limits.filter(|(limit, _)| !limit.is_broken());
        let broken = kept.filter_map(|(limit, slopes)| {
            let harm = limit.harm + slopes[lead] * more_ohm;
            let past = (harm - limit.most) / limit.most.abs().max(1e-6);
            (past > 1e-3).then_some((past, limit, harm))
        });
        let (_, limit, harm) = broken.max_by(|a, b| a.0.total_cmp(&b.0))?;
        Some(Thinner::Breaks {
            what: self.in_words(limit, harm),
            left: Some(left(limit)),
        })
    }

    /// What a thinner size breaks, each of its devices worked out exactly.
    fn broken_exactly(&self, lead: usize, rung: usize) -> Option<Thinner> {
        /// In larger jobs what the choice's own figures do not tell stays untold.
        const MOST_LEADS: usize = 80;
        if self.chosen.outfits.len() > MOST_LEADS {
            return None;
        }
        let same = |outfit: &&Outfit| outfit.rung == rung;
        let options: Vec<Outfit> = self.chosen.options[lead]
            .iter()
            .filter(same)
            .copied()
            .collect();
        let device = self.chosen.outfits[lead].device;
        if options.is_empty() && device.is_some() {
            let what = "no device that carries its current is small enough to guard it";
            return Some(Thinner::Breaks {
                what: what.to_owned(),
                left: None,
            });
        }
        let mut last = None;
        for option in options {
            let mut outfits = self.chosen.outfits.clone();
            outfits[lead] = option;
            let exact = Exact::of(self.stock, &outfits);
            // One more than the choice itself breaks is enough to tell.
            let broken = exact.broken(self.stock, &outfits).take(self.broken + 1);
            let broken: Vec<Broken> = broken.collect();
            if broken.len() <= self.broken {
                return None;
            }
            last = broken.first().map(|broken| self.told(&exact, broken));
        }
        last
    }

    fn told(&self, exact: &Exact<'_>, broken: &Broken) -> Thinner {
        let name = |lead: usize| &self.stock.job.leads[lead].name;
        let (what, left) = match broken {
            Broken::Volts(position) => {
                let limit = &exact.volts.limits[*position];
                let mut known = self.chosen.exact.volts.limits.iter();
                let key = limit.key();
                let before = known.find(|known| known.key() == key);
                (self.in_words(limit, limit.harm), before.map(left))
            }
            Broken::Overloaded(lead) => (format!("`{}` is overloaded", name(*lead)), None),
            Broken::Unguarded(lead) => {
                let what = format!(
                    "the device of `{}` no longer opens before a cable is harmed",
                    name(*lead)
                );
                (what, None)
            }
        };
        Thinner::Breaks { what, left }
    }

    fn in_words(&self, limit: &VoltLimit, harm: f64) -> String {
        let state = &self.stock.job.states[limit.state].name;
        format!(
            "{} of `{}` in `{state}`: {:.2} V, the limit is {:.2} V",
            limit.judged.rule,
            limit.judged.subject.name(self.stock.job),
            harm.abs(),
            limit.most.abs()
        )
    }

    /// What one size thicker would cost and bring.
    pub fn thicker(&self, lead: usize) -> Option<Thicker> {
        let now = &self.chosen.outfits[lead];
        let ladder = &self.stock.ladders[lead];
        let resistance = |rung: usize| ladder[rung].cable.max_resistance;
        let rung =
            (now.rung + 1..ladder.len()).find(|rung| resistance(*rung) < resistance(now.rung))?;
        let thick = Outfit { rung, ..*now };
        let less = self.ohm(lead, now) - self.ohm(lead, &thick);
        let limits = self.chosen.exact.volts.limits.iter().zip(&self.slopes);
        let helped = limits.filter(|(_, slopes)| slopes[lead] * less > LEAST_GAIN_V);
        let tightest = helped.min_by(|a, b| left(a.0).total_cmp(&left(b.0)));
        let brings = match tightest {
            Some((limit, slopes)) => {
                let gain = slopes[lead] * less;
                let state = &self.stock.job.states[limit.state].name;
                format!(
                    "{:.0} mV for `{}` in `{state}`",
                    gain * 1e3,
                    limit.judged.subject.name(self.stock.job)
                )
            }
            None => "no load a millivolt; only cooler running".to_owned(),
        };
        Some(Thicker {
            size: ladder[rung].cable.size,
            dearer: ladder[rung].price - ladder[now.rung].price,
            brings,
        })
    }
}

/// Gains below a millivolt are not worth telling.
const LEAST_GAIN_V: f64 = 1e-3;

/// Part of a limit that is left.
fn left(limit: &VoltLimit) -> f64 {
    (limit.most - limit.harm) / limit.most.abs().max(1e-6)
}
