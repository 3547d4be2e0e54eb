//! Chooses an order, and holds it against other ways to buy.

use std::collections::BTreeSet;

use super::OtherWay;
use super::assemble::{Assembled, assemble};
use super::market::Market;
use super::solve::{Bought, Limits, cheapest, is_possible};
use super::wish::{Allowed, Wish};
use crate::quantity::Money;
use crate::shop::{BuyingWay, ShopFile};

/// Steps that the search for the order may take.
const STEPS: u64 = 3_000_000;

/// Steps that the search for an order may take that is held against it only.
const COMPARED: u64 = 1_000_000;

/// Groups of suppliers that are tried for the fewest; beyond them the cheapest order stands.
const MOST_GROUPS: usize = 2_000;

/// What an order is chosen for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Aim<'a> {
    /// Which offers may be taken.
    pub allowed: Allowed<'a>,
    /// Whether the fewest suppliers come before the least total.
    pub fewest: bool,
}

impl<'a> Aim<'a> {
    /// The least total of all.
    const CHEAPEST: Self = Self {
        allowed: Allowed::All,
        fewest: false,
    };

    /// The fewest suppliers, and of such orders the least total.
    const FEWEST: Self = Self {
        allowed: Allowed::All,
        fewest: true,
    };

    /// What the shop file asks for.
    pub(super) fn of(shop: &'a ShopFile) -> Self {
        let allowed = match (&shop.only_from, shop.buy) {
            (Some(only), _) => Allowed::Only(only.as_str()),
            (None, BuyingWay::InStock) => Allowed::InStock,
            (None, _) => Allowed::All,
        };
        Self {
            allowed,
            fewest: shop.buy == BuyingWay::FewestSuppliers,
        }
    }

    fn in_words(self) -> String {
        match self.allowed {
            Allowed::All if self.fewest => "fewest suppliers".to_owned(),
            Allowed::All => "cheapest".to_owned(),
            allowed => allowed.to_string(),
        }
    }
}

/// An order that was chosen.
#[derive(Debug)]
pub(super) struct Chosen<'a> {
    /// The task.
    pub assembled: Assembled<'a>,
    /// Its solution; `None` where no order keeps every supplier's terms.
    pub bought: Option<Bought>,
}

/// Everything that an order is chosen from.
#[derive(Debug, Clone, Copy)]
pub(super) struct Choice<'w, 'a> {
    /// What is wanted.
    pub wishes: &'w [Wish<'a>],
    /// Where.
    pub market: &'w Market<'a>,
    /// Suppliers that bring these goods along with others.
    pub served: &'w BTreeSet<String>,
}

impl<'a> Choice<'_, 'a> {
    /// The order for an aim.
    pub(super) fn order(self, aim: Aim<'_>) -> Chosen<'a> {
        self.order_within(aim, STEPS)
    }

    fn order_within(self, aim: Aim<'_>, steps: u64) -> Chosen<'a> {
        let assembled = assemble(self.wishes, self.market, self.served, aim.allowed);
        let order = &assembled.order;
        let all = everybody(order.suppliers.len());
        let least = cheapest(order, Limits { open: all, steps });
        let fewer = least.as_ref().filter(|_| aim.fewest);
        let fewer = fewer.and_then(|least| fewer_suppliers(&assembled, least, steps));
        let bought = fewer.or(least);
        Chosen { assembled, bought }
    }

    /// All ways to buy that a shop file can ask for, each with what it costs more than the cheapest.
    pub(super) fn ways(
        self,
        chosen: Aim<'_>,
        order: &Chosen<'a>,
        offered: &BTreeSet<&'a str>,
    ) -> Vec<OtherWay> {
        let only = offered.iter().map(|supplier| Allowed::Only(supplier));
        let limited = only.chain([Allowed::InStock]).map(|allowed| Aim {
            allowed,
            fewest: false,
        });
        let compared;
        let base = if chosen == Aim::CHEAPEST {
            order
        } else {
            compared = self.order_within(Aim::CHEAPEST, COMPARED);
            &compared
        };
        let least = base.total(self.market);
        let fewer = base.bought.as_ref();
        let fewer = fewer.and_then(|least| fewer_suppliers(&base.assembled, least, COMPARED));
        let fewest = Chosen {
            assembled: assemble(self.wishes, self.market, self.served, Allowed::All),
            bought: fewer.or(base.bought.clone()),
        };
        let mut ways = vec![
            self.way(Aim::CHEAPEST, base, base, least, chosen),
            self.way(Aim::FEWEST, &fewest, base, least, chosen),
        ];
        for aim in limited {
            let other = self.order_within(aim, COMPARED);
            ways.push(self.way(aim, &other, base, least, chosen));
        }
        ways
    }

    fn way(
        self,
        aim: Aim<'_>,
        order: &Chosen<'a>,
        base: &Chosen<'a>,
        least: Option<Money>,
        chosen: Aim<'_>,
    ) -> OtherWay {
        let short = |order: &Chosen<'_>| order.assembled.short.iter().flatten().count();
        let lacking = short(order).saturating_sub(short(base));
        let total = order.total(self.market).filter(|_| lacking == 0);
        let extra = total.zip(least).map(|(total, least)| {
            let extra = total.decimal() - least.decimal();
            Money::from_decimal(extra)
        });
        OtherWay {
            way: aim.in_words(),
            chosen: aim == chosen,
            suppliers: order.used(),
            total,
            extra,
            lacking,
        }
    }
}

impl Chosen<'_> {
    /// What it costs in all.
    fn total(&self, market: &Market<'_>) -> Option<Money> {
        let bought = self.bought.as_ref()?;
        Some(self.assembled.amount(bought.cost, market.currency))
    }

    /// Names of the suppliers that it uses.
    fn used(&self) -> Vec<String> {
        let bought = self.bought.as_ref();
        bought.map_or_else(Vec::new, |bought| self.assembled.used(bought))
    }
}

fn everybody(suppliers: usize) -> u64 {
    (0..suppliers).fold(0, |all, supplier| all | (1 << supplier))
}

/// The cheapest of the orders with the fewest suppliers; `None` where none uses fewer than the
/// cheapest order of all, or too many groups would have to be tried.
fn fewer_suppliers(assembled: &Assembled<'_>, least: &Bought, steps: u64) -> Option<Bought> {
    let order = &assembled.order;
    let suppliers = order.suppliers.len();
    let mut tried = 0;
    for size in 1..assembled.used(least).len() {
        let mut best: Option<Bought> = None;
        let mut bound = None;
        for open in groups(suppliers, size) {
            tried += 1;
            if tried > MOST_GROUPS {
                return None;
            }
            if !is_possible(order, open) {
                continue;
            }
            let limits = Limits { open, steps };
            let Some(found) = cheapest(order, limits) else {
                continue;
            };
            bound = Some(bound.map_or(found.bound, |least: i128| least.min(found.bound)));
            if best.as_ref().is_none_or(|best| found.cost < best.cost) {
                best = Some(found);
            }
        }
        if let Some(best) = best {
            let bound = bound.unwrap_or(best.bound);
            return Some(Bought { bound, ..best });
        }
    }
    None
}

/// Every group of so many of the suppliers, a bit for each.
fn groups(suppliers: usize, size: usize) -> impl Iterator<Item = u64> {
    let mut members: Vec<usize> = (0..size).collect();
    let mut is_done = size > suppliers;
    std::iter::from_fn(move || {
        if is_done {
            return None;
        }
        let group = members.iter().fold(0, |all, member| all | (1 << member));
        // The last member that can move on does, and those after it follow close behind.
        let movable = (0..size)
            .rev()
            .find(|place| members[*place] < suppliers - size + place);
        match movable {
            None => is_done = true,
            Some(place) => {
                let next = members[place] + 1;
                for (offset, member) in members[place..].iter_mut().enumerate() {
                    *member = next + offset;
                }
            }
        }
        Some(group)
    })
}

#[cfg(test)]
mod tests {
    use super::groups;

    #[test]
    fn every_group_comes_once() {
        let pairs: Vec<u64> = groups(4, 2).collect();
        assert_eq!(pairs, [0b0011, 0b0101, 0b1001, 0b0110, 0b1010, 0b1100]);
        assert_eq!(groups(3, 3).collect::<Vec<_>>(), [0b111]);
        assert_eq!(groups(2, 3).count(), 0);
    }
}
