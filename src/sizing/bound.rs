//! A lower bound on the price: limits become prices (Lagrangian relaxation).
//!
//! Whoever passes a budget pays for it at a rate; for any rates, each lead's cheapest option then
//! gives a sum that no allowed choice can undercut. The rates that give the largest such sum are
//! climbed to by the subgradient method with Polyak's steps.

use std::ops::Range;

use super::domains::{self, Passable};
use super::problem::{Choice, Limit, Problem, spread};

/// Options of each lead that are still to be had.
pub type Domains = Vec<Vec<bool>>;

/// A lower bound with the rates that give it.
#[derive(Debug, Clone)]
pub struct Bound {
    /// No allowed choice ranks below this.
    pub value: f64,
    /// The rank of every option with what it pays.
    pub reduced: Vec<Vec<f64>>,
    /// The rate of every limit, for one of its sum.
    pub rates: Vec<f64>,
}

/// Rounds without gain after which steps are halved.
const PATIENCE: usize = 8;

/// Climbs to a bound, from given rates and for so many rounds; `target` is the rank of a known
/// choice, infinite without one. A bound at the target is as good as any higher.
pub fn climb(
    problem: &Problem,
    (passable, domains): (&Passable, &Domains),
    target: f64,
    (mut rates, rounds): (Vec<f64>, usize),
) -> Bound {
    rates.resize(problem.limits.len(), 0.0);
    let mut slope = Slope::of(problem, passable, domains);
    let mut own = slope.rates(&rates);
    let mut best = (f64::NEG_INFINITY, own.clone());
    let (mut step, mut idle) = (1.0, 0);
    for _ in 0..rounds {
        let value = slope.look(&own);
        if value > best.0 + 1e-9 {
            best = (value, own.clone());
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
        let excess = &slope.excess;
        let length: f64 = excess
            .iter()
            .zip(&own)
            .filter(|(excess, rate)| **excess > 0.0 || **rate > 0.0)
            .map(|(excess, _)| excess * excess)
            .sum();
        if length < 1e-18 || step < 1e-4 {
            break;
        }
        let goal = if target.is_finite() {
            target
        } else {
            best.0 + 0.05 * best.0.abs() + 1.0
        };
        let stride = step * (goal - value).max(1e-9) / length;
        for (rate, excess) in own.iter_mut().zip(excess) {
            *rate = (*rate + stride * excess).max(0.0);
        }
    }
    slope.look(&best.1);
    Bound {
        value: best.0,
        reduced: slope.reduced(problem),
        rates: slope.all_rates(&best.1, problem),
    }
}

/// What is left to climb: leads with more than one option still to be had, and limits that these
/// can pass.
struct Slope {
    leads: Vec<OpenLead>,
    /// The rank of every open option, lead after lead.
    ranks: Vec<f64>,
    limits: Vec<OpenLimit>,
    /// The terms of all limits, limit after limit.
    terms: Vec<Term>,
    /// What open options add to the limits, term after term. The figures lie side by side because a
    /// climb runs through them again and again.
    adds: Vec<f64>,
    /// What leads with one option rank together.
    fixed: f64,
    /// The ranks with what they pay at the rates last looked at.
    paying: Vec<f64>,
    /// Position of each lead's cheapest option in `ranks` at these rates.
    cheapest: Vec<usize>,
    /// How far each limit is passed by them.
    excess: Vec<f64>,
}

struct OpenLead {
    lead: usize,
    /// Where its options start in `ranks`.
    first: usize,
    options: Vec<usize>,
}

struct OpenLimit {
    /// Position in the problem.
    limit: usize,
    /// Brings the sums to about one.
    scale: f64,
    /// What is left of the budget, so brought.
    most: f64,
    /// Its part of all terms.
    terms: Range<usize>,
}

/// What an open lead adds to a limit.
struct Term {
    /// Position among the open leads.
    lead: usize,
    /// Where the lead's options start in `ranks`.
    first: usize,
    /// The part of all figures that its options add.
    adds: Range<usize>,
}

impl Slope {
    fn of(problem: &Problem, passable: &Passable, domains: &Domains) -> Self {
        let mut slope = Self {
            leads: Vec::new(),
            ranks: Vec::new(),
            limits: Vec::new(),
            terms: Vec::new(),
            adds: Vec::new(),
            fixed: 0.0,
            paying: Vec::new(),
            cheapest: Vec::new(),
            excess: Vec::new(),
        };
        let mut position = vec![None; domains.len()];
        for (lead, domain) in domains.iter().enumerate() {
            let options: Vec<usize> = (0..domain.len()).filter(|option| domain[*option]).collect();
            let ranks = options
                .iter()
                .map(|option| problem.leads[lead][*option].rank());
            match options.len() {
                0 => {}
                1 => slope.fixed += ranks.sum::<f64>(),
                _ => {
                    position[lead] = Some(slope.leads.len());
                    let first = slope.ranks.len();
                    slope.ranks.extend(ranks);
                    slope.leads.push(OpenLead {
                        lead,
                        first,
                        options,
                    });
                }
            }
        }
        for (index, limit) in passable.of(problem) {
            if domains::can_pass(limit, domains) {
                slope.open_limit(index, limit, (domains, &position));
            }
        }
        slope.paying = slope.ranks.clone();
        slope.cheapest = vec![0; slope.leads.len()];
        slope.excess = vec![0.0; slope.limits.len()];
        slope
    }

    /// Takes in a limit as far as open leads decide it.
    fn open_limit(
        &mut self,
        index: usize,
        limit: &Limit,
        (domains, position): (&Domains, &[Option<usize>]),
    ) {
        let (first_term, first_add) = (self.terms.len(), self.adds.len());
        let mut most = limit.most;
        let mut width = 0.0;
        for (lead, adds) in &limit.terms {
            if let Some(position) = position[*lead] {
                let open = &self.leads[position];
                let start = self.adds.len();
                self.adds
                    .extend(open.options.iter().map(|option| adds[*option]));
                width += spread(&self.adds[start..]);
                self.terms.push(Term {
                    lead: position,
                    first: open.first,
                    adds: start..self.adds.len(),
                });
            } else {
                most -= domains::least(adds, &domains[*lead]);
            }
        }
        let scale = 1.0 / f64::max(width, 1e-12);
        self.adds[first_add..]
            .iter_mut()
            .for_each(|add| *add *= scale);
        self.limits.push(OpenLimit {
            limit: index,
            most: most * scale,
            scale,
            terms: first_term..self.terms.len(),
        });
    }

    /// The bound that rates give.
    fn look(&mut self, rates: &[f64]) -> f64 {
        self.paying.copy_from_slice(&self.ranks);
        for (limit, rate) in self.limits.iter().zip(rates) {
            if *rate > 0.0 {
                for term in &self.terms[limit.terms.clone()] {
                    let adds = &self.adds[term.adds.clone()];
                    let paying = &mut self.paying[term.first..][..adds.len()];
                    for (rank, add) in paying.iter_mut().zip(adds) {
                        *rank += rate * add;
                    }
                }
            }
        }
        let mut sum = self.fixed;
        for (lead, cheapest) in self.leads.iter().zip(&mut self.cheapest) {
            let mut best = lead.first;
            for option in lead.first..lead.first + lead.options.len() {
                if self.paying[option] < self.paying[best] {
                    best = option;
                }
            }
            *cheapest = best - lead.first;
            sum += self.paying[best];
        }
        for ((limit, rate), excess) in self.limits.iter().zip(rates).zip(&mut self.excess) {
            let terms = self.terms[limit.terms.clone()].iter();
            let counted = terms.map(|term| self.adds[term.adds.start + self.cheapest[term.lead]]);
            *excess = counted.sum::<f64>() - limit.most;
            sum -= rate * limit.most;
        }
        sum
    }

    /// The rates of the limits that are left, of those of all.
    fn rates(&self, all: &[f64]) -> Vec<f64> {
        let limits = self.limits.iter();
        limits.map(|limit| all[limit.limit] / limit.scale).collect()
    }

    /// The rates of all limits; nothing for those that cannot be passed.
    fn all_rates(&self, own: &[f64], problem: &Problem) -> Vec<f64> {
        let mut all = vec![0.0; problem.limits.len()];
        for (limit, rate) in self.limits.iter().zip(own) {
            all[limit.limit] = rate * limit.scale;
        }
        all
    }

    /// The rank of every open option with what it pays.
    fn reduced(&self, problem: &Problem) -> Vec<Vec<f64>> {
        let leads = problem.leads.iter();
        let mut reduced: Vec<Vec<f64>> = leads
            .map(|options| options.iter().map(Choice::rank).collect())
            .collect();
        for lead in &self.leads {
            for (position, option) in lead.options.iter().enumerate() {
                reduced[lead.lead][*option] = self.paying[lead.first + position];
            }
        }
        reduced
    }
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
