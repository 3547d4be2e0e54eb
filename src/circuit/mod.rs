//! Circuit: the network of the job, solved for each state.

use serde::Serialize;

use crate::check::Check;
use crate::job::LeadId;

/// Outcome of the circuit stage: every state solved.
#[derive(Debug, Clone, Serialize)]
pub struct Operation {
    /// The states, in order.
    pub states: Vec<StateResult>,
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
