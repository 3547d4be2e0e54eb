//! How much current passes a terminal, for hours and for moments.

use super::site::Site;
use crate::circuit::StateResult;
use crate::job::{Duty, Engine, LeadId, State, TerminalId};
use crate::quantity::Current;

/// Current through one thing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Passing {
    /// For hours on end.
    pub continuous: Current,
    /// For seconds or minutes: cranking, winching. Never below the continuous current.
    ///
    /// The first instant with the starter's rotor locked is left out: it is over before a joint
    /// warms, and short-time ratings are stated for seconds to minutes.
    pub short: Current,
}

impl Passing {
    fn new(continuous: Current, short: Current) -> Self {
        Self {
            continuous,
            short: short.max(continuous),
        }
    }
}

impl Site<'_> {
    /// Current through a lead.
    pub fn passing_lead(&self, lead: LeadId) -> Passing {
        let short = self.largest(is_longer_than_an_instant, |state| flow(state, lead).abs());
        Passing::new(self.continuous(lead), short)
    }

    /// Current through all that is joined at a terminal.
    pub fn passing_terminal(&self, terminal: TerminalId) -> Passing {
        let through = |state: &StateResult| self.through(state, terminal);
        let leads = self.job.leads_at(terminal);
        let largest_lead = leads.map(|lead| self.continuous(lead));
        let lasting = self.operation.lasting.iter().map(through);
        let continuous = self
            .largest(|state| self.is_continuous(state), through)
            .max(Current::from_a(lasting.fold(0.0, f64::max)));
        let short = self.largest(is_longer_than_an_instant, through);
        Passing::new(largest_lead.fold(continuous, Current::max), short)
    }

    fn largest(
        &self,
        wanted: impl Fn(&State) -> bool,
        amps: impl Fn(&StateResult) -> f64,
    ) -> Current {
        let states = self.job.states.iter().zip(&self.operation.states);
        let amps = states
            .filter(|(state, _)| wanted(state))
            .map(|(_, result)| amps(result));
        Current::from_a(amps.fold(0.0, f64::max))
    }

    /// What flows in or out, whichever is more: they differ where a source or load sits there too.
    fn through(&self, state: &StateResult, terminal: TerminalId) -> f64 {
        let (mut inwards, mut outwards) = (0.0, 0.0);
        for (id, lead) in self.job.leads() {
            let amps = flow(state, id);
            let away = match terminal {
                _ if lead.from == terminal => amps,
                _ if lead.to == terminal => -amps,
                _ => continue,
            };
            if away > 0.0 {
                outwards += away;
            } else {
                inwards -= away;
            }
        }
        f64::max(inwards, outwards)
    }

    /// Whether a state may last for hours. An intermittent load without a longest run may.
    fn is_continuous(&self, state: &State) -> bool {
        let loads = state.loads.iter().map(|load| self.job.load(*load));
        let mut brief = loads
            .filter(|load| load.given.duty == Duty::Intermittent)
            .peekable();
        let ends = brief.peek().is_some() && brief.all(|load| load.given.longest.is_some());
        !matches!(state.engine, Engine::Cranking | Engine::Locked) && !ends
    }
}

fn is_longer_than_an_instant(state: &State) -> bool {
    state.engine != Engine::Locked
}

fn flow(state: &StateResult, lead: LeadId) -> f64 {
    state.leads.get(lead.0).map_or(0.0, |flow| flow.amps)
}
