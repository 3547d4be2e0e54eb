//! The best kit: branch and bound over the items, with the bound by prices.

use super::bound::{Bound, Prices, Scaled, Settled, State};
use super::problem::{Burden, Problem, Worth};

/// Figures that the search may look at before it ends without a proof. Counted, not timed, so that
/// the same job gives the same kit on every machine.
pub const WORK: u64 = 60_000_000;

/// Steps towards the least bound at the start, and at each branch.
const FIRST_STEPS: u32 = 400;
const BRANCH_STEPS: u32 = 30;

/// Doubt of the bound's sums: some thousand roundings of one part in 2^53.
const ROUNDING: f64 = 1e-11;

/// A kit and how good it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Choice {
    /// Whether each item is taken.
    pub taken: Vec<bool>,
    /// Weight of what the kit mends.
    pub weight: u64,
    /// No kit within the limits mends more than this.
    pub bound: u64,
    /// Whether no kit is better: none mends more, none that mends as much is cheaper, and none of
    /// these lighter.
    pub proved: bool,
}

/// Finds the best kit; the best that so much work finds where `work` does not do for a proof.
pub fn solve(problem: &Problem, work: u64) -> Choice {
    let reduced = problem.reduced();
    let scaled = Scaled::of(&reduced);
    let mut search = Search {
        problem: &reduced,
        scaled: &scaled,
        work,
        best: vec![false; reduced.items.len()],
        best_worth: (0, std::cmp::Reverse(u64::MAX), std::cmp::Reverse(u64::MAX)),
    };
    let bound = search.run();
    let weight = problem.weight(&search.best);
    Choice {
        weight,
        bound: bound.unwrap_or(weight).max(weight),
        proved: bound.is_none(),
        taken: search.best,
    }
}

struct Search<'a> {
    problem: &'a Problem,
    scaled: &'a Scaled<'a>,
    work: u64,
    best: Vec<bool>,
    best_worth: Worth,
}

/// A choice not yet looked into.
struct Node {
    state: State,
    prices: Prices,
    bound: f64,
}

impl Search<'_> {
    /// The largest weight that was not ruled out, where the work did not do.
    fn run(&mut self) -> Option<u64> {
        let mut state = State {
            items: vec![Settled::Open; self.problem.items.len()],
            needed: vec![false; self.problem.wants.len()],
        };
        for item in &self.problem.must {
            state.items[*item] = Settled::In;
        }
        self.settle_idle(&mut state.items);
        self.complete(&state.items);
        let mut open = vec![Node {
            state,
            prices: self.scaled.first_prices(),
            bound: f64::INFINITY,
        }];
        let mut steps = FIRST_STEPS;
        while let Some(node) = open.pop() {
            if self.work == 0 {
                open.push(node);
                return Some(self.not_ruled_out(&open));
            }
            if !self.is_beaten(node.bound) {
                self.branch(node, steps, &mut open);
                steps = BRANCH_STEPS;
            }
        }
        None
    }

    fn not_ruled_out(&self, open: &[Node]) -> u64 {
        let largest = open.iter().map(|node| node.bound).fold(0.0, f64::max);
        let all: u64 = self.problem.wants.iter().map(|want| want.weight).sum();
        // What an item costs is part of the figure, and is less than one weight in all.
        ((largest * (1.0 + ROUNDING)).ceil() as u64).min(all)
    }

    fn is_beaten(&self, bound: f64) -> bool {
        bound * (1.0 + ROUNDING) < self.scaled.worth(&self.best)
    }

    /// Items that no want has a use for are left.
    fn settle_idle(&self, settled: &mut [Settled]) {
        for (item, settled) in settled.iter_mut().enumerate() {
            let mut wants = self.problem.wants.iter();
            let used = wants.any(|want| want.ways.iter().any(|way| way.contains(&item)));
            if *settled == Settled::Open && !used {
                *settled = Settled::Out;
            }
        }
    }

    fn branch(&mut self, node: Node, steps: u32, open: &mut Vec<Node>) {
        let mut state = node.state;
        if !self.follow(&mut state) {
            return;
        }
        let enough = self.scaled.worth(&self.best);
        let found = self.scaled.bound(&state, node.prices, steps, enough);
        let looked_at = self.scaled.size() * u64::from(steps);
        self.work = self.work.saturating_sub(looked_at);
        if self.is_beaten(found.value) {
            return;
        }
        self.settle_by_bound(&mut state, &found);
        if !self.follow(&mut state) {
            return;
        }
        self.complete(&state.items);
        let Some(item) = self.next_item(&state.items, &found.taken) else {
            return;
        };
        for choice in [Settled::Out, Settled::In] {
            let mut state = state.clone();
            state.items[item] = choice;
            open.push(Node {
                state,
                prices: found.prices.clone(),
                bound: found.value,
            });
        }
    }

    /// Settles what the bound forbids otherwise.
    fn settle_by_bound(&self, state: &mut State, found: &Bound) {
        for (needed, left) in state.needed.iter_mut().zip(&found.left) {
            *needed |= *left > 0.0 && self.is_beaten(found.value - left);
        }
        for (settled, gain) in state.items.iter_mut().zip(&found.gains) {
            if *settled == Settled::Open && self.is_beaten(found.value - gain.abs()) {
                *settled = if *gain > 0.0 {
                    Settled::In
                } else {
                    Settled::Out
                };
            }
        }
    }

    /// Settles what follows from what is settled; `false` where no better kit is left.
    fn follow(&self, state: &mut State) -> bool {
        loop {
            if !self.leave_what_does_not_fit(&mut state.items) {
                return false;
            }
            let before = state.items.clone();
            for (want, needed) in self.problem.wants.iter().zip(&state.needed) {
                let mut ways = want
                    .ways
                    .iter()
                    .filter(|way| way.iter().all(|item| state.items[*item] != Settled::Out));
                match (needed, ways.next(), ways.next()) {
                    (true, None, _) => return false,
                    (true, Some(way), None) => {
                        for item in way {
                            state.items[*item] = Settled::In;
                        }
                    }
                    _ => {}
                }
            }
            if state.items == before {
                return true;
            }
        }
    }

    /// Settles items that no longer fit; `false` where what is taken does not fit by itself.
    fn leave_what_does_not_fit(&self, settled: &mut [Settled]) -> bool {
        let held = self.held(settled);
        if !held.within(self.problem.limits) {
            return false;
        }
        for (settled, item) in settled.iter_mut().zip(&self.problem.items) {
            if *settled == Settled::Open && !held.plus(*item).within(self.problem.limits) {
                *settled = Settled::Out;
            }
        }
        true
    }

    fn held(&self, settled: &[Settled]) -> Burden {
        let items = self.problem.items.iter().zip(settled);
        let held = items.filter(|(_, settled)| **settled == Settled::In);
        held.map(|(item, _)| *item).sum()
    }

    /// Fills a kit up, the most weight for what it takes first, and keeps it where it is the best.
    fn complete(&mut self, settled: &[Settled]) {
        let mut taken: Vec<bool> = settled.iter().map(|one| *one == Settled::In).collect();
        self.keep(&taken);
        loop {
            let held = self.problem.burden(&taken);
            let wants = self.problem.wants.iter();
            let wants = wants.filter(|want| !want.met_by(&taken));
            let ways = wants.flat_map(|want| want.ways.iter().map(|way| (want.weight, way)));
            let fitting = ways.filter_map(|(weight, way)| {
                let part = self.part(way, settled, &taken, held)?;
                Some((weight as f64 / (part + 1e-9), way))
            });
            let best = fitting.max_by(|a, b| a.0.total_cmp(&b.0));
            let Some((_, way)) = best else { break };
            for item in way {
                taken[*item] = true;
            }
        }
        self.keep(&taken);
    }

    /// Part of the limits that a way would take more; nothing where it does not fit.
    fn part(
        &self,
        way: &[usize],
        settled: &[Settled],
        taken: &[bool],
        held: Burden,
    ) -> Option<f64> {
        if way.iter().any(|item| settled[*item] == Settled::Out) {
            return None;
        }
        let missing = way.iter().filter(|item| !taken[**item]);
        let more: Burden = missing.map(|item| self.problem.items[*item]).sum();
        let limits = self.problem.limits;
        let parts = more.figures().into_iter().zip(limits.figures());
        let parts = parts.map(|(more, limit)| more as f64 / limit.max(1) as f64);
        held.plus(more).within(limits).then(|| parts.sum())
    }

    fn keep(&mut self, taken: &[bool]) {
        let worth = self.problem.worth(taken);
        if worth > self.best_worth && self.problem.burden(taken).within(self.problem.limits) {
            self.best_worth = worth;
            self.best = taken.to_vec();
        }
    }

    /// The open item that is most in doubt, of those that some want still waits for.
    fn next_item(&self, settled: &[Settled], taken: &[f64]) -> Option<usize> {
        let held: Vec<bool> = settled.iter().map(|one| *one == Settled::In).collect();
        let waiting = self.problem.wants.iter().filter(|want| !want.met_by(&held));
        let ways = waiting.flat_map(|want| &want.ways);
        let ways = ways.filter(|way| way.iter().all(|item| settled[*item] != Settled::Out));
        let mut items: Vec<usize> = ways.flatten().copied().collect();
        items.sort_unstable();
        items.dedup();
        let open = items
            .into_iter()
            .filter(|item| settled[*item] == Settled::Open);
        let doubt = |item: &usize| {
            let often = taken.get(*item).copied().unwrap_or(0.0);
            often.min(1.0 - often)
        };
        open.max_by(|a, b| doubt(a).total_cmp(&doubt(b)).then(b.cmp(a)))
    }
}
