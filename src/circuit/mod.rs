//! Circuit: the network of the job, solved for each state.
//!
//! Every lead is a chain of joints, cables and devices; batteries are voltages behind a resistance;
//! alternators regulate until they reach their limit. The same network can be written as a deck for
//! a general circuit simulator.

mod along;
mod alternator;
mod battery;
mod bonds;
mod bridges;
mod charging;
mod converter;
mod converters;
mod corner;
mod deck;
mod duty;
mod fault;
mod frame;
mod grounds;
mod guarding;
mod held;
mod inrush;
mod judge;
mod ledger;
mod limited;
mod lines;
mod master;
mod midpoint;
mod network;
mod operate;
mod sequence;
mod shares;
mod short_decks;
mod shorts;
mod slopes;
mod solve;
mod sparse;
#[cfg(test)]
mod textbook;
mod tolerance;
mod ways;
mod wiring;

pub use converter::{Converter, Flow};
pub use corner::{Corner, Corners, Harm, Quantity, Worst};
pub use duty::{LeadDuty, Pulse, duties, is_lasting, sure_duties};
pub use fault::{Faults, Span, Spot};
pub use frame::{Frame, Frames};
pub use grounds::GroundOffset;
pub use guarding::{Guarded, Guarding, wanted};
pub use held::{Judged, JudgedQuantity, Subject};
pub use inrush::{ChargingLoop, charging_loop};
pub use judge::judge;
pub use ledger::{BondFlow, BondShare, LoadLedger, SourceVolts, Standing, StateLedger};
pub use limited::limited_feed;
pub use lines::{LedgerLine, OtherWay};
pub use network::{Branch, BranchOwner, Draw, DrawKind, Network, Source};
pub use operate::Solved;
pub use sequence::{Sequence, used_part};
pub use short_decks::{ShortDeck, ShortResult, short_decks};
pub use shorts::Hindrance;
pub use slopes::Slopes;
pub use solve::{Solution, Solver};
pub use tolerance::{Doubt, Figure, Uncertain};
pub use wiring::{Element, EndName, LeadOhms, PartKind, Wiring, stands_a2s};

use rayon::prelude::*;
use serde::Serialize;

use crate::check::Check;
use crate::job::{Job, LeadId, State};

/// Every state of the job solved as planned and where everything starves its loads.
pub fn run(wiring: &Wiring<'_>) -> Vec<Corners> {
    let frames = wiring.frames.states.par_iter();
    frames.map(|frame| Corners::of(wiring, frame)).collect()
}

/// Leads through which current has another way in some state, in order.
pub fn wiring_loops(runs: &[Corners]) -> Vec<usize> {
    let leads = runs
        .first()
        .map_or(0, |run| run.solved.temperatures_c.len());
    let looped = |lead: usize| {
        let mut runs = runs.iter();
        runs.any(|run| !run.solved.solver.is_bridge(lead))
    };
    (0..leads).filter(|lead| looped(*lead)).collect()
}

/// Solves every state of the job and judges its voltages.
pub fn operate(wiring: &Wiring<'_>) -> Operation {
    let mut operation = Operation {
        states: Vec::new(),
        lasting: Vec::new(),
        checks: Vec::new(),
    };
    for (frame, lasting) in wiring.frames.states.iter().zip(&wiring.frames.lasting) {
        let state = &frame.state;
        if let Some(lasting) = lasting {
            let solved = Solved::with_full_output(wiring, lasting);
            operation
                .lasting
                .push(solved.result(wiring, &lasting.state));
        }
        let mut corners = Corners::of(wiring, frame);
        let judged = judge(wiring, state, &mut corners);
        let checks: Vec<Check> = judged.into_iter().map(Judged::check).collect();
        operation.states.push(StateResult {
            corners: corner_results(wiring.job, state, &corners),
            ledger: ledger::ledger(wiring, state, &mut corners, &checks),
            ..corners.solved.result(wiring, state)
        });
        operation.checks.extend(checks);
    }
    operation.checks.extend(master::judge(wiring));
    operation.checks.extend(midpoint::judge(wiring.job));
    operation
}

fn corner_results(job: &Job, state: &State, corners: &Corners) -> Vec<CornerResult> {
    let numbered = corners.found.iter().enumerate();
    numbered
        .map(|(index, corner)| CornerResult {
            name: corner_name(state, index),
            terminals: operate::terminal_volts(job, &corner.solution.volts),
        })
        .collect()
}

fn corner_name(state: &State, index: usize) -> String {
    format!("{}, worst corner {}", state.name, index + 1)
}

/// A deck for a general circuit simulator for each state and each of its worst corners, with its
/// name and that of its state.
pub fn decks(wiring: &Wiring<'_>) -> Vec<Deck> {
    let mut decks = Vec::new();
    for frame in &wiring.frames.states {
        let state = &frame.state;
        let mut corners = Corners::of(wiring, frame);
        judge(wiring, state, &mut corners);
        let solved = &corners.solved;
        let mut write = |name: String, network: &Network, solution: &Solution| {
            let references = &solved.solver.references;
            decks.push(Deck {
                state: state.name.clone(),
                text: deck::deck(wiring.job, &name, network, &solution.volts, references),
                name,
            });
        };
        write(state.name.clone(), &solved.network, &solved.solution);
        for (index, corner) in corners.found.iter().enumerate() {
            write(corner_name(state, index), &corner.network, &corner.solution);
        }
    }
    decks
}

/// A network written for a general circuit simulator.
#[derive(Debug, Clone)]
pub struct Deck {
    /// The state it belongs to.
    pub state: String,
    /// Its own name.
    pub name: String,
    /// The deck.
    pub text: String,
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
    /// The corners at which its limits were judged.
    pub corners: Vec<CornerResult>,
    /// Where the volts go.
    pub ledger: StateLedger,
}

/// A worst corner of a state, solved.
#[derive(Debug, Clone, Serialize)]
pub struct CornerResult {
    /// Its name.
    pub name: String,
    /// Volts at every terminal.
    pub terminals: Vec<TerminalVolts>,
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
