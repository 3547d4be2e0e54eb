//! Resistances of outfits, each worked out once, when it is first asked for.

use std::sync::OnceLock;

use super::outfit::{Outfit, Stock};
use super::relax::Sample;
use crate::circuit::{LeadOhms, Wiring};
use crate::job::{LeadId, Season};

/// Resistances of every outfit as states and shorts have them.
pub struct Ohms<'a> {
    /// The job with every lead on one rung of its ladder, or on its last.
    rungs: Vec<Wiring<'a>>,
    /// The least current of each lead in each state, which tells its temperature; by state, then lead.
    amps: Vec<Vec<f64>>,
    /// Cables without devices in each state; by state, lead and rung.
    in_states: Vec<Vec<Vec<OnceLock<Ends>>>>,
    /// Cables without devices at their rated temperature; by lead and rung.
    hot: Vec<Vec<OnceLock<f64>>>,
    /// Cables without devices in the cold; by lead and rung.
    cold: Vec<Vec<OnceLock<f64>>>,
}

/// A resistance at both ends of its tolerance, in ohms.
#[derive(Debug, Clone, Copy)]
pub struct Ends {
    low: f64,
    high: f64,
}

impl Ends {
    /// The end that `harm_per_ohm` makes the worse one.
    pub fn worse(self, harm_per_ohm: f64) -> f64 {
        if harm_per_ohm > 0.0 {
            self.high
        } else {
            self.low
        }
    }
}

impl<'a> Ohms<'a> {
    /// Reckons with the least currents of the samples.
    pub fn of(stock: &Stock<'a>, samples: &[Sample<'_>]) -> Self {
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
                let solved = &sample.volts.runs[state].solved;
                solved.lead_amps(LeadId(lead)).abs()
            });
            amps.fold(f64::INFINITY, f64::min)
        };
        Self {
            rungs: (0..most).map(wired).collect(),
            amps: states
                .clone()
                .map(|state| leads.clone().map(|lead| least(state, lead)).collect())
                .collect(),
            in_states: states.map(|_| unknown(stock)).collect(),
            hot: unknown(stock),
            cold: unknown(stock),
        }
    }

    /// The resistance of a lead with its device at the rated temperature of its cable, as the smallest
    /// shorts find it.
    pub fn hot(&self, stock: &Stock<'_>, lead: usize, outfit: &Outfit) -> f64 {
        let plain = self.hot[lead][outfit.rung].get_or_init(|| {
            let rated = stock.candidate(lead, outfit).cable.rating;
            self.plain(lead, outfit.rung, rated.c())
        });
        plain + guard(stock, outfit)
    }

    /// The resistance of a cold lead without its device, as the largest shorts find it.
    pub fn cold(&self, stock: &Stock<'_>, lead: usize, outfit: &Outfit) -> f64 {
        let cold = &self.cold[lead][outfit.rung];
        *cold.get_or_init(|| self.plain(lead, outfit.rung, stock.job.cold.c()))
    }

    fn plain(&self, lead: usize, rung: usize, celsius: f64) -> f64 {
        let ohms = self.rungs[rung].lead_ohms(LeadId(lead), celsius);
        ohms.cable + ohms.joints
    }

    /// The resistance of a lead with its device in a state.
    pub fn in_state(&self, stock: &Stock<'_>, lead: usize, outfit: &Outfit, state: usize) -> Ends {
        let plain = &self.in_states[state][lead][outfit.rung];
        let plain = plain.get_or_init(|| self.plain_in_state(stock, lead, outfit.rung, state));
        let guard = guard(stock, outfit);
        let off = guard * stock.job.rules.tolerance_joint.value.fraction();
        Ends {
            low: plain.low + guard - off,
            high: plain.high + guard + off,
        }
    }

    fn plain_in_state(&self, stock: &Stock<'_>, lead: usize, rung: usize, state: usize) -> Ends {
        let wiring = &self.rungs[rung];
        let id = LeadId(lead);
        let celsius = match stock.job.states[state].season {
            Season::Cold => stock.job.cold.c(),
            Season::Hot => wiring.loaded_c(id, self.amps[state][lead]),
        };
        let LeadOhms { cable, joints, .. } = wiring.lead_ohms(id, celsius);
        let rules = &stock.job.rules;
        let cable_off =
            rules.tolerance_length.value.fraction() + rules.tolerance_conductor.value.fraction();
        let warmer = rules.tolerance_temperature.value.k();
        let warmth = wiring.cable_ohm(id, celsius + warmer) - cable;
        let off = cable * cable_off + warmth + joints * rules.tolerance_joint.value.fraction();
        Ends {
            low: cable + joints - off,
            high: cable + joints + off,
        }
    }
}

/// Room for a figure of every cable of every lead.
fn unknown<T: Clone>(stock: &Stock<'_>) -> Vec<Vec<OnceLock<T>>> {
    let ladders = stock.ladders.iter();
    ladders
        .map(|ladder| vec![OnceLock::new(); ladder.len()])
        .collect()
}

fn guard(stock: &Stock<'_>, outfit: &Outfit) -> f64 {
    let device = stock.device(outfit);
    device.map_or(0.0, |device| device.resistance.ohm())
}
