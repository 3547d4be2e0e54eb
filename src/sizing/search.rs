//! Branch and bound: the cheapest choice that a judge accepts, with proof.
//!
//! The problem's limits are a relaxation: they let every truly allowed choice pass, and perhaps
//! others. A full choice that keeps them is put before the judge; what the judge turns down it
//! turns down with reasons, which forbid more than the one choice.

use super::bound::{Bound, Domains, cheapest, climb};
use super::domains::{self, Passable};
use super::mend::mend;
use super::problem::{Forbidden, Limit, Pair, Problem};

/// What a judge says of a full choice.
pub enum Judgement {
    /// It keeps every limit.
    Good,
    /// It does not, nor does whatever else is forbidden; further limits tell more.
    Bad(Vec<Forbidden>, Vec<Limit>),
}

/// How much work the search may do.
#[derive(Debug, Clone, Copy)]
pub struct Work {
    /// Partial choices looked at.
    pub nodes: usize,
    /// Full choices put before the judge.
    pub judged: usize,
}

impl Work {
    /// Half as much.
    pub fn halved(self) -> Self {
        Self {
            nodes: self.nodes / 2,
            judged: self.judged / 2,
        }
    }
}

/// Outcome of a search.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// The best choice, if any was accepted.
    pub at: Option<Vec<usize>>,
    /// No accepted choice ranks below this.
    pub bound: f64,
    /// Whether the choice is proved the best.
    pub proved: bool,
}

/// Ranks closer than this count as equal.
const EQUAL: f64 = 1e-9;

/// Rounds of climbing at the start, and after each split.
const FIRST_ROUNDS: usize = 200;
const LATER_ROUNDS: usize = 24;

/// Searches for the best choice; `known` is one that the judge has accepted.
pub fn search(
    problem: Problem,
    known: Option<Vec<usize>>,
    work: Work,
    judge: &mut dyn FnMut(&[usize]) -> Judgement,
) -> Found {
    let domains = domains::all(&problem);
    let mut search = Search {
        best: known.map(|at| (problem.rank(&at), at)),
        mended: false,
        unsearched: f64::INFINITY,
        problem,
        work,
        judge,
    };
    let changed = vec![true; domains.len()];
    let start = (Vec::new(), FIRST_ROUNDS);
    search.branch((Passable::default(), domains), changed, start);
    search.found()
}

/// The options that a choice better than a known one may hold.
pub struct WorthSearching(Domains);

impl WorthSearching {
    /// What is left of a list of options for each lead.
    pub fn of<T: Copy>(&self, options: &[Vec<T>]) -> Vec<Vec<T>> {
        let leads = options.iter().zip(&self.0);
        leads
            .map(|(options, domain)| {
                let open = options.iter().zip(domain).filter(|(_, open)| **open);
                open.map(|(option, _)| *option).collect()
            })
            .collect()
    }
}

/// Strikes out what cannot better a known choice; what the choice itself holds stays.
pub fn worth_searching(problem: &Problem, known: &[usize]) -> WorthSearching {
    let mut domains = domains::all(problem);
    let goal = problem.rank(known) - EQUAL;
    let mut start = (Vec::new(), FIRST_ROUNDS);
    let mut changed = vec![true; domains.len()];
    let mut passable = Passable::default();
    while domains::narrow(problem, &mut passable, &mut domains, changed) {
        let bound = climb(problem, (&passable, &domains), goal, start);
        changed = strike_dear(&mut domains, &bound, goal);
        if bound.value >= goal || !changed.contains(&true) {
            break;
        }
        start = (bound.rates, LATER_ROUNDS);
    }
    for (domain, option) in domains.iter_mut().zip(known) {
        domain[*option] = true;
    }
    WorthSearching(domains)
}

struct Search<'j> {
    problem: Problem,
    best: Option<(f64, Vec<usize>)>,
    work: Work,
    /// Whether the cheapest choice was mended once.
    mended: bool,
    /// The lowest bound of what was left unsearched.
    unsearched: f64,
    judge: &'j mut dyn FnMut(&[usize]) -> Judgement,
}

impl Search<'_> {
    /// Below this a choice is worth finding.
    fn goal(&self) -> f64 {
        let best = self.best.as_ref();
        best.map_or(f64::INFINITY, |(rank, _)| *rank) - EQUAL
    }

    /// Searches the choices that some domains leave, climbing from rates for so many rounds;
    /// `changed` are the leads that lost options.
    fn branch(
        &mut self,
        (mut passable, mut domains): (Passable, Domains),
        mut changed: Vec<bool>,
        mut start: (Vec<f64>, usize),
    ) {
        loop {
            if !domains::narrow(&self.problem, &mut passable, &mut domains, changed) {
                return;
            }
            let open = (&passable, &domains);
            let bound = climb(&self.problem, open, self.goal(), start);
            if bound.value >= self.goal() {
                return;
            }
            if self.work.nodes == 0 || self.work.judged == 0 {
                self.unsearched = self.unsearched.min(bound.value);
                return;
            }
            self.work.nodes -= 1;
            changed = strike_dear(&mut domains, &bound, self.goal());
            if changed.contains(&true) {
                start = (bound.rates, LATER_ROUNDS);
                continue;
            }
            let at = cheapest(&bound.reduced, &domains);
            if self.betters_by_mending(&domains, &bound, &at) {
                changed.fill(true);
                start = (bound.rates, LATER_ROUNDS);
                continue;
            }
            match self.split(&domains, &bound, &at) {
                Some((lead, first, second)) => {
                    changed[lead] = true;
                    let rates = bound.rates.clone();
                    let first = (passable.clone(), first);
                    self.branch(first, changed.clone(), (rates, LATER_ROUNDS));
                    self.branch((passable, second), changed, (bound.rates, LATER_ROUNDS));
                    return;
                }
                // Nothing is left to split: the choice itself is put before the judge.
                None => {
                    if !self.settle(&at) {
                        return;
                    }
                    changed.fill(true);
                    start = (bound.rates, LATER_ROUNDS);
                }
            }
        }
    }

    /// Puts a choice mended from the cheapest before the judge, once, and as long as none was
    /// accepted; whether it is the best now.
    fn betters_by_mending(&mut self, domains: &Domains, bound: &Bound, at: &[usize]) -> bool {
        if self.mended && self.best.is_some() {
            return false;
        }
        self.mended = true;
        let goal = self.goal();
        if let Some(mended) = mend(&self.problem, domains, &bound.reduced, at.to_vec()) {
            self.settle(&mended);
        }
        self.goal() < goal
    }

    /// Puts a choice before the judge; whether what it said leaves the domains to be looked at
    /// again.
    fn settle(&mut self, at: &[usize]) -> bool {
        let rank = self.problem.rank(at);
        if rank >= self.goal() || !self.problem.allows(at) {
            return false;
        }
        self.work.judged -= 1;
        match (self.judge)(at) {
            Judgement::Good => {
                self.best = Some((rank, at.to_vec()));
                false
            }
            Judgement::Bad(reasons, limits) => {
                self.problem.limits.extend(limits);
                self.problem.forbidden.extend(reasons);
                self.problem
                    .forbidden
                    .last()
                    .is_some_and(|last| last.forbids(at))
            }
        }
    }

    /// Two parts of the domains that together hold every choice, the more hopeful first; `None`
    /// where the choice at hand is the best that the domains hold.
    fn split(&mut self, domains: &Domains, bound: &Bound, at: &[usize]) -> Option<Split> {
        let problem = &self.problem;
        let by_pair = problem
            .pairs
            .iter()
            .find(|pair| !pair.holds(at[pair.asks], at[pair.allows]))
            .and_then(|pair| split_pair(pair, domains, at));
        if by_pair.is_some() {
            return by_pair;
        }
        let passed = |limit: &&Limit| !limit.keeps(limit.sum(at));
        let excess = |limit: &Limit| (limit.sum(at) - limit.most) / limit.most.abs().max(1e-9);
        let worst = problem
            .limits
            .iter()
            .filter(passed)
            .max_by(|a, b| excess(a).total_cmp(&excess(b)));
        if let Some(split) = worst.and_then(|limit| split_limit(limit, domains, at)) {
            return Some(split);
        }
        if problem.allows(at) && problem.rank(at) <= bound.value + EQUAL {
            return None;
        }
        if self.problem.allows(at) && self.problem.rank(at) < self.goal() {
            self.settle(at);
        }
        split_closest(domains, bound, at)
    }

    fn found(self) -> Found {
        let rank = self.best.as_ref().map_or(f64::INFINITY, |(rank, _)| *rank);
        Found {
            proved: self.unsearched >= rank - EQUAL,
            bound: rank.min(self.unsearched),
            at: self.best.map(|(_, at)| at),
        }
    }
}

/// Strikes out options that alone lift the bound to the goal; tells which leads had any.
fn strike_dear(domains: &mut Domains, bound: &Bound, goal: f64) -> Vec<bool> {
    let mut struck = vec![false; domains.len()];
    for (lead, (domain, ranks)) in domains.iter_mut().zip(&bound.reduced).enumerate() {
        let floor = domains::least(ranks, domain);
        for (open, rank) in domain.iter_mut().zip(ranks) {
            if *open && bound.value + rank - floor >= goal {
                *open = false;
                struck[lead] = true;
            }
        }
    }
    struck
}

/// A lead, and the domains with its options parted in two.
type Split = (usize, Domains, Domains);

/// Domains with one lead's options parted in two; `None` where one part would be empty.
fn part(domains: &Domains, lead: usize, first: impl Fn(usize) -> bool) -> Option<Split> {
    let (mut one, mut other) = (domains.clone(), domains.clone());
    for option in 0..domains[lead].len() {
        let is_first = first(option);
        one[lead][option] &= is_first;
        other[lead][option] &= !is_first;
    }
    (one[lead].contains(&true) && other[lead].contains(&true)).then_some((lead, one, other))
}

/// The asking lead asks no more than is allowed now, or the allowing lead must allow more.
fn split_pair(pair: &Pair, domains: &Domains, at: &[usize]) -> Option<Split> {
    let allowing = at[pair.allows];
    part(domains, pair.asks, |option| !pair.holds(option, allowing)).or_else(|| {
        part(domains, pair.allows, |option| {
            pair.holds(at[pair.asks], option)
        })
    })
}

/// The lead that adds most beyond its least adds less, or all the others must.
fn split_limit(limit: &Limit, domains: &Domains, at: &[usize]) -> Option<Split> {
    let spare =
        |(lead, adds): &(usize, Vec<f64>)| adds[at[*lead]] - domains::least(adds, &domains[*lead]);
    let widest = limit
        .terms
        .iter()
        .max_by(|a, b| spare(a).total_cmp(&spare(b)));
    let (lead, adds) = widest?;
    let now = adds[at[*lead]];
    part(domains, *lead, |option| adds[option] < now)
}

/// The lead whose next option comes closest takes its best one, or another.
fn split_closest(domains: &Domains, bound: &Bound, at: &[usize]) -> Option<Split> {
    let regret = |lead: usize| {
        let others = (0..domains[lead].len())
            .filter(|option| domains[lead][*option] && *option != at[lead])
            .map(|option| bound.reduced[lead][option]);
        others.fold(f64::INFINITY, f64::min) - bound.reduced[lead][at[lead]]
    };
    let lead = (0..at.len()).min_by(|a, b| regret(*a).total_cmp(&regret(*b)))?;
    part(domains, lead, |option| option == at[lead])
}
