//! Joins the choices of all demands, demand by demand.
//!
//! A label is a beginning of an order. Of two, the one beside which the other does as well is
//! dropped, and so is one that cannot end below what was found or within what is allowed.

use super::choices::Choices;
use super::gap::Gap;
use super::price::SCALE;
use super::{Amount, Work};

/// Labels that a new one is held against.
const BESIDE: usize = 128;

/// A beginning: choices for the first demands.
#[derive(Debug, Clone)]
struct Label {
    /// What it costs.
    cost: Amount,
    /// What it spends with each supplier with whom something must be spent.
    spent: Vec<Amount>,
    /// Position of the label that it carries on, and of the choice that it adds.
    before: usize,
    choice: usize,
}

/// What joining gives.
#[derive(Debug)]
pub(super) struct Joined {
    /// Cost and packs of the cheapest order.
    pub found: Option<(Amount, Vec<Vec<u32>>)>,
    /// Whether no label was dropped for want of room or work.
    pub whole: bool,
}

/// Choices to be joined.
#[derive(Debug)]
pub(super) struct Join<'a> {
    gap: &'a Gap<'a>,
    lists: &'a [Choices],
    suppliers: &'a [usize],
    allowed: Amount,
    /// Least costs of the demands from each on, in parts of a unit, rebates taken off.
    to_come: Vec<Amount>,
    /// Most that the demands from each on can spend with each supplier.
    reach: Vec<Vec<Amount>>,
    /// Least that they spend in any case.
    sure: Vec<Vec<Amount>>,
}

impl<'a> Join<'a> {
    /// The choices that count at most `allowed` more than the cheapest.
    pub(super) fn new(
        gap: &'a Gap<'a>,
        lists: &'a [Choices],
        suppliers: &'a [usize],
        allowed: Amount,
    ) -> Self {
        let nothing = vec![0; suppliers.len()];
        let (mut to_come, mut reach, mut sure) = (vec![0], vec![nothing.clone()], vec![nothing]);
        for list in lists.iter().rev() {
            to_come.push(to_come.last().copied().unwrap_or(0) + list.least());
            let near = list.found.iter().filter(|choice| choice.more <= allowed);
            let of = |supplier: usize| near.clone().map(move |choice| choice.spent[supplier]);
            let all = 0..suppliers.len();
            let most = all.clone().map(|supplier| of(supplier).max().unwrap_or(0));
            let least = all.map(|supplier| of(supplier).min().unwrap_or(0));
            let (most, least) = (added(reach.last(), most), added(sure.last(), least));
            reach.push(most);
            sure.push(least);
        }
        to_come.reverse();
        reach.reverse();
        sure.reverse();
        Self {
            gap,
            lists,
            suppliers,
            allowed,
            to_come,
            reach,
            sure,
        }
    }

    /// The cheapest order that costs less than `below`, with at most so many labels after each
    /// demand; those that bid fairest are kept.
    pub(super) fn run(&self, below: Option<Amount>, most: usize, work: &mut Work) -> Joined {
        let mut whole = true;
        let mut stages = vec![vec![Label {
            cost: self.gap.charges,
            spent: vec![0; self.suppliers.len()],
            before: 0,
            choice: 0,
        }]];
        for position in 0..self.lists.len() {
            let labels = stages.last().map_or(&[][..], Vec::as_slice);
            let next = self.carried_on(labels, position, below, work);
            let mut next = self.thinned(next, position + 1, work);
            if next.len() > most {
                whole = false;
                next.sort_by_key(|label| self.least(label, position + 1));
                next.truncate(most);
                next.sort_by(by_cost);
            }
            stages.push(next);
        }
        let ends = stages.last().map_or(&[][..], Vec::as_slice);
        let ends = ends.iter().enumerate();
        let topped = ends.filter_map(|(end, label)| Some((self.topped(label)?, end)));
        let cheapest = topped.min();
        let cheapest = cheapest.filter(|(cost, _)| below.is_none_or(|below| *cost < below));
        Joined {
            found: cheapest.map(|(cost, end)| (cost, self.packs(&stages, end))),
            whole,
        }
    }

    /// Every label with every choice of the demand at `position`.
    fn carried_on(
        &self,
        labels: &[Label],
        position: usize,
        below: Option<Amount>,
        work: &mut Work,
    ) -> Vec<Label> {
        let choices = self.lists[position].found.iter().enumerate();
        let near = choices.filter(|(_, choice)| choice.more <= self.allowed);
        let mut next = Vec::new();
        for (before, label) in labels.iter().enumerate() {
            for (index, choice) in near.clone() {
                let spent = label.spent.iter().zip(&choice.spent);
                let joined = Label {
                    cost: label.cost + choice.cost,
                    spent: spent.map(|(a, b)| a + b).collect(),
                    before,
                    choice: index,
                };
                work.spend(u64::from(index % 4 == 0));
                if self.may_do(&joined, position + 1, below) {
                    next.push(joined);
                }
            }
        }
        next
    }

    /// Cost of an order with what is added to it; `None` where nothing can be.
    fn topped(&self, label: &Label) -> Option<Amount> {
        let mut cost = label.cost;
        for (supplier, spent) in self.suppliers.iter().zip(&label.spent) {
            cost += self
                .gap
                .cost_of_more(*supplier, self.gap.goals[*supplier] - spent)?;
        }
        Some(cost)
    }

    /// Whether a label can still become an order of use.
    fn may_do(&self, label: &Label, position: usize, below: Option<Amount>) -> bool {
        self.least(label, position).is_some_and(|least| {
            let within = least - self.gap.bound <= self.allowed;
            within && below.is_none_or(|below| least < below * SCALE)
        })
    }

    /// What an order that begins so costs at least, in parts of a unit; `None` where none can.
    fn least(&self, label: &Label, position: usize) -> Option<Amount> {
        let prices = self.gap.prices;
        let mut least = label.cost * SCALE + self.to_come[position];
        for (index, supplier) in self.suppliers.iter().enumerate() {
            let missing = (self.gap.goals[*supplier] - label.spent[index]).max(0);
            let beyond = (missing - self.reach[position][index]).max(0);
            if beyond > 0 && !self.gap.top_ups[*supplier].is_possible() {
                return None;
            }
            least += (missing - beyond) * prices.rebates[*supplier];
            least += beyond * prices.weights[*supplier] * SCALE;
        }
        Some(least)
    }

    /// Drops labels beside which others do as well.
    fn thinned(&self, mut labels: Vec<Label>, position: usize, work: &mut Work) -> Vec<Label> {
        for label in &mut labels {
            for (index, supplier) in self.suppliers.iter().enumerate() {
                // What is reached in any case need not be told apart.
                let enough = self.gap.goals[*supplier] - self.sure[position][index];
                label.spent[index] = label.spent[index].min(enough.max(0));
            }
        }
        labels.sort_by(by_cost);
        let mut kept: Vec<Label> = Vec::new();
        for label in labels {
            let matched = |other: &Label| {
                let (cost, spent) = (label.cost, &label.spent);
                self.gap
                    .does_as_well(self.suppliers, other.cost, &other.spent, cost, spent)
            };
            work.spend(kept.len().min(BESIDE) as u64 / 32);
            if !kept.iter().rev().take(BESIDE).any(matched) {
                kept.push(label);
            }
        }
        kept
    }

    fn packs(&self, stages: &[Vec<Label>], end: usize) -> Vec<Vec<u32>> {
        let mut packs = Vec::with_capacity(self.lists.len());
        let mut at = end;
        for (stage, list) in stages[1..].iter().zip(self.lists).rev() {
            let label = &stage[at];
            packs.push(list.found[label.choice].packs.clone());
            at = label.before;
        }
        packs.reverse();
        let spent = stages.last().map_or(&[][..], |stage| &stage[end].spent);
        for (supplier, spent) in self.suppliers.iter().zip(spent) {
            let top_up = &self.gap.top_ups[*supplier];
            let sum = top_up.sum(self.gap.goals[*supplier] - spent);
            for (demand, offer) in top_up.packs(sum.unwrap_or(0)) {
                packs[demand][offer] += 1;
            }
        }
        packs
    }
}

/// The cheapest first, of equals the one that spends most.
fn by_cost(a: &Label, b: &Label) -> std::cmp::Ordering {
    (a.cost, &b.spent).cmp(&(b.cost, &a.spent))
}

fn added(sums: Option<&Vec<Amount>>, more: impl Iterator<Item = Amount>) -> Vec<Amount> {
    let sums = sums.into_iter().flatten();
    sums.zip(more).map(|(sum, more)| sum + more).collect()
}
