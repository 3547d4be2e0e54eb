//! Sparse factorisation of the matrices of nodal analysis.
//!
//! Their pattern is symmetric and nearly that of a tree, so that eliminating the node of fewest
//! neighbours first fills in almost nothing and no pivoting is needed. The order of elimination
//! follows from the pattern alone and serves all sizes and states of one network.

use std::cmp::Ordering;
use std::collections::BTreeSet;
use std::ops::Range;
use std::sync::Arc;

/// The order in which nodes are eliminated, and the entries that this fills.
#[derive(Debug, Clone)]
pub struct Elimination {
    /// The step at which each node goes; position = node.
    step_of: Vec<usize>,
    /// Where the entries of each step start in `touched`, and where the last ones end.
    starts: Vec<usize>,
    /// The later steps that each step touches, rising, step after step.
    touched: Vec<usize>,
    /// Where what each step takes from later entries goes, row by row, step after step.
    updated: Vec<Slot>,
}

/// Where an entry of a matrix lies among its values: first the diagonal, then the entries below it
/// by column and those right of it by row, both as in `touched`; one more value is read by nobody.
pub type Slot = usize;

impl Elimination {
    /// The order for a pattern given as pairs of nodes.
    pub fn of(nodes: usize, pairs: impl IntoIterator<Item = (usize, usize)>) -> Self {
        let mut neighbours = vec![BTreeSet::new(); nodes];
        for (a, b) in pairs {
            if a != b {
                neighbours[a].insert(b);
                neighbours[b].insert(a);
            }
        }
        let mut queue: BTreeSet<(usize, usize)> = (0..nodes)
            .map(|node| (neighbours[node].len(), node))
            .collect();
        let mut step_of = vec![0; nodes];
        let mut touched_nodes = Vec::with_capacity(nodes);
        while let Some((_, node)) = queue.pop_first() {
            step_of[node] = touched_nodes.len();
            let around: Vec<usize> = std::mem::take(&mut neighbours[node]).into_iter().collect();
            for (position, a) in around.iter().copied().enumerate() {
                queue.remove(&(neighbours[a].len(), a));
                neighbours[a].remove(&node);
                neighbours[a].extend(around[..position].iter().chain(&around[position + 1..]));
                queue.insert((neighbours[a].len(), a));
            }
            touched_nodes.push(around);
        }
        let mut starts = vec![0];
        let mut touched = Vec::new();
        for around in touched_nodes {
            let first = touched.len();
            touched.extend(around.into_iter().map(|node| step_of[node]));
            touched[first..].sort_unstable();
            starts.push(touched.len());
        }
        let mut elimination = Self {
            step_of,
            starts,
            touched,
            updated: Vec::new(),
        };
        elimination.updated = elimination.updates();
        elimination
    }

    fn updates(&self) -> Vec<Slot> {
        let steps = (0..self.len()).map(|step| &self.touched[self.entries(step)]);
        let pairs = steps.flat_map(|later| {
            let rows = later.iter();
            rows.flat_map(|row| later.iter().map(|column| (*row, *column)))
        });
        pairs
            .map(|(row, column)| self.slot_at(row, column))
            .collect()
    }

    fn len(&self) -> usize {
        self.step_of.len()
    }

    /// Where the entries of a step lie.
    fn entries(&self, step: usize) -> Range<usize> {
        self.starts[step]..self.starts[step + 1]
    }

    /// Where the entry of a step for a later one lies.
    fn entry(&self, step: usize, later: usize) -> Option<usize> {
        let entries = self.entries(step);
        let position = self.touched[entries.clone()].binary_search(&later);
        position.ok().map(|position| entries.start + position)
    }

    /// Where the entry of two nodes lies; that of a pair outside the pattern is read by nobody.
    pub fn slot(&self, row: usize, column: usize) -> Slot {
        self.slot_at(self.step_of[row], self.step_of[column])
    }

    /// The value that nobody reads.
    pub fn spare(&self) -> Slot {
        self.right() + self.touched.len()
    }

    fn slot_at(&self, row: usize, column: usize) -> Slot {
        let found = match row.cmp(&column) {
            Ordering::Equal => Some(row),
            Ordering::Less => self.entry(row, column).map(|entry| self.right() + entry),
            Ordering::Greater => self.entry(column, row).map(|entry| self.below() + entry),
        };
        debug_assert!(found.is_some(), "an entry outside the pattern");
        found.unwrap_or(self.spare())
    }

    /// Where the entries below the diagonal start.
    fn below(&self) -> Slot {
        self.len()
    }

    /// Where the entries right of the diagonal start.
    fn right(&self) -> Slot {
        self.len() + self.touched.len()
    }

    /// An answer by steps put in the order of the nodes.
    fn by_node(&self, by_step: &[f64]) -> Vec<f64> {
        self.step_of.iter().map(|step| by_step[*step]).collect()
    }

    fn by_step(&self, by_node: &[f64]) -> Vec<f64> {
        let mut by_step = vec![0.0; by_node.len()];
        for (step, value) in self.step_of.iter().zip(by_node) {
            by_step[*step] = *value;
        }
        by_step
    }
}

/// A matrix of a given pattern.
#[derive(Debug, Clone)]
pub struct Matrix {
    elimination: Arc<Elimination>,
    values: Vec<f64>,
}

impl Matrix {
    /// A matrix of zeros.
    pub fn zeros(elimination: &Arc<Elimination>) -> Self {
        Self {
            values: vec![0.0; elimination.spare() + 1],
            elimination: Arc::clone(elimination),
        }
    }

    /// Adds to the entry of a slot.
    pub fn add(&mut self, slot: Slot, value: f64) {
        self.values[slot] += value;
    }

    /// Makes a row and its column those of the unit matrix, provided nothing was added to them but
    /// on the diagonal.
    pub fn fix(&mut self, node: usize) {
        self.values[self.elimination.step_of[node]] = 1.0;
    }

    /// Factors it into lower and upper part; `None` when it is singular.
    pub fn factor(mut self) -> Option<Factors> {
        /// Smallest pivot that is told from nothing, in siemens.
        const LEAST_PIVOT: f64 = 1e-13;
        let elimination = &*self.elimination;
        let (below, right) = (elimination.below(), elimination.right());
        let values = &mut self.values;
        let mut updated = elimination.updated.as_slice();
        for step in 0..elimination.len() {
            let pivot = values[step];
            if pivot.is_nan() || pivot.abs() < LEAST_PIVOT {
                return None;
            }
            let entries = elimination.entries(step);
            for row_entry in entries.clone() {
                let (row, rest) = updated.split_at(entries.len());
                updated = rest;
                values[below + row_entry] /= pivot;
                let factor = values[below + row_entry];
                if factor == 0.0 {
                    continue;
                }
                for (slot, column_entry) in row.iter().zip(entries.clone()) {
                    values[*slot] -= factor * values[right + column_entry];
                }
            }
        }
        Some(Factors(self))
    }
}

/// A factored matrix: unit lower part times upper part.
#[derive(Debug, Clone)]
pub struct Factors(Matrix);

impl Factors {
    fn diagonal(&self) -> &[f64] {
        &self.0.values[..self.0.elimination.len()]
    }

    fn below(&self) -> &[f64] {
        &self.0.values[self.0.elimination.below()..self.0.elimination.right()]
    }

    fn right(&self) -> &[f64] {
        &self.0.values[self.0.elimination.right()..self.0.elimination.spare()]
    }

    /// Solves for a right side.
    pub fn solve(&self, right_side: &[f64]) -> Vec<f64> {
        let matrix = &self.0;
        let mut x = matrix.elimination.by_step(right_side);
        for step in 0..x.len() {
            self.carry_down(&mut x, step, self.below());
        }
        for step in (0..x.len()).rev() {
            x[step] = (x[step] - self.sum_after(&x, step, self.right())) / self.diagonal()[step];
        }
        matrix.elimination.by_node(&x)
    }

    /// Solves with the transposed matrix.
    pub fn solve_transposed(&self, right_side: &[f64]) -> Vec<f64> {
        let matrix = &self.0;
        let mut x = matrix.elimination.by_step(right_side);
        for step in 0..x.len() {
            x[step] /= self.diagonal()[step];
            self.carry_down(&mut x, step, self.right());
        }
        for step in (0..x.len()).rev() {
            x[step] -= self.sum_after(&x, step, self.below());
        }
        matrix.elimination.by_node(&x)
    }

    /// The answers of a symmetric matrix to a current at each of the unknown nodes. One substitution
    /// a node suffices, and it touches only the steps that lie before the node in the elimination.
    pub fn transfer(&self, unknown: impl Fn(&usize) -> bool) -> Transfer {
        let matrix = &self.0;
        let nodes = 0..matrix.elimination.len();
        let mut x = vec![0.0; matrix.elimination.len()];
        let path = |node: usize| {
            if unknown(&node) {
                self.path(matrix.elimination.step_of[node], &mut x)
            } else {
                Vec::new()
            }
        };
        Transfer {
            paths: nodes.map(path).collect(),
        }
    }

    /// What a current at a step comes to at every step after it, over the root of the pivot; `x` is
    /// all zeros before and after.
    fn path(&self, from: usize, x: &mut [f64]) -> Vec<(usize, f64)> {
        let matrix = &self.0;
        let mut path = Vec::new();
        x[from] = 1.0;
        let mut step = Some(from);
        while let Some(at) = step {
            self.carry_down(x, at, self.below());
            path.push((at, x[at] / self.diagonal()[at].abs().sqrt()));
            x[at] = 0.0;
            // The first step touched comes next: all others that this one touches, it touches too.
            step = matrix.elimination.touched[matrix.elimination.entries(at)]
                .first()
                .copied();
        }
        path
    }

    fn carry_down(&self, x: &mut [f64], step: usize, factors: &[f64]) {
        let value = x[step];
        if value != 0.0 {
            for entry in self.0.elimination.entries(step) {
                x[self.0.elimination.touched[entry]] -= factors[entry] * value;
            }
        }
    }

    fn sum_after(&self, x: &[f64], step: usize, factors: &[f64]) -> f64 {
        let entries = self.0.elimination.entries(step);
        let later = &self.0.elimination.touched[entries.clone()];
        let products = later.iter().zip(&factors[entries]);
        products.map(|(later, factor)| factor * x[*later]).sum()
    }
}

/// Volts at each node of a network of batteries and resistances for a current put in at another.
#[derive(Debug, Clone, Default)]
pub struct Transfer {
    paths: Vec<Vec<(usize, f64)>>,
}

impl Transfer {
    /// Volts at node `a` for one ampere put in at node `b`.
    pub fn z(&self, a: usize, b: usize) -> f64 {
        let (Some(a), Some(b)) = (self.paths.get(a), self.paths.get(b)) else {
            return 0.0;
        };
        let (mut i, mut j, mut sum) = (0, 0, 0.0);
        while let (Some((one, x)), Some((other, y))) = (a.get(i), b.get(j)) {
            if one == other {
                sum += x * y;
            }
            i += usize::from(one <= other);
            j += usize::from(other <= one);
        }
        sum
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use super::*;

    /// A ring of four nodes with one chord, unsymmetric in its values.
    fn example(elimination: &Arc<Elimination>) -> (Matrix, [[f64; 4]; 4]) {
        let values = [
            [4.0, -1.0, 0.0, -2.0],
            [-1.5, 5.0, -1.0, -0.5],
            [0.0, -1.0, 3.0, -1.0],
            [-2.0, -0.25, -1.0, 6.0],
        ];
        let mut matrix = Matrix::zeros(elimination);
        for (row, line) in values.iter().enumerate() {
            for (column, value) in line.iter().enumerate() {
                if *value != 0.0 {
                    matrix.add(elimination.slot(row, column), *value);
                }
            }
        }
        (matrix, values)
    }

    const PAIRS: [(usize, usize); 5] = [(0, 1), (1, 2), (2, 3), (3, 0), (1, 3)];

    #[test]
    fn the_answer_put_back_gives_the_right_side() {
        let elimination = Arc::new(Elimination::of(4, PAIRS));
        let (matrix, values) = example(&elimination);
        let factors = matrix.factor().unwrap();
        let right_side = [1.0, -2.0, 0.5, 3.0];
        let (x, y) = (
            factors.solve(&right_side),
            factors.solve_transposed(&right_side),
        );
        for row in 0..4 {
            let product: f64 = (0..4).map(|column| values[row][column] * x[column]).sum();
            let across: f64 = (0..4).map(|column| values[column][row] * y[column]).sum();
            assert!((product - right_side[row]).abs() < 1e-12);
            assert!((across - right_side[row]).abs() < 1e-12);
        }
    }

    #[test]
    fn transfers_are_the_columns_of_the_inverse() {
        let elimination = Arc::new(Elimination::of(4, PAIRS));
        let mut matrix = Matrix::zeros(&elimination);
        for (a, b) in PAIRS {
            for (row, column, value) in [(a, a, 1.0), (b, b, 1.0), (a, b, -1.0), (b, a, -1.0)] {
                matrix.add(elimination.slot(row, column), value);
            }
        }
        matrix.add(elimination.slot(0, 0), 0.5);
        let factors = matrix.factor().unwrap();
        let transfer = factors.transfer(|_| true);
        for a in 0..4 {
            let mut right_side = [0.0; 4];
            right_side[a] = 1.0;
            let column = factors.solve(&right_side);
            for (b, volts) in column.iter().enumerate() {
                assert!((transfer.z(a, b) - volts).abs() < 1e-12);
            }
        }
    }

    #[test]
    fn a_singular_matrix_has_no_factors() {
        let elimination = Arc::new(Elimination::of(2, [(0, 1)]));
        let mut matrix = Matrix::zeros(&elimination);
        for (row, column, value) in [(0, 0, 1.0), (1, 1, 1.0), (0, 1, -1.0), (1, 0, -1.0)] {
            matrix.add(elimination.slot(row, column), value);
        }
        assert!(matrix.factor().is_none());
    }

    #[test]
    fn a_star_is_eliminated_from_its_rays() {
        let elimination = Elimination::of(5, (1..5).map(|ray| (0, ray)));
        assert!((0..5).all(|step| elimination.entries(step).len() <= 1));
    }
}
