//! Sparse factorisation of the matrices of nodal analysis.
//!
//! Their pattern is symmetric and nearly that of a tree, so that eliminating the node of fewest
//! neighbours first fills in almost nothing and no pivoting is needed. The order of elimination
//! follows from the pattern alone and serves all sizes and states of one network.

use std::collections::BTreeSet;

/// The order in which nodes are eliminated, and the entries that this fills.
#[derive(Debug, Clone)]
pub struct Elimination {
    /// The step at which each node goes; position = node.
    step_of: Vec<usize>,
    /// The later steps that each step touches, rising; position = step.
    touched: Vec<Vec<usize>>,
}

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
        let in_steps = |nodes: Vec<usize>| {
            let mut steps: Vec<usize> = nodes.into_iter().map(|node| step_of[node]).collect();
            steps.sort_unstable();
            steps
        };
        Self {
            touched: touched_nodes.into_iter().map(in_steps).collect(),
            step_of,
        }
    }

    fn len(&self) -> usize {
        self.step_of.len()
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
pub struct Matrix<'a> {
    elimination: &'a Elimination,
    diagonal: Vec<f64>,
    /// Entries below the diagonal, by column; positions as in `touched`.
    below: Vec<Vec<f64>>,
    /// Entries right of the diagonal, by row; positions as in `touched`.
    right: Vec<Vec<f64>>,
}

impl<'a> Matrix<'a> {
    /// A matrix of zeros.
    pub fn zeros(elimination: &'a Elimination) -> Self {
        let empty = || {
            let touched = elimination.touched.iter();
            touched.map(|steps| vec![0.0; steps.len()]).collect()
        };
        Self {
            diagonal: vec![0.0; elimination.len()],
            below: empty(),
            right: empty(),
            elimination,
        }
    }

    /// Adds to an entry that the pattern holds.
    pub fn add(&mut self, row: usize, column: usize, value: f64) {
        let steps = &self.elimination.step_of;
        self.add_at(steps[row], steps[column], value);
    }

    /// Makes a row and its column those of the unit matrix, provided nothing was added to them but
    /// on the diagonal.
    pub fn fix(&mut self, node: usize) {
        self.diagonal[self.elimination.step_of[node]] = 1.0;
    }

    fn add_at(&mut self, row: usize, column: usize, value: f64) {
        let touched = &self.elimination.touched;
        let entry = match row.cmp(&column) {
            std::cmp::Ordering::Equal => Some(&mut self.diagonal[row]),
            std::cmp::Ordering::Less => {
                let position = touched[row].binary_search(&column).ok();
                position.map(|position| &mut self.right[row][position])
            }
            std::cmp::Ordering::Greater => {
                let position = touched[column].binary_search(&row).ok();
                position.map(|position| &mut self.below[column][position])
            }
        };
        debug_assert!(entry.is_some(), "an entry outside the pattern");
        if let Some(entry) = entry {
            *entry += value;
        }
    }

    /// Factors it into lower and upper part; `None` when it is singular.
    pub fn factor(mut self) -> Option<Factors<'a>> {
        /// Smallest pivot that is told from nothing, in siemens.
        const LEAST_PIVOT: f64 = 1e-13;
        for step in 0..self.diagonal.len() {
            let pivot = self.diagonal[step];
            if pivot.is_nan() || pivot.abs() < LEAST_PIVOT {
                return None;
            }
            for value in &mut self.below[step] {
                *value /= pivot;
            }
            let touched = &self.elimination.touched[step];
            for (i, row) in touched.iter().copied().enumerate() {
                let factor = self.below[step][i];
                if factor == 0.0 {
                    continue;
                }
                for (j, column) in touched.iter().copied().enumerate() {
                    let value = factor * self.right[step][j];
                    self.add_at(row, column, -value);
                }
            }
        }
        Some(Factors(self))
    }
}

/// A factored matrix: unit lower part times upper part.
#[derive(Debug, Clone)]
pub struct Factors<'a>(Matrix<'a>);

impl Factors<'_> {
    /// Solves for a right side.
    pub fn solve(&self, right_side: &[f64]) -> Vec<f64> {
        let Matrix {
            elimination,
            diagonal,
            below,
            right,
        } = &self.0;
        let mut x = elimination.by_step(right_side);
        substitute_down(&mut x, below, elimination);
        for step in (0..x.len()).rev() {
            let known = sum_above(&x, &right[step], &elimination.touched[step]);
            x[step] = (x[step] - known) / diagonal[step];
        }
        elimination.by_node(&x)
    }

    /// Solves with the transposed matrix.
    pub fn solve_transposed(&self, right_side: &[f64]) -> Vec<f64> {
        let Matrix {
            elimination,
            diagonal,
            below,
            right,
        } = &self.0;
        let mut x = elimination.by_step(right_side);
        for step in 0..x.len() {
            x[step] /= diagonal[step];
            let value = x[step];
            if value != 0.0 {
                for (later, factor) in elimination.touched[step].iter().zip(&right[step]) {
                    x[*later] -= factor * value;
                }
            }
        }
        for step in (0..x.len()).rev() {
            x[step] -= sum_above(&x, &below[step], &elimination.touched[step]);
        }
        elimination.by_node(&x)
    }
}

fn substitute_down(x: &mut [f64], below: &[Vec<f64>], elimination: &Elimination) {
    for step in 0..x.len() {
        let value = x[step];
        if value != 0.0 {
            for (later, factor) in elimination.touched[step].iter().zip(&below[step]) {
                x[*later] -= factor * value;
            }
        }
    }
}

fn sum_above(x: &[f64], factors: &[f64], touched: &[usize]) -> f64 {
    let products = touched.iter().zip(factors);
    products.map(|(later, factor)| factor * x[*later]).sum()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use super::*;

    /// A ring of four nodes with one chord, unsymmetric in its values.
    fn example(elimination: &Elimination) -> (Matrix<'_>, [[f64; 4]; 4]) {
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
                    matrix.add(row, column, *value);
                }
            }
        }
        (matrix, values)
    }

    const PAIRS: [(usize, usize); 5] = [(0, 1), (1, 2), (2, 3), (3, 0), (1, 3)];

    #[test]
    fn the_answer_put_back_gives_the_right_side() {
        let elimination = Elimination::of(4, PAIRS);
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
    fn a_singular_matrix_has_no_factors() {
        let elimination = Elimination::of(2, [(0, 1)]);
        let mut matrix = Matrix::zeros(&elimination);
        for (row, column, value) in [(0, 0, 1.0), (1, 1, 1.0), (0, 1, -1.0), (1, 0, -1.0)] {
            matrix.add(row, column, value);
        }
        assert!(matrix.factor().is_none());
    }

    #[test]
    fn a_star_is_eliminated_from_its_rays() {
        let elimination = Elimination::of(5, (1..5).map(|ray| (0, ray)));
        assert!(elimination.touched.iter().all(|steps| steps.len() <= 1));
    }
}
