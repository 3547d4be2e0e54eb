//! What keeps a short's current small, and how it answers to the resistance of each lead.

use super::Shorts;
use crate::job::{LeadId, TerminalId};

/// What keeps a current small: one over the current, in 1/A. With one way for the current it is a
/// sum over the resistances on that way.
#[derive(Debug, Clone)]
pub struct Hindrance {
    /// One over the current.
    pub per_amp: f64,
    /// How it answers to the resistance of each lead, per ohm; position = lead id.
    pub slopes: Vec<f64>,
}

/// A network without a short: its volts, and its answer to one ampere put in at one end of the
/// short and taken out at the other.
struct Before {
    volts: Vec<f64>,
    answer: Vec<f64>,
}

impl Shorts {
    /// What hinders a short between two terminals; `None` where nothing drives one.
    pub fn hindrance(&self, from: TerminalId, to: TerminalId, ohm: f64) -> Option<Hindrance> {
        let before = Before {
            volts: self.volts.clone(),
            answer: self.answer(to.0, from.0),
        };
        self.hindered(&before, (from.0, to.0), ohm)
    }

    /// What hinders the current that comes to a short at the end of a lead through the lead, once
    /// whatever feeds that end has opened. `ohm` is the short's own resistance; with `there_and_back`
    /// the return is reckoned to have the resistance of the lead once more.
    pub fn hindrance_through(
        &self,
        lead: LeadId,
        ground: TerminalId,
        ohm: f64,
        there_and_back: bool,
    ) -> Option<Hindrance> {
        let branch = self.network.branches.get(lead.0)?;
        let (a, b, g, r) = (branch.from, branch.to, ground.0, branch.ohm);
        // Taking out the branch changes the answers as in `alone`.
        let own = self.answer(b, a);
        let left = r - (own[a] - own[b]);
        let scale = if left > r * 1e-9 { 1.0 / left } else { 0.0 };
        let without = |values: &[f64], across: f64| -> Vec<f64> {
            let changed = values.iter().zip(&own);
            changed
                .map(|(value, own)| value + own * across * scale)
                .collect()
        };
        let before = Before {
            volts: without(&self.volts, self.volts[a] - self.volts[b]),
            answer: without(&self.answer(g, a), own[a] - own[g]),
        };
        let mut hindrance = self.hindered(&before, (a, g), r + ohm)?;
        let times = if there_and_back { 2.0 } else { 1.0 };
        hindrance.slopes[lead.0] = times / (before.volts[a] - before.volts[g]).abs();
        Some(hindrance)
    }

    /// For a resistance r that carries I before the short and the part k of its current, the volts
    /// across the short's ends answer with k I and the resistance shown there with k².
    fn hindered(&self, before: &Before, ends: (usize, usize), ohm: f64) -> Option<Hindrance> {
        let (a, b) = ends;
        let volts = before.volts[a] - before.volts[b];
        let shown = before.answer[a] - before.answer[b] + ohm;
        if volts.abs() < 1e-9 || shown <= 0.0 {
            return None;
        }
        let slope = |branch: &super::Branch| {
            let across = |values: &[f64]| (values[branch.from] - values[branch.to]) / branch.ohm;
            let (part, amps) = (across(&before.answer), across(&before.volts));
            (part * part - shown / volts * part * amps) / volts.abs()
        };
        Some(Hindrance {
            per_amp: shown / volts.abs(),
            slopes: self.leads().map(slope).collect(),
        })
    }
}
