//! What else a broken limit rules out: every choice that is no better for it.

use super::exact::{Broken, Exact};
use super::ohms::Ohms;
use super::outfit::{Outfit, Stock};
use super::problem::Forbidden;
use crate::circuit::Quantity;
use crate::job::LeadId;

/// Parts of an ampere or volt that an ohm moves; less counts as nothing.
const LEAST_SLOPE: f64 = 1e-6;

/// What is needed to tell why a choice was turned down.
pub struct Reasons<'r, 'a> {
    /// Where the choice was made from.
    pub stock: &'r Stock<'a>,
    /// The options of every lead.
    pub options: &'r [Vec<Outfit>],
    /// Their resistances.
    pub ohms: &'r Ohms<'a>,
}

impl Reasons<'_, '_> {
    /// What a broken limit forbids; `at` is the choice that breaks it.
    pub fn forbid(&self, exact: &Exact<'_>, at: &[usize], broken: &Broken) -> Forbidden {
        let options = match broken {
            Broken::Volts(position) => self.no_better_volts(exact, at, *position),
            Broken::Overloaded(lead) => self.no_lighter(exact, at, *lead),
            Broken::Unguarded(lead) => self.no_better_guarded(exact, at, *lead),
        };
        Forbidden { options }
    }

    /// Options with no less resistance than the chosen one; no more, where less of it does harm.
    fn by_ohm(&self, at: &[usize], lead: usize, state: usize, slope: f64) -> (usize, Vec<bool>) {
        let ohm = |outfit: &Outfit| {
            let ohms = self.ohms.in_state(self.stock, lead, outfit, state);
            ohms.worse(slope)
        };
        let chosen = ohm(&self.options[lead][at[lead]]);
        let no_better = |outfit: &Outfit| {
            let ohm = ohm(outfit);
            if slope > 0.0 {
                ohm >= chosen
            } else {
                ohm <= chosen
            }
        };
        (lead, self.options[lead].iter().map(no_better).collect())
    }

    fn no_better_volts(
        &self,
        exact: &Exact<'_>,
        at: &[usize],
        position: usize,
    ) -> Vec<(usize, Vec<bool>)> {
        let limit = &exact.volts.limits[position];
        let slopes = exact.volts.slopes(limit);
        let moving = slopes
            .iter()
            .enumerate()
            .filter(|(_, slope)| slope.abs() > LEAST_SLOPE);
        moving
            .map(|(lead, slope)| self.by_ohm(at, lead, limit.state, *slope))
            .collect()
    }

    /// The lead with no more ampacity, the others so that they turn no current away from it.
    fn no_lighter(&self, exact: &Exact<'_>, at: &[usize], lead: usize) -> Vec<(usize, Vec<bool>)> {
        let mut parts = vec![self.no_stronger(at, lead, exact)];
        for other in (0..at.len()).filter(|other| *other != lead) {
            if let Some(part) = self.no_better_for_current(exact, at, lead, other) {
                parts.push(part);
            }
        }
        parts
    }

    /// Where current has another way, a thinner lead draws less of it: only the chosen cable is
    /// known to be overloaded.
    fn no_stronger(&self, at: &[usize], lead: usize, exact: &Exact<'_>) -> (usize, Vec<bool>) {
        let stock = self.stock;
        let chosen = stock.candidate(lead, &self.options[lead][at[lead]]);
        let mut runs = exact.volts.runs.iter();
        let only_way = runs.all(|run| run.solved.solver.is_bridge(lead));
        let part = |outfit: &Outfit| {
            let candidate = stock.candidate(lead, outfit);
            if only_way {
                candidate.allowed.current <= chosen.allowed.current
                    && candidate.cable.size.nominal_area() <= chosen.cable.size.nominal_area()
            } else {
                candidate.cable.id.value == chosen.cable.id.value
            }
        };
        (lead, self.options[lead].iter().map(part).collect())
    }

    fn no_better_for_current(
        &self,
        exact: &Exact<'_>,
        at: &[usize],
        lead: usize,
        other: usize,
    ) -> Option<(usize, Vec<bool>)> {
        let mut signs = Vec::new();
        for (state, run) in exact.volts.runs.iter().enumerate() {
            let amps = run.solved.lead_amps(LeadId(lead));
            let slope = run.nominal_slopes(Quantity::Through(lead))[other] * amps.signum();
            if slope.abs() > LEAST_SLOPE * amps.abs().max(1.0) {
                signs.push((state, slope));
            }
        }
        let (state, slope) = *signs.first()?;
        if signs
            .iter()
            .all(|(_, other)| other.signum() == slope.signum())
        {
            return Some(self.by_ohm(at, other, state, slope));
        }
        Some(self.as_chosen(at, other))
    }

    fn as_chosen(&self, at: &[usize], lead: usize) -> (usize, Vec<bool>) {
        let part = (0..self.options[lead].len()).map(|option| option == at[lead]);
        (lead, part.collect())
    }

    /// The same device with a cable no stronger, and everything that the short goes through no
    /// better: no thicker where too little flows to open it, no thinner where too much flows.
    fn no_better_guarded(
        &self,
        exact: &Exact<'_>,
        at: &[usize],
        lead: usize,
    ) -> Vec<(usize, Vec<bool>)> {
        let chosen = self.options[lead][at[lead]];
        let task = exact.task(lead);
        let opens = self
            .stock
            .device(&chosen)
            .is_some_and(|device| task.opened_by(device));
        let slope = if opens { -1.0 } else { 1.0 };
        let hot = 0;
        let mut parts = Vec::new();
        for carrier in exact.faults.carriers(&exact.wiring, LeadId(lead)) {
            let (other, mut part) = self.by_ohm(at, carrier.0, hot, slope);
            if other == lead {
                for (allowed, outfit) in part.iter_mut().zip(&self.options[lead]) {
                    *allowed &= outfit.device == chosen.device;
                }
            }
            parts.push((other, part));
        }
        if parts.iter().all(|(other, _)| *other != lead) {
            let same = self.options[lead]
                .iter()
                .map(|outfit| outfit.device == chosen.device);
            parts.push((lead, same.collect()));
        }
        parts
    }
}
