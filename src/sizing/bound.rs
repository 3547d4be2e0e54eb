//! A lower bound on the price: limits become prices (Lagrangian relaxation).
//!
//! Whoever passes a budget pays for it at a rate; for any rates, each lead's cheapest option then
//! gives a sum that no allowed choice can undercut. The rates that give the largest such sum are
//! climbed to by the subgradient method with Polyak's steps.

use super::problem::{Limit, Problem, spread};

/// Options of each lead that are still to be had.
pub type Domains = Vec<Vec<bool>>;

/// A lower bound with the rates that give it.
#[derive(Debug, Clone)]
pub struct Bound {
    /// No allowed choice ranks below this.
    pub value: f64,
    /// The rank of every option with what it pays.
    pub reduced: Vec<Vec<f64>>,
    /// The rate of every limit.
    pub rates: Vec<f64>,
}

/// Rounds without gain after which steps are halved.
const PATIENCE: usize = 8;

/// Climbs to a bound, from given rates and for so many rounds; `target` is the rank of a known
/// choice, infinite without one. A bound at the target is as good as any higher.
pub fn climb(
    problem: &Problem,
    domains: &Domains,
    target: f64,
    (mut rates, rounds): (Vec<f64>, usize),
) -> Bound {
    let scales: Vec<f64> = problem.limits.iter().map(scale).collect();
    rates.resize(problem.limits.len(), 0.0);
    let mut best = Bound {
        value: f64::NEG_INFINITY,
        reduced: Vec::new(),
        rates: rates.clone(),
    };
    let (mut step, mut idle) = (1.0, 0);
    for _ in 0..rounds {
        let reduced = reduced(problem, &rates, &scales);
        let cheapest = cheapest(&reduced, domains);
        let (value, excess) = value(problem, &reduced, &rates, &scales, &cheapest);
        if value > best.value + 1e-9 {
            best = Bound {
                value,
                reduced,
                rates: rates.clone(),
            };
            if value >= target {
                break;
            }
            idle = 0;
        } else {
            idle += 1;
            if idle >= PATIENCE {
                step /= 2.0;
                idle = 0;
            }
        }
        let length: f64 = excess
            .iter()
            .zip(&rates)
            .filter(|(excess, rate)| **excess > 0.0 || **rate > 0.0)
            .map(|(excess, _)| excess * excess)
            .sum();
        if length < 1e-18 || step < 1e-4 {
            break;
        }
        let goal = if target.is_finite() {
            target
        } else {
            best.value + 0.05 * best.value.abs() + 1.0
        };
        let stride = step * (goal - value).max(1e-9) / length;
        for (rate, excess) in rates.iter_mut().zip(&excess) {
            *rate = (*rate + stride * excess).max(0.0);
        }
    }
    best
}

/// Brings the sums of a limit to about one.
fn scale(limit: &Limit) -> f64 {
    let spread: f64 = limit.terms.iter().map(|(_, adds)| spread(adds)).sum();
    1.0 / spread.max(1e-12)
}

fn reduced(problem: &Problem, rates: &[f64], scales: &[f64]) -> Vec<Vec<f64>> {
    let mut reduced: Vec<Vec<f64>> = problem
        .leads
        .iter()
        .map(|options| options.iter().map(super::problem::Choice::rank).collect())
        .collect();
    for ((limit, rate), scale) in problem.limits.iter().zip(rates).zip(scales) {
        let rate = rate * scale;
        if rate > 0.0 {
            for (lead, adds) in &limit.terms {
                for (rank, add) in reduced[*lead].iter_mut().zip(adds) {
                    *rank += rate * add;
                }
            }
        }
    }
    reduced
}

/// The cheapest option of every lead.
pub fn cheapest(reduced: &[Vec<f64>], domains: &Domains) -> Vec<usize> {
    let leads = reduced.iter().zip(domains);
    leads
        .map(|(ranks, domain)| {
            let open = (0..ranks.len()).filter(|option| domain[*option]);
            let best = open.min_by(|a, b| ranks[*a].total_cmp(&ranks[*b]));
            best.unwrap_or(0)
        })
        .collect()
}

/// The bound that rates give, and how far each budget is passed.
fn value(
    problem: &Problem,
    reduced: &[Vec<f64>],
    rates: &[f64],
    scales: &[f64],
    at: &[usize],
) -> (f64, Vec<f64>) {
    let sum: f64 = reduced
        .iter()
        .zip(at)
        .map(|(ranks, option)| ranks[*option])
        .sum();
    let mut paid = 0.0;
    let mut excess = Vec::with_capacity(rates.len());
    for ((limit, rate), scale) in problem.limits.iter().zip(rates).zip(scales) {
        paid += rate * scale * limit.most;
        excess.push((limit.sum(at) - limit.most) * scale);
    }
    (sum - paid, excess)
}
