//! A good choice in a hurry: what breaks limits is mended step by step, and then lowered again.
//!
//! Search proves; on many leads it finds its first answer late and its good ones never. Starting
//! from what the rates of the bound call cheapest, the step that mends most for its price is taken
//! until nothing is broken, and then every lead the cheapest option that breaks nothing.

use super::bound::Domains;
use super::problem::{Pair, Problem};

/// Steps for each lead, after which mending is given up.
const MOST_STEPS: usize = 6;
/// Part by which one step must be worth more than another; less is rounding alone.
const ROUNDING: f64 = 1e-9;
/// Rounds of lowering.
const MOST_ROUNDS: usize = 4;

/// A choice near `at` that keeps every limit, pair and ban; `None` where no way to one is found.
/// `reduced` is what each option costs with what it pays at the rates of a bound.
pub fn mend(
    problem: &Problem,
    domains: &Domains,
    reduced: &[Vec<f64>],
    at: Vec<usize>,
) -> Option<Vec<usize>> {
    let mut mending = Mending::of(problem, domains, at);
    for _ in 0..MOST_STEPS * domains.len().max(1) {
        if mending.harm() <= 0.0 {
            mending.lower();
            return problem.allows(&mending.at).then_some(mending.at);
        }
        let (lead, option) = mending.best_step(reduced)?;
        mending.take(lead, option);
    }
    None
}

struct Mending<'p> {
    problem: &'p Problem,
    domains: &'p Domains,
    at: Vec<usize>,
    /// The sum of each limit.
    sums: Vec<f64>,
    /// What brings the sum of each limit to about one.
    scales: Vec<f64>,
    /// Limits that each lead adds to, each with the place of its term.
    limits_of: Vec<Vec<(usize, usize)>>,
    pairs_of: Vec<Vec<usize>>,
    bans_of: Vec<Vec<usize>>,
}

impl<'p> Mending<'p> {
    fn of(problem: &'p Problem, domains: &'p Domains, at: Vec<usize>) -> Self {
        let leads = domains.len();
        let mut mending = Self {
            sums: problem.limits.iter().map(|limit| limit.sum(&at)).collect(),
            scales: Vec::with_capacity(problem.limits.len()),
            limits_of: vec![Vec::new(); leads],
            pairs_of: vec![Vec::new(); leads],
            bans_of: vec![Vec::new(); leads],
            problem,
            domains,
            at,
        };
        for (index, limit) in problem.limits.iter().enumerate() {
            let mut widest = 0.0_f64;
            for (term, (lead, adds)) in limit.terms.iter().enumerate() {
                mending.limits_of[*lead].push((index, term));
                widest = widest.max(super::problem::spread(adds));
            }
            mending.scales.push(1.0 / widest.max(1e-12));
        }
        for (index, pair) in problem.pairs.iter().enumerate() {
            mending.pairs_of[pair.asks].push(index);
            if pair.allows != pair.asks {
                mending.pairs_of[pair.allows].push(index);
            }
        }
        for (index, ban) in problem.forbidden.iter().enumerate() {
            for (lead, _) in &ban.options {
                mending.bans_of[*lead].push(index);
            }
        }
        mending
    }

    /// How far a limit is passed by a sum, about one for a whole size too thin.
    fn excess(&self, limit: usize, sum: f64) -> f64 {
        let budget = &self.problem.limits[limit];
        if budget.keeps(sum) {
            0.0
        } else {
            (sum - budget.most) * self.scales[limit]
        }
    }

    /// How badly two options do not go together.
    fn clash(pair: &Pair, asking: usize, allowing: usize) -> f64 {
        if pair.holds(asking, allowing) {
            0.0
        } else {
            let ratio = pair.asked[asking] / pair.allowed[allowing].max(1e-12);
            ratio.ln().clamp(0.01, 3.0)
        }
    }

    /// All that is broken.
    fn harm(&self) -> f64 {
        let sums = self.sums.iter().enumerate();
        let limits: f64 = sums.map(|(limit, sum)| self.excess(limit, *sum)).sum();
        let pairs = self.problem.pairs.iter();
        let pairs: f64 = pairs
            .map(|pair| Self::clash(pair, self.at[pair.asks], self.at[pair.allows]))
            .sum();
        let bans = self.problem.forbidden.iter();
        limits + pairs + bans.filter(|ban| ban.forbids(&self.at)).count() as f64
    }

    /// What is broken of all that a lead takes part in, were its option another.
    fn harm_of(&self, lead: usize, option: usize) -> f64 {
        let now = self.at[lead];
        let limits = self.limits_of[lead].iter().map(|(limit, term)| {
            let adds = &self.problem.limits[*limit].terms[*term].1;
            self.excess(*limit, self.sums[*limit] - adds[now] + adds[option])
        });
        let at = |other: usize| {
            if other == lead {
                option
            } else {
                self.at[other]
            }
        };
        let pairs = self.pairs_of[lead].iter().map(|pair| {
            let pair = &self.problem.pairs[*pair];
            Self::clash(pair, at(pair.asks), at(pair.allows))
        });
        let banned = |ban: &&usize| {
            let mut parts = self.problem.forbidden[**ban].options.iter();
            parts.all(|(other, part)| part[at(*other)])
        };
        let bans = self.bans_of[lead].iter().filter(banned).count();
        limits.sum::<f64>() + pairs.sum::<f64>() + bans as f64
    }

    /// The step that mends most for its price.
    fn best_step(&self, reduced: &[Vec<f64>]) -> Option<(usize, usize)> {
        let mut best: Option<(f64, (usize, usize))> = None;
        for lead in self.leads().filter(|lead| self.is_harmed(*lead)) {
            let (now, harm) = (self.at[lead], self.harm_of(lead, self.at[lead]));
            for option in self.open(lead).filter(|option| *option != now) {
                let mended = harm - self.harm_of(lead, option);
                if mended <= 1e-9 {
                    continue;
                }
                let price = reduced[lead][option] - reduced[lead][now];
                let worth = mended / price.max(1e-3);
                if best.is_none_or(|(known, _)| worth > known * (1.0 + ROUNDING)) {
                    best = Some((worth, (lead, option)));
                }
            }
        }
        best.map(|(_, step)| step)
    }

    /// The leads in the order that ties go by.
    fn leads(&self) -> impl Iterator<Item = usize> + use<'p> {
        self.problem.order.iter().copied()
    }

    fn is_harmed(&self, lead: usize) -> bool {
        self.harm_of(lead, self.at[lead]) > 0.0
    }

    fn open(&self, lead: usize) -> impl Iterator<Item = usize> + use<'p> {
        let domain = &self.domains[lead];
        (0..domain.len()).filter(|option| domain[*option])
    }

    fn take(&mut self, lead: usize, option: usize) {
        let now = std::mem::replace(&mut self.at[lead], option);
        for (limit, term) in &self.limits_of[lead] {
            let adds = &self.problem.limits[*limit].terms[*term].1;
            self.sums[*limit] += adds[option] - adds[now];
        }
    }

    /// Gives every lead the cheapest option that breaks nothing, those first that save most.
    fn lower(&mut self) {
        for _ in 0..MOST_ROUNDS {
            let saved = |lead: usize| {
                let (saved, _) = self.saving(lead)?;
                Some(((saved / ROUNDING).round(), lead))
            };
            let mut steps: Vec<(f64, usize)> = self.leads().filter_map(saved).collect();
            if steps.is_empty() {
                return;
            }
            // What saves alike stays in the order that ties go by.
            steps.sort_by(|a, b| b.0.total_cmp(&a.0));
            for (_, lead) in steps {
                // What was taken before may have used the room up.
                if let Some((_, option)) = self.saving(lead) {
                    self.take(lead, option);
                }
            }
        }
    }

    /// The most that another option of a lead saves without breaking anything.
    fn saving(&self, lead: usize) -> Option<(f64, usize)> {
        let ranks = &self.problem.leads[lead];
        let now = ranks[self.at[lead]].rank();
        let cheaper = self.open(lead).filter(|option| ranks[*option].rank() < now);
        let mut cheaper: Vec<usize> = cheaper.collect();
        cheaper.sort_by(|a, b| ranks[*a].rank().total_cmp(&ranks[*b].rank()));
        let sound = cheaper
            .into_iter()
            .find(|option| self.harm_of(lead, *option) <= 0.0)?;
        Some((now - ranks[sound].rank(), sound))
    }
}
