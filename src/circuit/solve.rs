//! Nodal analysis of one network.
//!
//! Unknown are the volts of every node against the reference of its part of the network. Batteries
//! and resistances are linear; loads of fixed power and alternators at their limit are not, so the
//! balance of currents is solved by Newton's method, each step a dense factorisation.

use nalgebra::{DMatrix, DVector};

use super::network::{DrawKind, Network};

/// Volts of every node.
#[derive(Debug, Clone)]
pub struct Solution {
    /// Volts against the reference of the node's part of the network.
    pub volts: Vec<f64>,
    /// Whether the balance was found.
    pub converged: bool,
    /// Nodes that are the reference of their part.
    pub references: Vec<usize>,
}

/// Conductance to the reference that keeps an unfed part of the network solvable, in siemens;
/// the same as a general circuit simulator puts across its junctions.
const LEAST_SIEMENS: f64 = 1e-12;
const LARGEST_ERROR_V: f64 = 1e-11;
const MOST_STEPS: usize = 80;

/// Solves a network.
pub fn solve(network: &Network) -> Solution {
    let references = references(network);
    let mut volts = vec![0.0; network.nodes];
    let mut converged = false;
    let mut worst = f64::INFINITY;
    for step in 0..MOST_STEPS {
        let (matrix, residual) = linearise(network, &references, &volts, step == 0);
        let Some(change) = matrix.lu().solve(&residual) else {
            break;
        };
        let size = change.amax();
        // A step that grows instead of shrinking is overshooting a bend in a curve.
        let damping = if size > worst { 0.5 } else { 1.0 };
        worst = size;
        for (node, volt) in volts.iter_mut().enumerate() {
            *volt += damping * change[node];
        }
        if size < LARGEST_ERROR_V || network.is_linear() {
            converged = true;
            break;
        }
    }
    Solution {
        volts,
        converged,
        references,
    }
}

/// One node of every connected part: the negative terminal of its first source, else its first node.
fn references(network: &Network) -> Vec<usize> {
    let mut root: Vec<usize> = (0..network.nodes).collect();
    let find = |root: &[usize], mut node: usize| {
        while root[node] != node {
            node = root[node];
        }
        node
    };
    let branches = network
        .branches
        .iter()
        .map(|branch| (branch.from, branch.to));
    let sources = network
        .sources
        .iter()
        .map(|source| (source.positive, source.negative));
    let draws = network
        .draws
        .iter()
        .map(|draw| (draw.positive, draw.negative));
    let converters = network.converters.iter();
    let converters = converters.flat_map(|converter| [converter.input, converter.output]);
    let joined = branches.chain(sources).chain(draws).chain(converters);
    for (a, b) in joined {
        let (a, b) = (find(&root, a), find(&root, b));
        root[a.max(b)] = a.min(b);
    }
    let mut chosen: Vec<Option<usize>> = vec![None; network.nodes];
    let preferred = network.sources.iter().map(|source| source.negative);
    let outputs = network.converters.iter();
    let outputs = outputs.map(|converter| converter.output.1);
    for node in preferred.chain(outputs).chain(0..network.nodes) {
        chosen[find(&root, node)].get_or_insert(node);
    }
    let mut references: Vec<usize> = (0..network.nodes)
        .filter(|node| root[*node] == *node)
        .filter_map(|part| chosen[part])
        .collect();
    references.sort_unstable();
    references
}

/// The conductances at the present volts, and the current that is out of balance at each node.
///
/// On the first step loads of fixed current or power count at their stated demand and alternators as regulating, which
/// starts near the answer.
fn linearise(
    network: &Network,
    references: &[usize],
    volts: &[f64],
    first: bool,
) -> (DMatrix<f64>, DVector<f64>) {
    let mut system = System::new(network.nodes);
    for branch in &network.branches {
        let siemens = 1.0 / branch.ohm();
        let amps = siemens * (volts[branch.from] - volts[branch.to]);
        system.add(branch.from, branch.to, amps, siemens);
    }
    for source in &network.sources {
        let across = volts[source.positive] - volts[source.negative];
        let (amps, slope) = if first {
            ((source.volts - across) / source.ohm, -1.0 / source.ohm)
        } else {
            source.current(across)
        };
        system.add(source.positive, source.negative, -amps, -slope);
    }
    for draw in &network.draws {
        let across = volts[draw.positive] - volts[draw.negative];
        let (amps, slope) = match draw.kind {
            DrawKind::Amps(_) | DrawKind::Watts(_) if first => {
                (draw.current(network.floor_v * 2.0, network.floor_v).0, 0.0)
            }
            _ => draw.current(across, network.floor_v),
        };
        system.add(draw.positive, draw.negative, amps, slope);
    }
    add_converters(&mut system, network, volts, first);
    system.fix(references, volts);
    (system.matrix, system.residual)
}

/// Converters: the current of the input depends on the volts of the output too.
///
/// On the first step outputs count as regulating, and inputs draw nothing yet.
fn add_converters(system: &mut System, network: &Network, volts: &[f64], first: bool) {
    for converter in &network.converters {
        let (input, output) = (converter.input, converter.output);
        let input_v = volts[input.0] - volts[input.1];
        let output_v = volts[output.0] - volts[output.1];
        if first {
            let amps = (converter.volts - output_v) / converter.ohm;
            system.add(output.0, output.1, -amps, 1.0 / converter.ohm);
            continue;
        }
        let flow = converter.flow(input_v, output_v);
        system.add(output.0, output.1, -flow.output_a, -flow.output_by_output);
        system.add(input.0, input.1, flow.input_a, flow.input_by_input);
        system.add_transfer(input, output, flow.input_by_output);
    }
}

struct System {
    matrix: DMatrix<f64>,
    residual: DVector<f64>,
}

impl System {
    fn new(nodes: usize) -> Self {
        Self {
            matrix: DMatrix::identity(nodes, nodes) * LEAST_SIEMENS,
            residual: DVector::zeros(nodes),
        }
    }

    /// A current from one node to another, and how it grows with the volts between them.
    fn add(&mut self, from: usize, to: usize, amps: f64, siemens: f64) {
        self.matrix[(from, from)] += siemens;
        self.matrix[(to, to)] += siemens;
        self.matrix[(from, to)] -= siemens;
        self.matrix[(to, from)] -= siemens;
        self.residual[from] -= amps;
        self.residual[to] += amps;
    }

    /// How the current between two nodes grows with the volts between two others.
    fn add_transfer(&mut self, current: (usize, usize), volts: (usize, usize), siemens: f64) {
        self.matrix[(current.0, volts.0)] += siemens;
        self.matrix[(current.1, volts.1)] += siemens;
        self.matrix[(current.0, volts.1)] -= siemens;
        self.matrix[(current.1, volts.0)] -= siemens;
    }

    /// Holds the reference nodes at nothing.
    fn fix(&mut self, references: &[usize], volts: &[f64]) {
        for (node, volt) in volts.iter().enumerate() {
            self.residual[node] -= LEAST_SIEMENS * volt;
        }
        for node in references {
            self.matrix.row_mut(*node).fill(0.0);
            self.matrix.column_mut(*node).fill(0.0);
            self.matrix[(*node, *node)] = 1.0;
            self.residual[*node] = 0.0;
        }
    }
}

/// How the volts from `positive` to `negative` answer to a current put in there, node by node: the
/// part of any lead's loss that reaches the two nodes is the difference of the answers at the
/// lead's ends, divided by the lead's resistance.
pub fn influence(
    network: &Network,
    solution: &Solution,
    positive: usize,
    negative: usize,
) -> Vec<f64> {
    let (matrix, _) = linearise(network, &solution.references, &solution.volts, false);
    let mut injected = DVector::zeros(network.nodes);
    injected[positive] += 1.0;
    injected[negative] -= 1.0;
    for node in &solution.references {
        injected[*node] = 0.0;
    }
    match matrix.transpose().lu().solve(&injected) {
        Some(answer) => answer.iter().copied().collect(),
        None => vec![0.0; network.nodes],
    }
}

/// Volts at every node for a current of one ampere put in at every other; nothing at the reference
/// nodes, and nothing at all where the network cannot be solved.
pub fn transfer(network: &Network, solution: &Solution) -> DMatrix<f64> {
    let (matrix, _) = linearise(network, &solution.references, &solution.volts, false);
    let nodes = network.nodes;
    let mut transfer = matrix
        .try_inverse()
        .unwrap_or_else(|| DMatrix::zeros(nodes, nodes));
    for node in &solution.references {
        transfer[(*node, *node)] = 0.0;
    }
    transfer
}
