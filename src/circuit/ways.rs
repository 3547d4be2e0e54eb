//! The way that most of a current takes.
//!
//! In a ring current reaches a load by several ways. Of each ring the conductor that carries least
//! is left out; what remains joins any two points in one way, the one that carries most.

use super::network::Network;

/// One branch of a way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Step {
    /// Which branch, by position.
    pub branch: usize,
    /// Whether the way passes it from its start to its end.
    pub forward: bool,
}

/// The main ways of a current.
#[derive(Debug, Clone)]
pub struct Ways {
    /// The steps that leave each node, with the node that each leads to.
    beside: Vec<Vec<(Step, usize)>>,
}

impl Ways {
    /// Leaves the weakest conductor of each ring out; `amps` is what flows through a branch, by
    /// position.
    pub fn of(network: &Network, amps: impl Fn(usize) -> f64) -> Self {
        let branches = &network.branches;
        let amps = |index: usize| amps(index).abs();
        let mut strongest_first: Vec<usize> = (0..branches.len()).collect();
        strongest_first.sort_by(|a, b| amps(*b).total_cmp(&amps(*a)).then(a.cmp(b)));
        let mut groups = Groups::of(network.nodes);
        let mut beside = vec![Vec::new(); network.nodes];
        for index in strongest_first {
            let (from, to) = (branches[index].from, branches[index].to);
            if groups.join(from, to) {
                let step = |forward| Step {
                    branch: index,
                    forward,
                };
                beside[from].push((step(true), to));
                beside[to].push((step(false), from));
            }
        }
        Self { beside }
    }

    /// The steps from one node to another; `None` where nothing joins them.
    pub fn between(&self, from: usize, to: usize) -> Option<Vec<Step>> {
        let mut reached_by: Vec<Option<(Step, usize)>> = vec![None; self.beside.len()];
        let mut waiting = vec![from];
        while let Some(node) = waiting.pop() {
            for (step, next) in &self.beside[node] {
                if *next != from && reached_by[*next].is_none() {
                    reached_by[*next] = Some((*step, node));
                    waiting.push(*next);
                }
            }
        }
        let mut steps = Vec::new();
        let mut node = to;
        while node != from {
            let (step, before) = reached_by[node]?;
            steps.push(step);
            node = before;
        }
        steps.reverse();
        Some(steps)
    }
}

/// Nodes that are joined so far.
struct Groups {
    towards: Vec<usize>,
}

impl Groups {
    fn of(nodes: usize) -> Self {
        Self {
            towards: (0..nodes).collect(),
        }
    }

    fn head(&mut self, mut node: usize) -> usize {
        while self.towards[node] != node {
            self.towards[node] = self.towards[self.towards[node]];
            node = self.towards[node];
        }
        node
    }

    /// Joins two nodes; whether they were apart.
    fn join(&mut self, a: usize, b: usize) -> bool {
        let (a, b) = (self.head(a), self.head(b));
        self.towards[b] = a;
        a != b
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use super::*;
    use crate::circuit::{Branch, BranchOwner};

    /// A network of branches between the pairs of nodes given.
    fn network(pairs: &[(usize, usize)]) -> Network {
        let branch = |(from, to): &(usize, usize)| Branch {
            owner: BranchOwner::Fault,
            from: *from,
            to: *to,
            ohm: 1.0,
        };
        Network {
            nodes: 5,
            branches: pairs.iter().map(branch).collect(),
            sources: Vec::new(),
            draws: Vec::new(),
            converters: Vec::new(),
            floor_v: 6.0,
        }
    }

    fn passed(ways: &Ways, from: usize, to: usize) -> Vec<(usize, bool)> {
        let steps = ways.between(from, to).unwrap();
        steps
            .iter()
            .map(|step| (step.branch, step.forward))
            .collect()
    }

    #[test]
    fn of_a_ring_the_way_that_carries_most_is_kept() {
        let ring = network(&[(0, 1), (1, 2), (3, 0), (3, 2)]);
        let amps = [30.0, 30.0, -70.0, 70.0];
        let ways = Ways::of(&ring, |branch| amps[branch]);
        assert_eq!(passed(&ways, 0, 2), [(2, false), (3, true)]);
        let amps = [80.0, 80.0, -20.0, 20.0];
        let ways = Ways::of(&ring, |branch| amps[branch]);
        assert_eq!(passed(&ways, 0, 2), [(0, true), (1, true)]);
    }

    #[test]
    fn a_node_has_a_way_of_no_steps_to_itself_and_none_to_what_nothing_joins() {
        let ways = Ways::of(&network(&[(0, 1)]), |_| 1.0);
        assert_eq!(ways.between(1, 1), Some(Vec::new()));
        assert_eq!(ways.between(0, 4), None);
    }
}
