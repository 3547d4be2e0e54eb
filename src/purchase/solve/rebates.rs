//! Rebates: what must be spent with a supplier, relaxed to a worth of each minor unit spent there.
//!
//! With rebates the demands have nothing to do with each other any more and are met each by itself.
//! Whatever the rebates are, the cost so found, their worth put back, is a bound.

use std::collections::HashMap;

use super::Amount;
use super::cover::{Way, Ways};
use super::price::{Prices, SCALE};
use super::terms::{Role, Search, open};

/// Halvings of the span that a rebate lies in.
const HALVINGS: u32 = 8;

/// Most of a price that a rebate takes off: at the full price, more goods than are of use would cost
/// nothing.
const MOST_REBATE: (Amount, Amount) = (63, 64);

/// Rounds over all rebates.
const ROUNDS: usize = 3;

/// All demands met at some rebates.
#[derive(Debug, Clone)]
pub(super) struct Met {
    /// No order in these roles costs less, in parts of a unit.
    pub(super) bound: Amount,
    /// The order that gives the bound.
    pub(super) packs: Vec<Vec<u32>>,
    /// What it spends with each supplier.
    pub(super) spent: Vec<Amount>,
}

/// The best way to meet one demand at some prices.
#[derive(Debug, Clone)]
pub(super) struct Best {
    /// No way costs less, in parts of a unit.
    floor: Amount,
    packs: Vec<u32>,
}

/// Best ways at prices met before, by the suppliers asked and their rebates; looked up only, never
/// listed.
pub(super) type Known = HashMap<(u64, Vec<Amount>), Option<Best>>;

impl Search<'_> {
    /// Raises the rebates, one supplier after the other, while the bound rises.
    pub(super) fn raise(
        &mut self,
        roles: &[Role],
        goals: &[Amount],
        start: Met,
    ) -> (Vec<Amount>, Met) {
        let mut best = (vec![0; goals.len()], start);
        for _ in 0..ROUNDS {
            let before = best.1.bound;
            for supplier in 0..goals.len() {
                let is_short = best.1.spent[supplier] < goals[supplier];
                if goals[supplier] > 0 && (is_short || best.0[supplier] > 0) {
                    self.raise_one(roles, goals, supplier, &mut best);
                }
                if !self.may_gain(best.1.bound) {
                    return best;
                }
            }
            if best.1.bound <= before {
                break;
            }
        }
        best
    }

    /// Halves the span of one rebate towards the point where its supplier's goal is just reached.
    fn raise_one(
        &mut self,
        roles: &[Role],
        goals: &[Amount],
        supplier: usize,
        best: &mut (Vec<Amount>, Met),
    ) {
        let most = self.weights[supplier] * SCALE * MOST_REBATE.0 / MOST_REBATE.1;
        let (mut low, mut high) = (0, most);
        let mut rebates = best.0.clone();
        let mut middle = most;
        for _ in 0..=HALVINGS {
            rebates[supplier] = middle;
            let Some(met) = self.meet(roles, goals, &rebates) else {
                return;
            };
            self.note_topped(&met, goals);
            let is_short = met.spent[supplier] < goals[supplier];
            if met.bound > best.1.bound {
                *best = (rebates.clone(), met);
            }
            if is_short {
                low = middle;
            } else {
                high = middle;
            }
            if low == high {
                return;
            }
            middle = (low + high) / 2;
        }
    }

    /// Meets every demand at some rebates; `None` where one cannot be met.
    pub(super) fn meet(
        &mut self,
        roles: &[Role],
        goals: &[Amount],
        rebates: &[Amount],
    ) -> Option<Met> {
        let open = open(roles);
        let mut bound = self.charges(roles) * SCALE;
        bound += goals
            .iter()
            .zip(rebates)
            .map(|(a, b)| a * b)
            .sum::<Amount>();
        let mut all = Vec::with_capacity(self.tasks.len());
        for position in 0..self.tasks.len() {
            let best = self.best_way(position, open, rebates)?;
            bound += best.floor;
            all.push(best.packs);
        }
        Some(Met {
            bound,
            spent: self.spent(&all),
            packs: all,
        })
    }

    fn best_way(&mut self, position: usize, open: u64, rebates: &[Amount]) -> Option<Best> {
        let prices = Prices {
            open,
            rebates,
            weights: &self.weights,
        };
        let own = self.own[position];
        let suppliers = 0..prices.rebates.len();
        let mine = suppliers.filter(|supplier| own & prices.open & (1 << supplier) != 0);
        let mine = mine.map(|supplier| prices.rebates[supplier]);
        let key = (own & prices.open, mine.collect());
        if let Some(best) = self.known[position].get(&key) {
            return best.clone();
        }
        let task = &mut self.tasks[position];
        let mut ways = Ways::new(task, prices);
        let mut floor = None;
        let best = loop {
            let Some(Way {
                reduced,
                packs,
                known,
            }) = ways.next(task, &mut self.work)
            else {
                break None;
            };
            let floor = *floor.get_or_insert(reduced);
            if known {
                break Some(Best { floor, packs });
            }
        };
        self.known[position].insert(key, best.clone());
        best
    }
}
