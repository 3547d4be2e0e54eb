//! The cheapest rolls and lengths for pieces that must each be unbroken.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use crate::quantity::Money;

/// One way to buy length.
#[derive(Debug, Clone, Copy)]
pub(super) struct LengthPack {
    /// Micrometres of one pack, at least one.
    pub length: u64,
    /// Price of one pack.
    pub price: Money,
    /// Whether several packs come as one unbroken length.
    pub cut_to_length: bool,
}

/// One roll, or one length cut at the counter, with what is cut from it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Roll {
    /// Position of its offer.
    pub offer: usize,
    /// Packs that it takes: one for a roll.
    pub packs: u32,
    /// Positions of the pieces in the order of cutting.
    pub pieces: Vec<usize>,
}

/// Rolls of the first size that a mix of sizes starts with, at most.
const MOST_MIXED: usize = 12;

/// A way to buy all pieces.
#[derive(Debug)]
struct Plan {
    price: Money,
    packs: u64,
    rolls: Vec<Roll>,
}

/// The cheapest way found for pieces of these lengths, given long ones first: rolls of one size,
/// a few rolls of one size and the rest of another, each with or without a length from the
/// counter for what remains. `None` when there is no piece or some piece has no roll.
///
/// Which plans are tried does not depend on prices, so that a lower price never costs more.
pub(super) fn cheapest(pieces: &[u64], offers: &[LengthPack]) -> Option<Vec<Roll>> {
    let rolls = undominated(offers, false);
    let counters = undominated(offers, true);
    let search = Search { pieces, offers };
    let mut best: Option<Plan> = None;
    for start in search.starts(&rolls) {
        for rest in std::iter::once(None).chain(rolls.iter().copied().map(Some)) {
            let (mut filled, mut waiting) = (start.rolls.clone(), start.waiting.clone());
            if let Some(offer) = rest {
                search.fill(offer, usize::MAX, &mut filled, &mut waiting);
            }
            let plans = search.finished(filled, waiting, &counters);
            best = best.into_iter().chain(plans).min_by(Plan::compare);
        }
    }
    best.map(|plan| plan.rolls)
}

/// Offers of one sort, without those for which another has the same length for less.
fn undominated(offers: &[LengthPack], cut_to_length: bool) -> Vec<usize> {
    let mut by_length: BTreeMap<Reverse<u64>, (Money, usize)> = BTreeMap::new();
    for (index, offer) in offers.iter().enumerate() {
        if offer.cut_to_length == cut_to_length {
            let mine = (offer.price, index);
            let best = by_length.entry(Reverse(offer.length)).or_insert(mine);
            *best = mine.min(*best);
        }
    }
    by_length.into_values().map(|(_, index)| index).collect()
}

/// Some rolls filled, and the pieces still waiting.
#[derive(Clone)]
struct Start {
    rolls: Vec<Roll>,
    waiting: Vec<usize>,
}

struct Search<'a> {
    pieces: &'a [u64],
    offers: &'a [LengthPack],
}

impl Search<'_> {
    /// No roll at all, or the first few rolls of one size.
    fn starts(&self, rolls: &[usize]) -> Vec<Start> {
        let mut starts = vec![Start {
            rolls: Vec::new(),
            waiting: (0..self.pieces.len()).collect(),
        }];
        for offer in rolls {
            for count in 1..=MOST_MIXED {
                let mut start = starts[0].clone();
                self.fill(*offer, count, &mut start.rolls, &mut start.waiting);
                // A roll that stays unopened means that more of them change nothing.
                if start.rolls.len() < count {
                    break;
                }
                starts.push(start);
            }
        }
        starts
    }

    /// First fit, longest piece first, on at most `most` new rolls of one offer.
    fn fill(&self, offer: usize, most: usize, rolls: &mut Vec<Roll>, waiting: &mut Vec<usize>) {
        let length = self.offers[offer].length;
        let first_new = rolls.len();
        let mut left: Vec<u64> = Vec::new();
        waiting.retain(|piece| {
            let size = self.pieces[*piece];
            let open = left.iter().position(|left| *left >= size);
            let position = match open {
                Some(position) => position,
                None if left.len() < most && size <= length => {
                    left.push(length);
                    rolls.push(Roll {
                        offer,
                        packs: 1,
                        pieces: Vec::new(),
                    });
                    left.len() - 1
                }
                None => return true,
            };
            left[position] -= size;
            rolls[first_new + position].pieces.push(*piece);
            false
        });
    }

    /// The plan as it stands when nothing waits; otherwise one for each counter that can cut the
    /// rest from one length.
    fn finished(&self, rolls: Vec<Roll>, waiting: Vec<usize>, counters: &[usize]) -> Vec<Plan> {
        if waiting.is_empty() {
            return vec![self.priced(rolls)];
        }
        let sizes = waiting.iter().map(|piece| self.pieces[*piece]);
        let total = sizes.fold(0, u64::saturating_add);
        let plans = counters.iter().map(|offer| {
            let packs = total.div_ceil(self.offers[*offer].length.max(1));
            let mut rolls = rolls.clone();
            rolls.push(Roll {
                offer: *offer,
                packs: u32::try_from(packs).unwrap_or(u32::MAX),
                pieces: waiting.clone(),
            });
            self.priced(rolls)
        });
        plans.collect()
    }

    fn priced(&self, rolls: Vec<Roll>) -> Plan {
        let prices = rolls.iter().map(|roll| {
            let price = self.offers[roll.offer].price;
            price.times(u64::from(roll.packs))
        });
        Plan {
            price: prices.sum(),
            packs: rolls.iter().map(|roll| u64::from(roll.packs)).sum(),
            rolls,
        }
    }
}

impl Plan {
    /// Price, then packs, then the offers that come first.
    fn compare(&self, other: &Self) -> std::cmp::Ordering {
        let amounts = (self.price, self.packs).cmp(&(other.price, other.packs));
        let offers = |plan: &Self| {
            let offers: Vec<usize> = plan.rolls.iter().map(|roll| roll.offer).collect();
            offers
        };
        amounts.then_with(|| offers(self).cmp(&offers(other)))
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::quantity::Quantity;

    fn offer(length: u64, price: &str, cut_to_length: bool) -> LengthPack {
        LengthPack {
            length,
            price: Money::parse(price).unwrap(),
            cut_to_length,
        }
    }

    fn bought(pieces: &[u64], offers: &[LengthPack]) -> Vec<(usize, u32, Vec<usize>)> {
        let rolls = cheapest(pieces, offers).unwrap_or_default();
        let rolls = rolls.into_iter();
        rolls
            .map(|roll| (roll.offer, roll.packs, roll.pieces))
            .collect()
    }

    #[test]
    fn long_pieces_are_cut_first_and_short_ones_fill_the_rolls() {
        let offers = [offer(10, "9", false)];
        let rolls = bought(&[6, 5, 4, 3, 2], &offers);
        assert_eq!(rolls, [(0, 1, vec![0, 2]), (0, 1, vec![1, 3, 4])]);
    }

    #[test]
    fn a_long_roll_and_a_short_one_go_together_when_cheaper() {
        // 12 m in pieces: one 10 m roll and one 3 m roll for 26; two 10 m rolls 40.
        let offers = [offer(10, "20", false), offer(3, "6", false)];
        let rolls = bought(&[8, 2, 2], &offers);
        assert_eq!(rolls, [(0, 1, vec![0, 1]), (1, 1, vec![2])]);
    }

    #[test]
    fn the_counter_cuts_what_no_roll_holds_from_one_length() {
        let offers = [offer(10, "10", false), offer(2, "5", true)];
        // 11 and 12 are longer than the roll: 23 at the counter is 12 packs of 2.
        let rolls = bought(&[12, 11, 7], &offers);
        assert_eq!(rolls, [(0, 1, vec![2]), (1, 12, vec![0, 1])]);
        assert_eq!(cheapest(&[12, 7], &offers[..1]), None);
    }

    #[test]
    fn of_equal_prices_the_fewest_packs_win_and_then_the_first_offer() {
        let rows = [offer(1, "2", true), offer(5, "10", false)];
        assert_eq!(bought(&[5], &rows), [(1, 1, vec![0])]);
        let rows = [offer(5, "10", false), offer(5, "10", false)];
        assert_eq!(bought(&[5], &rows), [(0, 1, vec![0])]);
    }
}
