//! The ways to meet one demand that may be of use to the whole order.

use super::cover::{Task, Ways};
use super::gap::Gap;
use super::price::Prices;
use super::{Amount, Work};

/// Ways of one demand at most; beyond them the proof goes no further than they do.
const MOST: usize = 2_000;

/// A way that is listed.
#[derive(Debug)]
pub(super) struct Choice {
    /// What it costs.
    pub cost: Amount,
    /// How much more than the cheapest it counts, in parts of a unit, rebates taken off.
    pub more: Amount,
    /// What it spends with each supplier with whom something must be spent.
    pub spent: Vec<Amount>,
    /// Packs of each offer.
    pub packs: Vec<u32>,
}

/// The ways of one demand so far.
#[derive(Debug)]
pub(super) struct Choices {
    ways: Ways,
    /// Those listed, the cheapest first, rebates taken off.
    pub found: Vec<Choice>,
    /// Cost of the cheapest, in parts of a unit.
    least: Option<Amount>,
    /// Where the list was cut short: how much more than the cheapest a way may count and still be
    /// listed for certain.
    cut_short: Option<Amount>,
}

impl Choices {
    /// None yet.
    pub(super) fn new(task: &Task, prices: Prices<'_>) -> Self {
        Self {
            ways: Ways::new(task, prices),
            found: Vec::new(),
            least: None,
            cut_short: None,
        }
    }

    /// Cost of the cheapest, in parts of a unit, rebates taken off.
    pub(super) fn least(&self) -> Amount {
        self.least.unwrap_or(0)
    }

    /// Whether every way there is was listed.
    pub(super) fn is_all(&self) -> bool {
        self.cut_short.is_none() && self.ways.at_least().is_none()
    }

    /// Lists the ways that count at most so much more than the cheapest, and gives how far the list
    /// is complete. Ways beside which others do as well are left out.
    pub(super) fn extend(
        &mut self,
        task: &mut Task,
        gap: &Gap<'_>,
        suppliers: &[usize],
        allowed: Amount,
        work: &mut Work,
    ) -> Amount {
        while self.cut_short.is_none() {
            let beyond = |next| self.least.is_some_and(|least| next - least > allowed);
            if self.ways.at_least().is_none_or(beyond) {
                return allowed;
            }
            let Some(way) = self.ways.next(task, work) else {
                if work.is_done() {
                    self.cut_short = Some(-1);
                }
                continue;
            };
            let more = way.reduced - *self.least.get_or_insert(way.reduced);
            if !way.known || self.found.len() >= MOST {
                self.cut_short = Some(more - 1);
                continue;
            }
            let choice = choice(task, gap, suppliers, more, way.packs);
            work.spend(self.found.len() as u64 / 32);
            let beside = self.found.iter().rev();
            let is_matched = |other: &Choice| {
                gap.does_as_well(
                    suppliers,
                    other.cost,
                    &other.spent,
                    choice.cost,
                    &choice.spent,
                )
            };
            if !beside.into_iter().any(is_matched) {
                self.found.push(choice);
            }
        }
        let complete = self.cut_short.unwrap_or(allowed);
        complete.min(allowed)
    }
}

impl Gap<'_> {
    /// Whether one cost and what is spent for it, perhaps with goods added, does as well as another.
    pub(super) fn does_as_well(
        &self,
        suppliers: &[usize],
        cost: Amount,
        spent: &[Amount],
        other_cost: Amount,
        other_spent: &[Amount],
    ) -> bool {
        let mut room = other_cost - cost;
        let mut spent = spent.iter().zip(other_spent).zip(suppliers);
        room >= 0
            && spent.all(|((mine, other), supplier)| {
                let missing = other - mine;
                if missing <= 0 {
                    return true;
                }
                if missing * self.prices.weights[*supplier] > room {
                    return false;
                }
                let more = self.cost_of_more(*supplier, missing);
                room -= more.unwrap_or(room + 1);
                room >= 0
            })
    }
}

fn choice(
    task: &Task,
    gap: &Gap<'_>,
    suppliers: &[usize],
    more: Amount,
    packs: Vec<u32>,
) -> Choice {
    let prices = task.demand.offers.iter().zip(&packs);
    let prices: Vec<(usize, Amount)> = prices
        .map(|(offer, packs)| (offer.supplier, offer.price(*packs)))
        .collect();
    let weights = gap.prices.weights;
    let spent = suppliers.iter().map(|wanted| {
        let mine = prices.iter().filter(|(supplier, _)| supplier == wanted);
        mine.map(|(_, price)| price).sum()
    });
    Choice {
        cost: prices
            .iter()
            .map(|(supplier, price)| price * weights[*supplier])
            .sum(),
        more,
        spent: spent.collect(),
        packs,
    }
}
