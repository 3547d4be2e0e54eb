//! The cheapest order, in whole numbers and with proof.
//!
//! The goods of different demands have to do with each other only through what a supplier asks of
//! the whole order: a delivery charge, a sum from which delivery is free, a smallest order. So each
//! demand is a small covering task of its own ([`cover`], with [`packing`] where pieces are cut),
//! which gives its ways to buy in the order of their cost. [`terms`] decides which suppliers are
//! used, pay delivery or reach their free limit, bounded by a Lagrangian relaxation of what must be
//! spent with each; [`gap`] closes what gap that relaxation leaves. Goods beyond the need, bought
//! to reach a limit, are apart from it all ([`top_up`]).

mod choices;
mod cover;
mod gap;
mod items;
mod labels;
mod packing;
mod price;
mod rebates;
mod terms;
mod top_up;

pub(super) use packing::packed;
pub(super) use terms::{Limits, cheapest, is_possible};

/// Money in whole minor units, or in the finer units in which costs are compared.
pub(super) type Amount = i128;

/// Everything to buy and everybody who sells it.
#[derive(Debug, Clone, Default)]
pub(super) struct Order {
    /// The suppliers.
    pub suppliers: Vec<Terms>,
    /// What is wanted; none is met already.
    pub demands: Vec<Demand>,
    /// Cost of one minor unit of delivery.
    pub charge_weight: Amount,
}

/// What a supplier asks of a whole order, in minor units.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Terms {
    /// Delivery charge.
    pub charge: Amount,
    /// Goods from which delivery is free.
    pub free_from: Option<Amount>,
    /// Least goods that are delivered at all.
    pub smallest: Amount,
    /// Cost of one minor unit of its prices.
    pub weight: Amount,
}

impl Terms {
    /// The charge for goods of a price, some of them bought.
    pub(super) fn charged(&self, goods: Amount) -> Amount {
        if self.free_from.is_some_and(|limit| goods >= limit) {
            0
        } else {
            self.charge
        }
    }

    /// The most that it can be worth to spend with the supplier for its own sake.
    fn highest_goal(&self) -> Amount {
        let free_from = self.free_from.filter(|_| self.charge > 0);
        free_from.unwrap_or(0).max(self.smallest)
    }
}

/// One part in one colour.
#[derive(Debug, Clone)]
pub(super) struct Demand {
    /// Ways to buy it.
    pub offers: Vec<Offer>,
    /// How much is wanted.
    pub wanted: Wanted,
}

/// How much is wanted.
#[derive(Debug, Clone)]
pub(super) enum Wanted {
    /// A number of pieces.
    Pieces(u64),
    /// Unbroken lengths.
    Lengths(Cutting),
}

/// Unbroken lengths in micrometres, the allowance for a cut in each of them.
#[derive(Debug, Clone)]
pub(super) struct Cutting {
    /// The pieces, long ones first.
    pub pieces: Vec<u64>,
    /// Offcuts on hand that cost nothing.
    pub offcuts: Vec<u64>,
}

/// One way to buy.
#[derive(Debug, Clone)]
pub(super) struct Offer {
    /// Position of the supplier.
    pub supplier: usize,
    /// What a pack holds: pieces or micrometres, at least one.
    pub size: u64,
    /// Where all packs come as one unbroken length: the fewest packs that are sold.
    pub joined: Option<u32>,
    /// Prices of a pack by the number of packs, the first from one pack on.
    pub tiers: Vec<Tier>,
}

/// A price of a pack.
#[derive(Debug, Clone, Copy)]
pub(super) struct Tier {
    /// Packs from which it holds.
    pub from: u32,
    /// Price of one pack in minor units.
    pub price: Amount,
}

impl Offer {
    /// Price of one pack when so many are bought.
    pub(super) fn unit_price(&self, packs: u32) -> Amount {
        let reached = self.tiers.iter().rev().find(|tier| tier.from <= packs);
        reached.or(self.tiers.first()).map_or(0, |tier| tier.price)
    }

    /// Whether packs can be added to any number of them, each at the same price.
    fn adds_freely(&self) -> bool {
        self.tiers.len() == 1 && self.joined.is_none_or(|least| least <= 1)
    }

    /// Price of so many packs in minor units.
    pub(super) fn price(&self, packs: u32) -> Amount {
        self.unit_price(packs) * Amount::from(packs)
    }
}

/// An order.
#[derive(Debug, Clone)]
pub(super) struct Bought {
    /// Packs of each offer of each demand.
    pub packs: Vec<Vec<u32>>,
    /// What it costs.
    pub cost: Amount,
    /// No order costs less.
    pub bound: Amount,
}

/// Work that may still be done, in steps of the searches: the same on every machine.
#[derive(Debug, Clone, Copy)]
pub(super) struct Work(u64);

impl Work {
    /// So many steps.
    pub(super) const fn new(steps: u64) -> Self {
        Self(steps)
    }

    /// At most so many of the steps, to be spent apart.
    const fn part(self, steps: u64) -> Self {
        if self.0 < steps { self } else { Self(steps) }
    }

    /// Takes off what was spent of a part.
    fn give_back(&mut self, steps: u64, rest: Self) {
        let part = self.part(steps);
        self.spend(part.0 - rest.0);
    }

    fn spend(&mut self, steps: u64) {
        self.0 = self.0.saturating_sub(steps);
    }

    fn is_done(self) -> bool {
        self.0 == 0
    }
}
