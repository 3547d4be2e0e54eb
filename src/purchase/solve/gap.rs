//! Closes the gap that the rebates leave.
//!
//! Each demand gives its ways that cost at most a little more than the least ([`super::choices`]);
//! they are joined demand by demand ([`super::labels`]). The little more is raised until an order is
//! found that costs no more than it allows: none cheaper can be left out.

use super::choices::Choices;
use super::cover::Task;
use super::labels::Join;
use super::price::{Prices, SCALE, whole};
use super::top_up::TopUp;
use super::{Amount, Work};

/// A relaxed task whose bound is not reached yet.
#[derive(Debug)]
pub(super) struct Gap<'a> {
    /// What must be spent with each supplier.
    pub goals: &'a [Amount],
    /// Suppliers and their rebates.
    pub prices: Prices<'a>,
    /// What can be added at each supplier.
    pub top_ups: &'a [TopUp],
    /// Cost of delivery.
    pub charges: Amount,
    /// The bound, in parts of a unit.
    pub bound: Amount,
    /// Only orders that cost less are of use.
    pub below: Option<Amount>,
}

/// What came of it.
#[derive(Debug)]
pub(super) struct Closed {
    /// The cheapest order found, if it costs less than was asked.
    pub packs: Option<Vec<Vec<u32>>>,
    /// No order of use costs less than this; `None` where there is none of use.
    pub bound: Option<Amount>,
}

/// Minor units that an order may cost more than the bound at first, and how fast they grow.
const FIRST_MARGIN: Amount = 8;
const GROWTH: Amount = 4;

/// Labels kept at most: few at first, for a good order; then many, for the proof.
const LABELS: [usize; 2] = [500, 30_000];

impl Gap<'_> {
    /// Suppliers with whom something must be spent.
    pub(super) fn suppliers(&self) -> Vec<usize> {
        let suppliers = 0..self.goals.len();
        suppliers
            .filter(|supplier| self.goals[*supplier] > 0)
            .collect()
    }

    /// What it costs to add goods for so much more at a supplier; `None` where there are none.
    pub(super) fn cost_of_more(&self, supplier: usize, missing: Amount) -> Option<Amount> {
        let sum = self.top_ups[supplier].sum(missing)?;
        Some(sum * self.prices.weights[supplier])
    }

    /// Finds the cheapest order that reaches the goals, if it costs less than `below`.
    pub(super) fn close(&self, tasks: &mut [Task], work: &mut Work) -> Closed {
        let suppliers = self.suppliers();
        let lists = tasks.iter().map(|task| Choices::new(task, self.prices));
        let mut lists: Vec<Choices> = lists.collect();
        let weight = self.prices.weights.iter().copied().max().unwrap_or(1);
        let mut margin = FIRST_MARGIN * weight * SCALE;
        let mut below = self.below;
        let mut best = None;
        let mut proved = -1;
        loop {
            let most = below.map(|below| below * SCALE - self.bound - 1);
            let allowed = most.map_or(margin, |most| most.min(margin));
            let mut complete = allowed;
            for (list, task) in lists.iter_mut().zip(tasks.iter_mut()) {
                complete = complete.min(list.extend(task, self, &suppliers, allowed, work));
            }
            let join = Join::new(self, &lists, &suppliers, allowed);
            let mut whole_run = false;
            for most in LABELS {
                let joined = join.run(below, most, work);
                if let Some((cost, packs)) = joined.found {
                    below = Some(cost);
                    best = Some(packs);
                }
                whole_run = joined.whole;
                if whole_run || work.is_done() {
                    break;
                }
            }
            if !whole_run {
                complete = complete.min(proved);
            }
            proved = proved.max(complete);
            let least = whole(self.bound + proved + 1);
            let is_proved = below.is_some_and(|below| least >= below);
            let is_all = complete == allowed && lists.iter().all(Choices::is_all);
            if is_proved || is_all || complete < allowed {
                let bound = match (is_proved || is_all, best.is_some()) {
                    (true, true) => below,
                    (true, false) => None,
                    (false, _) => Some(least),
                };
                return Closed { packs: best, bound };
            }
            margin *= GROWTH;
        }
    }
}
