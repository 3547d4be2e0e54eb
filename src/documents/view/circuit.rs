//! States solved.

use serde::Serialize;

use crate::circuit::{CornerResult, ElementFlow, ItemFlow, StateResult, TerminalVolts};
use crate::plan::Plan;

/// One state.
#[derive(Debug, Clone, Serialize)]
pub struct StateView {
    /// Its name.
    pub name: String,
    /// Whether all loads work as stated.
    pub operating_point: bool,
    /// Volts at every terminal.
    pub terminals: Vec<TerminalVolts>,
    /// Flow through every lead.
    pub leads: Vec<LeadFlowView>,
    /// Flow through every source and load.
    pub items: Vec<ItemFlow>,
    /// The worst corners at which its limits were judged.
    pub corners: Vec<CornerResult>,
}

/// Flow through one lead.
#[derive(Debug, Clone, Serialize)]
pub struct LeadFlowView {
    /// Its name.
    pub name: String,
    /// Amperes from its first end to its last.
    pub amps: f64,
    /// Volts lost from end to end.
    pub drop_v: f64,
    /// Watts turned to heat.
    pub watts: f64,
    /// What it is made of.
    pub elements: Vec<ElementFlow>,
}

/// Every state.
pub fn views(plan: &Plan) -> Vec<StateView> {
    plan.operation.states.iter().map(view).collect()
}

fn view(state: &StateResult) -> StateView {
    let leads = state.leads.iter().map(|flow| LeadFlowView {
        name: flow.name.clone(),
        amps: flow.amps,
        drop_v: flow.drop_v,
        watts: flow.watts,
        elements: flow.elements.clone(),
    });
    StateView {
        name: state.name.clone(),
        operating_point: state.operating_point,
        terminals: state.terminals.clone(),
        leads: leads.collect(),
        items: state.items.clone(),
        corners: state.corners.clone(),
    }
}
