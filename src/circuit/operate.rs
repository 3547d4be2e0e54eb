//! One state solved and put in the words of the job.

use std::sync::Arc;

use super::converters;
use super::frame::Frame;
use super::network::{BranchOwner, Draw, Network, Source};
use super::solve::{Solution, Solver};
use super::wiring::Wiring;
use super::{ElementFlow, ItemFlow, LeadFlow, StateLedger, StateResult, TerminalVolts};
use crate::job::{Job, LeadId, Season, State};

/// A state with its network and the volts found, every figure as planned.
#[derive(Debug, Clone)]
pub struct Solved {
    /// The network, conductors at their final temperature.
    pub network: Network,
    /// What solves networks of its joints.
    pub solver: Arc<Solver>,
    /// The volts.
    pub solution: Solution,
    /// Temperature of each lead's conductor; position = lead id.
    pub temperatures_c: Vec<f64>,
}

impl Solved {
    /// Solves a state: first with conductors at the temperature of the air, then at that which
    /// the currents found give them.
    pub fn of(wiring: &Wiring<'_>, frame: &Frame) -> Self {
        Self::warmed(wiring, frame, false)
    }

    /// The same with every alternator able to give what it gives cold and at full speed: what
    /// conductors and devices must carry, on any day.
    pub fn with_full_output(wiring: &Wiring<'_>, frame: &Frame) -> Self {
        Self::warmed(wiring, frame, true)
    }

    fn warmed(wiring: &Wiring<'_>, frame: &Frame, full_output: bool) -> Self {
        let season = frame.state.season;
        let temperatures_c = wiring.still_c(season);
        let mut network = frame.network(wiring, &temperatures_c);
        if full_output {
            network.give_full_output(wiring);
        }
        let mut solved = Self {
            solution: frame.solver.solve(&network),
            network,
            solver: Arc::clone(&frame.solver),
            temperatures_c,
        };
        if season == Season::Hot {
            solved.warm_up(wiring);
        }
        solved
    }

    fn warm_up(&mut self, wiring: &Wiring<'_>) {
        for lead in 0..wiring.job.leads.len() {
            let id = LeadId(lead);
            self.temperatures_c[lead] = wiring.loaded_c(id, self.lead_amps(id));
        }
        self.network.set_lead_ohms(wiring, &self.temperatures_c);
        let near = self.solution.converged.then_some(&self.solution.volts);
        let near = near.map(Vec::as_slice);
        self.solution = self.solver.solve_from(&self.network, near);
    }

    /// Volts from one node to another.
    pub fn across(&self, positive: usize, negative: usize) -> f64 {
        self.solution.volts[positive] - self.solution.volts[negative]
    }

    /// Whether a source takes part: a dead battery and a standing alternator do not.
    pub fn has_source(&self, name: &str) -> bool {
        let mut sources = self.network.sources.iter();
        sources.any(|source| *source.name == *name)
    }

    /// Amperes through a lead, from its first end to its last.
    pub fn lead_amps(&self, lead: LeadId) -> f64 {
        // Leads are the first branches, in order.
        self.branch_amps(lead.0)
    }

    /// Amperes through a branch, by position, from its start to its end.
    pub fn branch_amps(&self, branch: usize) -> f64 {
        self.network.branches.get(branch).map_or(0.0, |branch| {
            self.across(branch.from, branch.to) / branch.ohm
        })
    }

    /// Loads that have too little voltage to work as stated.
    pub fn collapsed(&self) -> Vec<&Draw> {
        collapsed(&self.network, &self.solution.volts)
    }

    /// The source that feeds a load: of all that conductors join to its positive node and that hold
    /// their voltage (batteries, and alternators and converters that regulate), the one that is
    /// nearest to the load in volts and not below it. A converter that nothing helps counts at its
    /// limit too. `None` when every source is below the load.
    pub fn feeding(&self, positive: usize, load_v: f64) -> Option<Source> {
        const HAIR_V: f64 = 1e-9;
        let converters = self.network.converters.iter();
        let converters = converters.map(|converter| (converter.as_source(), !converter.backed));
        let sources = self.network.sources.iter().cloned();
        let sources = sources.map(|source| (source, false));
        let above = sources
            .chain(converters)
            .filter(|(source, _)| self.solver.joined(source.positive, positive))
            .filter_map(|(source, alone)| {
                let volts = self.across(source.positive, source.negative);
                let amps = source.current(volts).0;
                let holds = source
                    .limit_a
                    .is_none_or(|limit| amps > 0.0 && (alone || amps < limit));
                (holds && volts >= load_v - HAIR_V).then_some((volts, source))
            });
        let nearest = above.min_by(|a, b| a.0.total_cmp(&b.0));
        nearest.map(|(_, source)| source)
    }

    /// Batteries, alternators and converters, which give current like a source.
    pub fn givers(&self) -> Vec<Source> {
        let converters = self.network.converters.iter();
        let converters = converters.map(super::converter::Converter::as_source);
        self.network
            .sources
            .iter()
            .cloned()
            .chain(converters)
            .collect()
    }

    /// The result in the words of the job.
    pub fn result(&self, wiring: &Wiring<'_>, state: &State) -> StateResult {
        StateResult {
            name: state.name.clone(),
            operating_point: self.solution.converged
                && self.collapsed().is_empty()
                && converters::all_work(self),
            terminals: terminal_volts(wiring.job, &self.solution.volts),
            leads: self.lead_flows(wiring),
            items: self.item_flows(),
            corners: Vec::new(),
            ledger: StateLedger::default(),
        }
    }

    fn lead_flows(&self, wiring: &Wiring<'_>) -> Vec<LeadFlow> {
        let mut flows = Vec::new();
        for branch in &self.network.branches {
            let BranchOwner::Lead(lead) = branch.owner else {
                continue;
            };
            let amps = self.across(branch.from, branch.to) / branch.ohm;
            let parts = wiring.elements(lead, self.temperatures_c[lead.0]);
            let elements = parts.into_iter().map(|element| ElementFlow {
                name: element.name,
                milliohm: element.ohm * 1e3,
                millivolt: element.ohm * amps * 1e3,
                watts: element.ohm * amps * amps,
            });
            flows.push(LeadFlow {
                lead,
                name: wiring.job.lead(lead).name.clone(),
                amps,
                drop_v: amps * branch.ohm,
                watts: amps * amps * branch.ohm,
                elements: elements.collect(),
            });
        }
        flows
    }

    fn item_flows(&self) -> Vec<ItemFlow> {
        let sources = self.network.sources.iter().map(|source| {
            let volts = self.across(source.positive, source.negative);
            ItemFlow {
                name: source.name.to_string(),
                volts,
                amps: source.current(volts).0,
            }
        });
        let draws = self.network.draws.iter().map(|draw| {
            let volts = self.across(draw.positive, draw.negative);
            ItemFlow {
                name: draw.name.to_string(),
                volts,
                amps: draw.current(volts, self.network.floor_v).0,
            }
        });
        let converters = self.network.converters.iter().flat_map(|converter| {
            let input = self.across(converter.input.0, converter.input.1);
            let output = self.across(converter.output.0, converter.output.1);
            let flow = converter.flow(input, output);
            let item = |end: &str, volts, amps| ItemFlow {
                name: format!("{} {end}", converter.name),
                volts,
                amps,
            };
            [
                item("in", input, flow.input_a),
                item("out", output, flow.output_a),
            ]
        });
        sources.chain(draws).chain(converters).collect()
    }
}

/// Loads that have too little voltage to work as stated.
pub fn collapsed<'a>(network: &'a Network, volts: &[f64]) -> Vec<&'a Draw> {
    let draws = network.draws.iter();
    draws
        .filter(|draw| {
            let across = volts[draw.positive] - volts[draw.negative];
            draw.collapsed(across, network.floor_v)
        })
        .collect()
}

/// Volts of every terminal, by name.
pub fn terminal_volts(job: &Job, volts: &[f64]) -> Vec<TerminalVolts> {
    let terminals = job.terminals.iter().zip(volts);
    terminals
        .map(|(terminal, volts)| TerminalVolts {
            name: terminal.name.clone(),
            volts: *volts,
        })
        .collect()
}
