//! What a thinner size would break.

use super::carry::Burden;
use super::choose::Choice;
use super::guardable::{Guardable, Taste};
use crate::check::{Check, Verdict};
use crate::circuit::{Faults, LeadDuty, Solved, Wiring, judge};
use crate::job::{LeadId, State};

/// What a thinner size breaks.
pub struct Broken {
    /// In words.
    pub what: String,
    /// The check on voltage that fails, if it is one.
    pub check: Option<Check>,
}

impl Choice<'_> {
    /// How many voltage limits are broken.
    pub fn all_lacking(&self) -> usize {
        let wiring = self.wiring();
        let states = self.job.states.iter();
        states.map(|state| failing(&wiring, state).len()).sum()
    }

    /// What the next thinner size of a lead would break, if anything, the currents being those of
    /// `duties`; `lacking` voltage limits are broken already.
    pub fn breaks_when_lowered(
        &mut self,
        lead: usize,
        duties: &[LeadDuty],
        lacking: usize,
    ) -> Option<Broken> {
        self.at[lead] -= 1;
        let broken = self.what_breaks(lead, duties, lacking);
        self.at[lead] += 1;
        broken
    }

    fn what_breaks(&self, lead: usize, duties: &[LeadDuty], lacking: usize) -> Option<Broken> {
        if let Burden::Overloaded { what } = self.burden(LeadId(lead), self.at[lead], &duties[lead])
        {
            return Some(Broken { what, check: None });
        }
        let wiring = self.wiring();
        if let Some(what) = self.unguarded(&wiring, LeadId(lead), duties) {
            return Some(Broken { what, check: None });
        }
        let mut broken = Vec::new();
        for state in &self.job.states {
            broken.extend(failing(&wiring, state));
        }
        if broken.len() <= lacking {
            return None;
        }
        broken.into_iter().next().map(|check| {
            let state = check.state.as_deref().unwrap_or_default();
            Broken {
                what: format!("{} ({state}): {}", check.rule, check.note),
                check: Some(check),
            }
        })
    }

    /// Why no device guards a lead, or the lead whose load a return serves.
    fn unguarded(&self, wiring: &Wiring<'_>, lead: LeadId, duties: &[LeadDuty]) -> Option<String> {
        let faults = Faults::of(wiring);
        (0..duties.len()).map(LeadId).find_map(|id| {
            match Guardable::of(
                wiring,
                &faults,
                &self.devices,
                id,
                &duties[id.0],
                Taste::Cheapest,
            ) {
                Guardable::WithThicker { what, lead: thin } if thin == lead => Some(what),
                _ => None,
            }
        })
    }

    /// Part of its limit that is left of the check that a thinner size would break.
    pub fn left_of(&self, broken: &Check) -> Option<f64> {
        let wiring = self.wiring();
        let state = self
            .job
            .states
            .iter()
            .find(|state| Some(&state.name) == broken.state.as_ref())?;
        let solved = Solved::of(&wiring, state);
        let now = judge(&wiring, state, &solved)
            .into_iter()
            .map(|item| item.check);
        let same = |check: &Check| check.rule == broken.rule && check.subject == broken.subject;
        let check = now.into_iter().find(same)?;
        let (value, limit) = (check.value?, check.limit?);
        Some(((limit - value) / limit).abs())
    }
}

/// Failed verdicts of a state that cables can better.
fn failing(wiring: &Wiring<'_>, state: &State) -> Vec<Check> {
    let solved = Solved::of(wiring, state);
    let judged = judge(wiring, state, &solved).into_iter();
    judged
        .filter(|item| item.nodes.is_some() && item.check.verdict == Verdict::Fail)
        .map(|item| item.check)
        .collect()
}
