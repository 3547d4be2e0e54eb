//! Shorts between any two points of a network of batteries and resistances.

mod hindrance;

pub use hindrance::Hindrance;

use std::sync::Arc;

use super::along::Scale;
use super::frame::Frame;
use super::network::{Branch, BranchOwner, Network};
use super::solve::Solver;
use super::sparse::{Factors, Transfer};
use super::wiring::Wiring;
use crate::job::{LeadId, TerminalId, joined};
use crate::quantity::Length;

/// A network solved once for all shorts: the volts before the short, over the resistance that the
/// network shows there (Thévenin).
#[derive(Debug, Clone)]
pub struct Shorts {
    network: Network,
    volts: Vec<f64>,
    transfer: Transfer,
    /// The conductances factored; `None` where the network cannot be solved.
    factors: Option<Factors>,
    solver: Arc<Solver>,
    scales: Vec<Scale>,
    /// Which connected part each node belongs to.
    parts: Vec<usize>,
}

/// A short at one metre of a lead.
#[derive(Debug, Clone, Copy)]
pub struct Short {
    /// The lead.
    lead: LeadId,
    /// Part of the lead's resistance before the short.
    part: f64,
    /// Where the current goes.
    ground: usize,
    /// Resistance of the short itself.
    ohm: f64,
    /// Whether `ohm` holds a return as long as the way out.
    there_and_back: bool,
    /// Current through the short.
    pub amps: f64,
    /// Part of it that comes from the lead's first end.
    pub near: f64,
    /// Part of it that comes from the lead's last end.
    pub far: f64,
    /// Current from the first end once whatever feeds the last one has opened.
    pub alone: f64,
}

impl Shorts {
    /// Solves the network of a frame with the conductors at their temperatures.
    pub fn of(wiring: &Wiring<'_>, frame: &Frame, temperatures_c: &[f64]) -> Self {
        let scale = |(lead, celsius): (usize, &f64)| Scale::of(wiring, LeadId(lead), *celsius);
        let scales = temperatures_c.iter().enumerate().map(scale);
        let network = frame.network(wiring, temperatures_c);
        Self::new(network, &frame.solver, scales.collect())
    }

    fn new(network: Network, solver: &Arc<Solver>, scales: Vec<Scale>) -> Self {
        let joins = network.conductor_pairs().chain(network.source_pairs());
        let solution = solver.solve(&network);
        Self {
            transfer: solver.transfer(&network, &solution),
            factors: solver.factors(&network, &solution),
            volts: solution.volts,
            scales,
            parts: joined(network.nodes, joins),
            solver: Arc::clone(solver),
            network,
        }
    }

    /// Volts at node `a` for one ampere put in at node `b`.
    fn z(&self, a: usize, b: usize) -> f64 {
        self.transfer.z(a, b)
    }

    /// Whether conductors or batteries join two terminals.
    pub fn joined(&self, a: TerminalId, b: TerminalId) -> bool {
        self.parts[a.0] == self.parts[b.0]
    }

    /// Current of a short between two terminals.
    pub fn between(&self, from: TerminalId, to: TerminalId, ohm: f64) -> f64 {
        let (a, b) = (from.0, to.0);
        let shown = self.z(a, a) + self.z(b, b) - self.z(a, b) - self.z(b, a);
        ((self.volts[a] - self.volts[b]) / (shown + ohm)).abs()
    }

    /// A short at a metre of a lead. The point divides the lead's resistance r into s r and
    /// (1 - s) r, so that Zxx = (1-s)² Zaa + s² Zbb + 2 s (1-s) Zab + s (1-s) r and
    /// Zxg = (1-s) Zag + s Zbg, both exact.
    pub fn at(&self, lead: LeadId, at: Length, ground: TerminalId, ohm: f64) -> Option<Short> {
        let branch = self.network.branches.get(lead.0)?;
        let (a, b, g, r) = (branch.from, branch.to, ground.0, branch.ohm);
        let s = self.scales.get(lead.0)?.part(at);
        let (zaa, zab, zbb) = (self.z(a, a), self.z(a, b), self.z(b, b));
        let (zag, zbg) = (self.z(a, g), self.z(b, g));
        let rest = 1.0 - s;
        let zxx = rest * rest * zaa + s * s * zbb + 2.0 * s * rest * zab + s * rest * r;
        let zxg = rest * zag + s * zbg;
        let volts = rest * self.volts[a] + s * self.volts[b] - self.volts[g];
        let amps = volts / (zxx + self.z(g, g) - 2.0 * zxg + ohm);
        // What is left of the volts between first end and short, over the resistance between them;
        // written so that it holds at the very end too.
        let slope = rest * zaa + (2.0 * s - 1.0) * zab - s * zbb - rest * r + zbg - zag;
        let near = (self.volts[a] - self.volts[b] - amps * slope) / r;
        Some(Short {
            lead,
            part: s,
            ground: g,
            ohm,
            there_and_back: false,
            amps,
            near,
            far: amps - near,
            alone: self.alone(branch, g, s * r + ohm),
        })
    }

    /// The same with a return as long as the way out, of a resistance of its own.
    pub fn there_and_back(
        &self,
        lead: LeadId,
        at: Length,
        ground: TerminalId,
        (ohm, way_out): (f64, f64),
    ) -> Option<Short> {
        let short = self.at(lead, at, ground, ohm + way_out)?;
        Some(Short {
            there_and_back: true,
            ..short
        })
    }

    /// What hinders the current that comes through its lead to a short at the lead's end, once
    /// whatever feeds that end has opened.
    pub fn hindrance_alone(&self, short: &Short) -> Option<Hindrance> {
        let ground = TerminalId(short.ground);
        self.hindrance_through(short.lead, ground, short.ohm, short.there_and_back)
    }

    /// Current that the network without a branch drives from the branch's first end through a
    /// resistance. Taking out a branch e of resistance r changes Z by Ze (Ze)ᵀ / (r - eᵀZe).
    fn alone(&self, branch: &Branch, ground: usize, ohm: f64) -> f64 {
        let (a, b, r) = (branch.from, branch.to, branch.ohm);
        let answer = |node: usize| self.z(node, a) - self.z(node, b);
        let left = r - (answer(a) - answer(b));
        // A branch without a way round carries nothing before the short and changes nothing.
        let scale = if left > r * 1e-9 { 1.0 / left } else { 0.0 };
        let across = answer(a) - answer(ground);
        let volts =
            self.volts[a] - self.volts[ground] + across * (self.volts[a] - self.volts[b]) * scale;
        let shown = self.z(a, a) + self.z(ground, ground) - 2.0 * self.z(a, ground)
            + across * across * scale;
        (volts / (shown + ohm)).max(0.0)
    }

    /// Current through another lead, or through the first end of the same one, under a short.
    pub fn through(&self, other: LeadId, short: &Short) -> f64 {
        if other == short.lead {
            return short.near.abs();
        }
        let branches = &self.network.branches;
        let (Some(branch), Some(faulty)) = (branches.get(other.0), branches.get(short.lead.0))
        else {
            return 0.0;
        };
        let volts = |node: usize| self.node_under(node, faulty, short);
        ((volts(branch.from) - volts(branch.to)) / branch.ohm).abs()
    }

    /// Volts at a node while a short of a branch lasts.
    fn node_under(&self, node: usize, faulty: &Branch, short: &Short) -> f64 {
        let from_start = (1.0 - short.part) * self.z(node, faulty.from);
        let from_end = short.part * self.z(node, faulty.to);
        let sunk = from_start + from_end - self.z(node, short.ground);
        self.volts[node] - short.amps * sunk
    }

    /// Volts at every node while a short lasts.
    pub fn volts_under(&self, short: &Short) -> Vec<f64> {
        let Some(faulty) = self.network.branches.get(short.lead.0) else {
            return self.volts.clone();
        };
        let nodes = 0..self.network.nodes;
        nodes
            .map(|node| self.node_under(node, faulty, short))
            .collect()
    }

    /// The network with a short in it. One between the ends of its lead divides the lead in two.
    pub fn network_under(&self, short: &Short) -> Network {
        let mut network = self.network.clone();
        let Some(faulty) = network.branches.get_mut(short.lead.0) else {
            return network;
        };
        let whole = *faulty;
        let at = if short.part <= 0.0 {
            whole.from
        } else if short.part >= 1.0 {
            whole.to
        } else {
            let at = network.nodes;
            faulty.to = at;
            faulty.ohm = short.part * whole.ohm;
            network.nodes += 1;
            network.branches.push(Branch {
                from: at,
                ohm: (1.0 - short.part) * whole.ohm,
                ..whole
            });
            at
        };
        network.add_fault(TerminalId(at), TerminalId(short.ground), short.ohm);
        network
    }

    /// A node of each part of the network that counts as 0 V.
    pub fn references(&self) -> &[usize] {
        &self.solver.references
    }

    /// The part of a short's current between two terminals that each lead carries; position = lead
    /// id.
    pub fn shares(&self, from: TerminalId, to: TerminalId) -> Vec<f64> {
        let answer = self.answer(from.0, to.0);
        self.leads()
            .map(|branch| ((answer[branch.from] - answer[branch.to]) / branch.ohm).abs())
            .collect()
    }

    /// The branches of the leads; position = lead id.
    fn leads(&self) -> impl Iterator<Item = &Branch> {
        let branches = self.network.branches.iter();
        branches.take_while(|branch| matches!(branch.owner, BranchOwner::Lead(_)))
    }

    /// Volts at every node for one ampere that is put in at a node and taken out at another.
    fn answer(&self, out: usize, put_in: usize) -> Vec<f64> {
        let weights = [(put_in, 1.0), (out, -1.0)];
        match &self.factors {
            Some(factors) => self.solver.answer_of(factors, &weights),
            None => vec![0.0; self.network.nodes],
        }
    }

    /// Part of a lead's resistance that lies before a metre of it.
    pub fn part(&self, lead: LeadId, at: Length) -> f64 {
        let scale = self.scales.get(lead.0);
        scale.map_or(0.0, |scale| scale.part(at))
    }

    /// Resistance of a lead from end to end.
    pub fn branch_ohm(&self, lead: LeadId) -> f64 {
        let branch = self.network.branches.get(lead.0);
        branch.map_or(0.0, |branch| branch.ohm)
    }
}

#[cfg(test)]
#[path = "shorts_tests.rs"]
mod tests;
