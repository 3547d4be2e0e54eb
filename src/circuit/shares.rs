//! What part of every current is one load's.
//!
//! Near a solution currents add up: what a load draws is spread over the ways that lead to it, and
//! the part of it that takes each way follows from one solution of the network for that load alone.

use super::network::{Draw, Source};
use super::operate::Solved;
use super::sparse::Factors;

/// The current of one load, wherever it flows.
#[derive(Debug, Clone)]
pub struct Shares<'a> {
    solved: &'a Solved,
    /// Volts that the load's current alone makes at every node.
    volts: Vec<f64>,
    /// So that all that comes to the load is what it draws.
    scale: f64,
}

impl<'a> Shares<'a> {
    /// The shares of a load that draws so many amperes. `factors` are those of the solution.
    pub fn of(solved: &'a Solved, factors: &Factors, draw: &Draw, amps: f64) -> Self {
        let mut drawn = vec![0.0; solved.network.nodes];
        drawn[draw.positive] -= amps;
        drawn[draw.negative] += amps;
        for node in &solved.solver.references {
            drawn[*node] = 0.0;
        }
        let mut shares = Self {
            solved,
            volts: factors.solve(&drawn),
            scale: 1.0,
        };
        let branches = solved.network.branches.iter().enumerate();
        let into = branches.map(|(index, branch)| {
            let along = shares.branch(index);
            f64::from(u8::from(branch.to == draw.positive)) * along
                - f64::from(u8::from(branch.from == draw.positive)) * along
        });
        let givers = solved.givers();
        let beside = givers
            .iter()
            .filter(|source| source.positive == draw.positive);
        let sum: f64 = into.sum::<f64>() + beside.map(|source| shares.source(source)).sum::<f64>();
        let scale = amps / sum;
        if scale.is_finite() && scale > 0.0 {
            shares.scale = scale;
        }
        shares
    }

    /// Amperes of the load's current through a branch, by position, from its start to its end.
    pub fn branch(&self, index: usize) -> f64 {
        let branches = &self.solved.network.branches;
        branches.get(index).map_or(0.0, |branch| {
            (self.volts[branch.from] - self.volts[branch.to]) / branch.ohm * self.scale
        })
    }

    /// Which way the whole current of a branch flows: 1 from its start to its end, else -1.
    pub fn solved_sign(&self, index: usize) -> f64 {
        self.solved.branch_amps(index).signum()
    }

    /// Amperes of the load's current that a source gives.
    pub fn source(&self, source: &Source) -> f64 {
        let across = self.solved.across(source.positive, source.negative);
        let moved = self.volts[source.positive] - self.volts[source.negative];
        source.current(across).1 * moved * self.scale
    }
}
