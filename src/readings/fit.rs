//! The figures that explain the readings of a day best.
//!
//! Least squares over two kinds of misfit: of the readings, in spreads of the meter, and of the
//! figures, in spreads of sound vehicles. Both stand for a normal distribution, so that the figures
//! found are the most likely ones (Gauss and Newton's method; the algebra is done among readings,
//! which are fewer than figures).

use nalgebra::{Cholesky, DMatrix, DVector, Dyn};

use super::model::Model;

/// How free each figure and each reading is: its variance, in squares of its spread.
#[derive(Debug, Clone)]
pub struct Freedom {
    /// Of the figures.
    pub figures: DVector<f64>,
    /// Of the readings.
    pub readings: DVector<f64>,
}

/// A figure that is free counts as spread so many times as far.
pub const FREE: f64 = 1e6;

impl Freedom {
    /// All as in a sound vehicle, read by a sound meter.
    pub fn sound(model: &Model) -> Self {
        Self {
            figures: DVector::from_element(model.unknowns.list.len(), 1.0),
            readings: DVector::from_element(model.readings(), 1.0),
        }
    }
}

/// Figures found.
#[derive(Debug, Clone)]
pub struct Fit {
    /// The figures, in spreads.
    pub figures: DVector<f64>,
    /// The sum of all squares.
    pub cost: f64,
}

const MOST_STEPS: usize = 12;
const LEAST_PART: f64 = 1.0 / 64.0;
/// A step that lowers the sum of squares by less ends the search.
const LEAST_GAIN: f64 = 1e-3;

/// Fits the figures of a day, from a start on.
pub fn fit(model: &Model, freedom: &Freedom, start: &DVector<f64>) -> Fit {
    let mut best = Fit {
        cost: cost(model, freedom, start),
        figures: start.clone(),
    };
    for _ in 0..MOST_STEPS {
        let Some(local) = Local::at(model, freedom, &best.figures) else {
            break;
        };
        let wanted = local.figures(freedom);
        let Some(next) = towards(model, freedom, &best, &wanted) else {
            break;
        };
        let gain = best.cost - next.cost;
        best = next;
        if gain < LEAST_GAIN {
            break;
        }
    }
    best
}

/// As much of a step as lowers the sum of squares.
fn towards(model: &Model, freedom: &Freedom, from: &Fit, to: &DVector<f64>) -> Option<Fit> {
    let mut part = 1.0;
    while part >= LEAST_PART {
        let figures = &from.figures + (to - &from.figures) * part;
        let cost = cost(model, freedom, &figures);
        if cost < from.cost {
            return Some(Fit { figures, cost });
        }
        part /= 2.0;
    }
    None
}

fn cost(model: &Model, freedom: &Freedom, figures: &DVector<f64>) -> f64 {
    let squares = |values: &DVector<f64>, variances: &DVector<f64>| -> f64 {
        let pairs = values.iter().zip(variances.iter());
        pairs
            .map(|(value, variance)| value * value / variance)
            .sum()
    };
    squares(&model.off(figures), &freedom.readings) + squares(figures, &freedom.figures)
}

/// The readings taken as straight lines in the figures, round some of these.
#[derive(Debug)]
pub struct Local {
    /// Growth of the readings with the figures, made uncorrelated.
    whitened: DMatrix<f64>,
    /// What the readings tell of the figures, made uncorrelated.
    told: DVector<f64>,
    lower: Cholesky<f64, Dyn>,
}

impl Local {
    /// Round some figures; `None` where the readings are no numbers.
    pub fn at(model: &Model, freedom: &Freedom, figures: &DVector<f64>) -> Option<Self> {
        let shown = model.shown(figures);
        let told = &shown.off + &shown.growth * figures;
        let mut scaled = shown.growth.clone();
        for (column, variance) in freedom.figures.iter().enumerate() {
            scaled.column_mut(column).scale_mut(*variance);
        }
        let mut spread = &scaled * shown.growth.transpose();
        for (row, variance) in freedom.readings.iter().enumerate() {
            spread[(row, row)] += variance;
        }
        let lower = Cholesky::new(spread)?;
        let factor = lower.l();
        Some(Self {
            whitened: factor.solve_lower_triangular(&shown.growth)?,
            told: factor.solve_lower_triangular(&told)?,
            lower,
        })
    }

    /// The most likely figures.
    pub fn figures(&self, freedom: &Freedom) -> DVector<f64> {
        let mut figures = self.whitened.tr_mul(&self.told);
        figures.component_mul_assign(&freedom.figures);
        figures
    }

    /// What the readings alone say of one figure, whatever sound vehicles have: its value and its
    /// variance, in spreads. `None` where they say nothing.
    pub fn alone(&self, figure: usize, freedom: &Freedom) -> Option<(f64, f64)> {
        const NOTHING: f64 = 1e-9;
        let column = self.whitened.column(figure);
        let knowledge = column.norm_squared();
        let free = freedom.figures[figure];
        let known = knowledge * free > NOTHING;
        known.then(|| {
            let value = column.dot(&self.told) / knowledge;
            (value, (1.0 / knowledge - free).max(0.0))
        })
    }

    /// By how much the sum of squares falls when some figures are set free.
    pub fn gain_of_figures(&self, figures: &[usize]) -> f64 {
        const HAIR: f64 = 1e-9;
        let columns = self.whitened.select_columns(figures);
        let told = columns.tr_mul(&self.told);
        let mut knowledge = columns.tr_mul(&columns);
        for at in 0..figures.len() {
            knowledge[(at, at)] += HAIR;
        }
        let solved = Cholesky::new(knowledge).map(|lower| lower.solve(&told));
        solved.map_or(0.0, |solved| told.dot(&solved))
    }

    /// By how much the sum of squares falls when each reading is given up.
    pub fn gains_of_readings(&self) -> Vec<f64> {
        let count = self.told.len();
        let inverse = self.lower.inverse();
        let weighted = self.lower.l().tr_solve_lower_triangular(&self.told);
        let Some(weighted) = weighted else {
            return vec![0.0; count];
        };
        let gain = |at: usize| weighted[at] * weighted[at] / inverse[(at, at)];
        (0..count).map(gain).collect()
    }
}
