//! Nodal analysis of one network.
//!
//! Unknown are the volts of every node against the reference of its part of the network. Batteries
//! and resistances are linear; loads of fixed power and alternators at their limit are not, so the
//! balance of currents is solved by Newton's method, each step a sparse factorisation.

use std::sync::Arc;

use super::bridges::bridges;
use super::network::{DrawKind, Network};
use super::sparse::{Elimination, Factors, Matrix, Slot, Transfer};
use crate::job::joined;

/// Volts of every node.
#[derive(Debug, Clone)]
pub struct Solution {
    /// Volts against the reference of the node's part of the network.
    pub volts: Vec<f64>,
    /// Whether the balance was found.
    pub converged: bool,
}

/// Conductance to the reference that keeps an unfed part of the network solvable, in siemens;
/// the same as a general circuit simulator puts across its junctions.
const LEAST_SIEMENS: f64 = 1e-12;
const LARGEST_ERROR_V: f64 = 1e-11;
const MOST_STEPS: usize = 80;
/// Smallest part of a step that is tried.
const LEAST_PART: f64 = 1.0 / 4096.0;

/// What the joints of a network alone decide; it serves for all values of its parts.
#[derive(Debug, Clone)]
pub struct Solver {
    /// Nodes that are the reference of their part.
    pub references: Vec<usize>,
    is_reference: Vec<bool>,
    elimination: Arc<Elimination>,
    is_bridge: Vec<bool>,
    /// The part of the conductors that each node is in.
    conductors: Vec<usize>,
    /// Where each part of the network stands in the matrix.
    stamps: Stamps,
}

/// Where the parts of a network stand in its matrix; position = that in the network.
#[derive(Debug, Clone)]
struct Stamps {
    branches: Vec<Stamp>,
    sources: Vec<Stamp>,
    draws: Vec<Stamp>,
    converters: Vec<ConverterStamp>,
}

/// Where a conductance between two nodes is added and taken off.
#[derive(Debug, Clone, Copy)]
struct Stamp {
    added: [Slot; 2],
    taken: [Slot; 2],
}

#[derive(Debug, Clone, Copy)]
struct ConverterStamp {
    input: Stamp,
    output: Stamp,
    /// How the current of the input answers to the volts of the output.
    transfer: Stamp,
}

/// The matrix's slots, without the rows and columns of the references.
struct Slots<'a> {
    elimination: &'a Elimination,
    is_reference: &'a [bool],
}

impl Slots<'_> {
    fn slot(&self, row: usize, column: usize) -> Slot {
        if self.is_reference[row] || self.is_reference[column] {
            self.elimination.spare()
        } else {
            self.elimination.slot(row, column)
        }
    }

    /// A current from one node to another that grows with the volts between two.
    fn transfer(&self, current: (usize, usize), volts: (usize, usize)) -> Stamp {
        Stamp {
            added: [self.slot(current.0, volts.0), self.slot(current.1, volts.1)],
            taken: [self.slot(current.0, volts.1), self.slot(current.1, volts.0)],
        }
    }

    fn between(&self, from: usize, to: usize) -> Stamp {
        self.transfer((from, to), (from, to))
    }

    fn of(&self, network: &Network) -> Stamps {
        let between = |(from, to): (usize, usize)| self.between(from, to);
        let draws = network.draws.iter();
        let converters = network.converters.iter();
        Stamps {
            branches: network.conductor_pairs().map(between).collect(),
            sources: network.source_pairs().map(between).collect(),
            draws: draws
                .map(|draw| self.between(draw.positive, draw.negative))
                .collect(),
            converters: converters
                .map(|converter| ConverterStamp {
                    input: between(converter.input),
                    output: between(converter.output),
                    transfer: self.transfer(converter.input, converter.output),
                })
                .collect(),
        }
    }
}

impl Solver {
    /// Orders the elimination of a network's nodes.
    pub fn of(network: &Network) -> Self {
        let references = references(network);
        let mut is_reference = vec![false; network.nodes];
        for node in &references {
            is_reference[*node] = true;
        }
        let unknown = |(a, b): &(usize, usize)| !is_reference[*a] && !is_reference[*b];
        let pairs = network.pairs().chain(network.transfers()).filter(unknown);
        let elimination = Elimination::of(network.nodes, pairs);
        let slots = Slots {
            elimination: &elimination,
            is_reference: &is_reference,
        };
        Self {
            stamps: slots.of(network),
            elimination: Arc::new(elimination),
            references,
            is_reference,
            is_bridge: bridges_of(network),
            conductors: joined(network.nodes, network.conductor_pairs()),
        }
    }

    /// Whether a branch, by position, is the only way for current between its two sides.
    pub fn is_bridge(&self, branch: usize) -> bool {
        self.is_bridge.get(branch).copied().unwrap_or(false)
    }

    /// Whether conductors join two nodes.
    pub fn joined(&self, a: usize, b: usize) -> bool {
        self.conductors[a] == self.conductors[b]
    }

    /// Whether every branch is the only way.
    pub fn is_tree(&self) -> bool {
        self.is_bridge.iter().all(|only| *only)
    }

    /// Solves a network of these joints.
    pub fn solve(&self, network: &Network) -> Solution {
        self.solve_from(network, None)
    }

    /// Solves a network of these joints, starting at volts that are near the answer.
    pub fn solve_from(&self, network: &Network, near: Option<&[f64]>) -> Solution {
        let mut volts = near.map_or_else(|| vec![0.0; network.nodes], <[f64]>::to_vec);
        let mut system = self.linearise(network, &volts, near.is_none());
        let mut comparable = near.is_some();
        for _ in 0..MOST_STEPS {
            let out_of_balance = size_of(&system.residual);
            let Some(factors) = system.matrix.factor() else {
                break;
            };
            let change = factors.solve(&system.residual);
            let largest = change
                .iter()
                .fold(0.0, |most: f64, volt| most.max(volt.abs()));
            if largest.is_nan() {
                break;
            }
            if largest < LARGEST_ERROR_V || network.is_linear() {
                let converged = true;
                return Solution {
                    volts: moved(&volts, &change, 1.0),
                    converged,
                };
            }
            // A whole step may jump past a bend in a curve, such as the narrow band in which an
            // alternator regulates: shorter steps are tried until the balance gets better.
            let mut part = 1.0;
            loop {
                let trial = moved(&volts, &change, part);
                system = self.linearise(network, &trial, false);
                let better = size_of(&system.residual) < out_of_balance;
                if better || !comparable || part < LEAST_PART {
                    volts = trial;
                    break;
                }
                part /= 2.0;
            }
            comparable = true;
        }
        Solution {
            volts,
            converged: false,
        }
    }

    /// How volts, weighted and summed, answer to a current put in at each node.
    pub fn answer(
        &self,
        network: &Network,
        solution: &Solution,
        weights: &[(usize, f64)],
    ) -> Vec<f64> {
        match self.factors(network, solution) {
            Some(factors) => self.answer_of(&factors, weights),
            None => vec![0.0; network.nodes],
        }
    }

    /// The same with the conductances already factored.
    pub fn answer_of(&self, factors: &Factors, weights: &[(usize, f64)]) -> Vec<f64> {
        let mut weighted = vec![0.0; self.is_reference.len()];
        for (node, weight) in weights {
            if !self.is_reference[*node] {
                weighted[*node] += weight;
            }
        }
        factors.solve_transposed(&weighted)
    }

    /// The factored conductances at a solution.
    pub fn factors(&self, network: &Network, solution: &Solution) -> Option<Factors> {
        self.factors_at(network, &solution.volts)
    }

    /// The factored conductances at some volts.
    pub fn factors_at(&self, network: &Network, volts: &[f64]) -> Option<Factors> {
        self.linearise(network, volts, false).matrix.factor()
    }

    /// Volts at each node for a current put in at another, of a network of batteries and resistances;
    /// nothing at the references, and nothing at all where the network cannot be solved.
    pub fn transfer(&self, network: &Network, solution: &Solution) -> Transfer {
        let unknown = |node: &usize| !self.is_reference[*node];
        let factors = self.factors(network, solution);
        factors.map_or_else(Transfer::default, |factors| factors.transfer(unknown))
    }

    /// The conductances at the present volts, and the current that is out of balance at each node.
    ///
    /// On the first step loads of fixed current or power count at their stated demand and
    /// alternators as regulating, which starts near the answer.
    fn linearise(&self, network: &Network, volts: &[f64], first: bool) -> System {
        let mut system = System::of(self, volts);
        let stamps = &self.stamps;
        for (branch, stamp) in network.branches.iter().zip(&stamps.branches) {
            let siemens = 1.0 / branch.ohm;
            let amps = siemens * (volts[branch.from] - volts[branch.to]);
            system.add((branch.from, branch.to), stamp, amps, siemens);
        }
        for (source, stamp) in network.sources.iter().zip(&stamps.sources) {
            let across = volts[source.positive] - volts[source.negative];
            let (amps, slope) = if first {
                ((source.volts - across) / source.ohm, -1.0 / source.ohm)
            } else {
                source.current(across)
            };
            system.add((source.positive, source.negative), stamp, -amps, -slope);
        }
        for (draw, stamp) in network.draws.iter().zip(&stamps.draws) {
            let across = volts[draw.positive] - volts[draw.negative];
            let (amps, slope) = match draw.kind {
                DrawKind::Amps(_) | DrawKind::Watts(_) if first => {
                    (draw.current(network.floor_v * 2.0, network.floor_v).0, 0.0)
                }
                _ => draw.current(across, network.floor_v),
            };
            system.add((draw.positive, draw.negative), stamp, amps, slope);
        }
        system.add_converters(network, &stamps.converters, (volts, first));
        for node in &self.references {
            system.residual[*node] = 0.0;
        }
        system
    }
}

/// Volts after a part of a change.
fn moved(volts: &[f64], change: &[f64], part: f64) -> Vec<f64> {
    let pairs = volts.iter().zip(change);
    pairs.map(|(volt, change)| volt + part * change).collect()
}

/// How far currents are out of balance in all.
fn size_of(residual: &[f64]) -> f64 {
    residual.iter().map(|amps| amps * amps).sum::<f64>().sqrt()
}

/// Loads of fixed current or power let no other current pass, and so close no ring.
fn bridges_of(network: &Network) -> Vec<bool> {
    let ohms = network.draws.iter();
    let ohms = ohms.filter(|draw| matches!(draw.kind, DrawKind::Ohms(_)));
    let outputs = network.converters.iter().map(|converter| converter.output);
    let pairs: Vec<(usize, usize)> = network
        .conductor_pairs()
        .chain(outputs)
        .chain(network.source_pairs())
        .chain(ohms.map(|draw| (draw.positive, draw.negative)))
        .collect();
    let mut only_way = bridges(network.nodes, &pairs);
    only_way.truncate(network.branches.len());
    only_way
}

/// One node of every connected part: the negative terminal of its first source, else its first node.
fn references(network: &Network) -> Vec<usize> {
    let part = joined(network.nodes, network.pairs());
    let mut chosen: Vec<Option<usize>> = vec![None; network.nodes];
    let preferred = network.sources.iter().map(|source| source.negative);
    let outputs = network.converters.iter();
    let outputs = outputs.map(|converter| converter.output.1);
    for node in preferred.chain(outputs).chain(0..network.nodes) {
        chosen[part[node]].get_or_insert(node);
    }
    let mut references: Vec<usize> = (0..network.nodes)
        .filter(|node| part[*node] == *node)
        .filter_map(|least| chosen[least])
        .collect();
    references.sort_unstable();
    references
}

struct System {
    matrix: Matrix,
    residual: Vec<f64>,
}

impl System {
    fn of(solver: &Solver, volts: &[f64]) -> Self {
        let mut matrix = Matrix::zeros(&solver.elimination);
        let mut residual = vec![0.0; volts.len()];
        for (node, volt) in volts.iter().enumerate() {
            if solver.is_reference[node] {
                matrix.fix(node);
            } else {
                matrix.add(solver.elimination.slot(node, node), LEAST_SIEMENS);
                residual[node] = -LEAST_SIEMENS * volt;
            }
        }
        Self { matrix, residual }
    }

    /// Converters: the current of the input depends on the volts of the output too.
    ///
    /// On the first step outputs count as regulating, and inputs draw nothing yet.
    fn add_converters(
        &mut self,
        network: &Network,
        stamps: &[ConverterStamp],
        (volts, first): (&[f64], bool),
    ) {
        for (converter, stamp) in network.converters.iter().zip(stamps) {
            let (input, output) = (converter.input, converter.output);
            let input_v = volts[input.0] - volts[input.1];
            let output_v = volts[output.0] - volts[output.1];
            if first {
                let amps = (converter.volts - output_v) / converter.ohm;
                self.add(output, &stamp.output, -amps, 1.0 / converter.ohm);
                continue;
            }
            let flow = converter.flow(input_v, output_v);
            self.add(
                output,
                &stamp.output,
                -flow.output_a,
                -flow.output_by_output,
            );
            self.add(input, &stamp.input, flow.input_a, flow.input_by_input);
            self.add_slope(&stamp.transfer, flow.input_by_output);
        }
    }

    /// A current from one node to another, and how it grows with the volts between them.
    fn add(&mut self, (from, to): (usize, usize), stamp: &Stamp, amps: f64, siemens: f64) {
        self.residual[from] -= amps;
        self.residual[to] += amps;
        self.add_slope(stamp, siemens);
    }

    fn add_slope(&mut self, stamp: &Stamp, siemens: f64) {
        for slot in stamp.added {
            self.matrix.add(slot, siemens);
        }
        for slot in stamp.taken {
            self.matrix.add(slot, -siemens);
        }
    }
}
