//! Circuit: the network of the job, solved for each state.
//!
//! Every lead is a chain of joints, cables and devices; batteries are voltages behind a resistance;
//! alternators regulate until they reach their limit. The same network can be written as a deck for
//! a general circuit simulator.

mod alternator;
mod battery;
mod bonds;
mod charging;
mod converter;
mod converters;
mod deck;
mod duty;
mod fault;
mod guarding;
mod inrush;
mod judge;
mod limited;
mod master;
mod midpoint;
mod network;
mod operate;
mod solve;
#[cfg(test)]
mod textbook;
mod wiring;

pub use converter::{Converter, Flow};
pub use duty::{LeadDuty, Pulse, duties};
pub use fault::Faults;
pub use guarding::{Guarded, Guarding, wanted};
pub use inrush::{ChargingLoop, charging_loop};
pub use judge::{Judged, judge};
pub use limited::limited_feed;
pub use network::{Branch, BranchOwner, Draw, DrawKind, Element, Network, Source};
pub use operate::Solved;
pub use solve::{Solution, influence, solve};
pub use wiring::Wiring;

use serde::Serialize;

use crate::check::Check;
use crate::job::LeadId;

/// Solves every state of the job and judges its voltages.
pub fn operate(wiring: &Wiring<'_>) -> Operation {
    let mut operation = Operation {
        states: Vec::new(),
        lasting: Vec::new(),
        checks: Vec::new(),
    };
    for state in &wiring.job.states {
        if let Some(lasting) = duty::lasting(wiring.job, state) {
            let solved = Solved::with_full_output(wiring, &lasting);
            operation.lasting.push(solved.result(wiring, &lasting));
        }
        let solved = Solved::of(wiring, state);
        operation.states.push(solved.result(wiring, state));
        let judged = judge(wiring, state, &solved);
        operation
            .checks
            .extend(judged.into_iter().map(|item| item.check));
    }
    operation.checks.extend(master::judge(wiring));
    operation.checks.extend(midpoint::judge(wiring.job));
    operation
}

/// A deck for a general circuit simulator for each state, with the state's name.
pub fn decks(wiring: &Wiring<'_>) -> Vec<(String, String)> {
    let states = wiring.job.states.iter();
    states
        .map(|state| {
            let solved = Solved::of(wiring, state);
            (state.name.clone(), deck::deck(wiring.job, state, &solved))
        })
        .collect()
}

/// Outcome of the circuit stage: every state solved.
#[derive(Debug, Clone, Serialize)]
pub struct Operation {
    /// The states, in order.
    pub states: Vec<StateResult>,
    /// What stays on for hours in states with loads of short runs; for currents alone.
    pub lasting: Vec<StateResult>,
    /// Verdicts on voltage.
    pub checks: Vec<Check>,
}

/// One state solved.
#[derive(Debug, Clone, Serialize)]
pub struct StateResult {
    /// Its name.
    pub name: String,
    /// Whether an operating point exists at which all loads work.
    pub operating_point: bool,
    /// Volts at every terminal.
    pub terminals: Vec<TerminalVolts>,
    /// Flow through every lead; position = lead id.
    pub leads: Vec<LeadFlow>,
    /// Flow through every source and load.
    pub items: Vec<ItemFlow>,
}

/// Volts at a terminal.
#[derive(Debug, Clone, Serialize)]
pub struct TerminalVolts {
    /// Name of the terminal.
    pub name: String,
    /// Volts against the reference.
    pub volts: f64,
}

/// Flow through one lead.
#[derive(Debug, Clone, Serialize)]
pub struct LeadFlow {
    /// Which lead.
    pub lead: LeadId,
    /// Its name.
    pub name: String,
    /// Amperes from its first end to its last; below zero the other way.
    pub amps: f64,
    /// Volts lost from end to end.
    pub drop_v: f64,
    /// Watts turned to heat.
    pub watts: f64,
    /// What it is made of, from end to end.
    pub elements: Vec<ElementFlow>,
}

/// Flow through one element of a lead.
#[derive(Debug, Clone, Serialize)]
pub struct ElementFlow {
    /// Its name.
    pub name: String,
    /// Its resistance.
    pub milliohm: f64,
    /// What it loses.
    pub millivolt: f64,
    /// What it turns to heat.
    pub watts: f64,
}

/// Flow through one source or load.
#[derive(Debug, Clone, Serialize)]
pub struct ItemFlow {
    /// Its name.
    pub name: String,
    /// Volts between its terminals.
    pub volts: f64,
    /// Amperes: delivered by a source, drawn by a load.
    pub amps: f64,
}
