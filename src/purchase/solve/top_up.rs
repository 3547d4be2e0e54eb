//! Goods bought beyond the need, to reach what a supplier asks for.
//!
//! Any number of packs of any offer may be added, so that the sums in question are those of coins
//! of given values: with the smallest coin `c`, it is enough to know the least sum of each remainder
//! when divided by `c` (the round-robin method for the money-changing problem).

use std::cell::OnceCell;

use super::{Amount, Order};

/// The sums that can be added to an order at one supplier.
#[derive(Debug, Clone, Default)]
pub(super) struct TopUp {
    /// Prices that can be added any number of times, the smallest first, each with its demand and
    /// offer.
    coins: Vec<(Amount, usize, usize)>,
    /// For each remainder, the least sum that has it and the coin last added to it.
    least: Vec<Option<(Amount, usize)>>,
    /// The least sum that is not below each amount, up to the first amounts.
    sums: OnceCell<Vec<Amount>>,
}

/// Amounts whose sums are kept ready.
const READY: Amount = 1 << 14;

/// Smallest price for which all remainders are followed; beyond it that price alone is added.
const MOST_REMAINDERS: Amount = 100_000;

impl TopUp {
    /// What can be added at a supplier.
    pub(super) fn of(order: &Order, supplier: usize) -> Self {
        let mut coins = Vec::new();
        for (position, demand) in order.demands.iter().enumerate() {
            for (index, offer) in demand.offers.iter().enumerate() {
                let price = offer.unit_price(1);
                if offer.supplier == supplier && offer.adds_freely() && price > 0 {
                    coins.push((price, position, index));
                }
            }
        }
        coins.sort_unstable();
        coins.dedup_by_key(|coin| coin.0);
        let mut top_up = Self {
            least: Vec::new(),
            sums: OnceCell::new(),
            coins,
        };
        top_up.follow();
        top_up
    }

    fn follow(&mut self) {
        let Some(smallest) = self.coins.first().map(|coin| coin.0) else {
            return;
        };
        if smallest > MOST_REMAINDERS {
            self.coins.truncate(1);
            return;
        }
        self.least = vec![None; smallest as usize];
        self.least[0] = Some((0, 0));
        let coins = self.coins.clone();
        for (index, (coin, ..)) in coins.iter().enumerate().skip(1) {
            let rings = common_divisor(smallest, *coin);
            for ring in 0..rings {
                self.go_round(index, *coin, ring, smallest);
            }
        }
    }

    /// Adds one coin round a ring of remainders, from its least sum on, until nothing changes.
    fn go_round(&mut self, index: usize, coin: Amount, ring: Amount, smallest: Amount) {
        let rings = common_divisor(smallest, coin);
        let members = (0..smallest / rings).map(|step| ring + step * rings);
        let start = members
            .filter_map(|remainder| self.least[remainder as usize].map(|(sum, _)| (sum, remainder)))
            .min();
        let Some((mut sum, _)) = start else {
            return;
        };
        for _ in 1..smallest / rings {
            sum += coin;
            let place = &mut self.least[(sum % smallest) as usize];
            match place {
                Some((known, _)) if *known <= sum => sum = *known,
                _ => *place = Some((sum, index)),
            }
        }
    }

    /// Whether anything can be added.
    pub(super) fn is_possible(&self) -> bool {
        !self.coins.is_empty()
    }

    /// The least sum that is not below what is missing; `None` where nothing can be added.
    pub(super) fn sum(&self, missing: Amount) -> Option<Amount> {
        if missing <= 0 {
            return Some(0);
        }
        let ready = self.sums.get_or_init(|| self.ready());
        let known = usize::try_from(missing).ok();
        let known = known.and_then(|missing| ready.get(missing).copied());
        known.or_else(|| self.sought(missing))
    }

    /// The sums for the first amounts, from the last of them down.
    fn ready(&self) -> Vec<Amount> {
        let (Some((smallest, ..)), Some(last)) = (self.coins.first(), self.sought(READY)) else {
            return Vec::new();
        };
        let mut sum = last;
        let mut sums: Vec<Amount> = (0..READY)
            .rev()
            .map(|amount| {
                let remainder = (amount % smallest) as usize;
                let least = self.least.get(remainder).copied().flatten();
                let is_sum = least.is_some_and(|(least, _)| least <= amount);
                if is_sum || (self.least.is_empty() && remainder == 0) {
                    sum = amount;
                }
                sum
            })
            .collect();
        sums.reverse();
        sums
    }

    fn sought(&self, missing: Amount) -> Option<Amount> {
        let (smallest, ..) = *self.coins.first()?;
        let up = |least: Amount| {
            let short = (missing - least).max(0);
            least + (short + smallest - 1) / smallest * smallest
        };
        if self.least.is_empty() {
            return Some(up(0));
        }
        let sums = self.least.iter().flatten().map(|(least, _)| up(*least));
        sums.min()
    }

    /// Packs that make up a sum that can be added: demand, offer and one pack each time.
    pub(super) fn packs(&self, mut sum: Amount) -> Vec<(usize, usize)> {
        let mut packs = Vec::new();
        let Some((smallest, demand, offer)) = self.coins.first().copied() else {
            return packs;
        };
        while sum > 0 {
            let least = self.least.get((sum % smallest) as usize).copied().flatten();
            match least {
                // The least sum of its remainder ends with the coin last added.
                Some((known, index)) if known == sum => {
                    let (coin, demand, offer) = self.coins[index];
                    packs.push((demand, offer));
                    sum -= coin;
                }
                _ => {
                    packs.push((demand, offer));
                    sum -= smallest;
                }
            }
        }
        packs
    }
}

const fn common_divisor(mut a: Amount, mut b: Amount) -> Amount {
    while b > 0 {
        (a, b) = (b, a % b);
    }
    a
}
