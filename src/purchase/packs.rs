//! The cheapest packs for a number of pieces.

use crate::quantity::Money;

/// One way to buy pieces.
#[derive(Debug, Clone, Copy)]
pub(super) struct PiecePack {
    /// Pieces in one pack, at least one.
    pub pieces: u32,
    /// Price of one pack.
    pub price: Money,
}

/// Pieces up to which every combination is weighed. Of larger numbers the bulk comes in packs of
/// the least price a piece.
const EXACT: u32 = 10_000;

/// The fewest and cheapest packs that hold at least so many pieces.
#[derive(Clone, Copy)]
struct Best {
    price: Money,
    packs: u32,
    /// The pack to take first; among equal ways the one whose offers come first.
    first: usize,
}

/// Packs to take of each offer: the least price, then the fewest packs, then the offers that
/// come first. `None` when there is no offer.
pub(super) fn cheapest(wanted: u32, offers: &[PiecePack]) -> Option<Vec<u32>> {
    let mut packs = vec![0; offers.len()];
    let bulk = cheapest_a_piece(offers)?;
    let size = offers[bulk].pieces.max(1);
    let in_bulk = wanted.saturating_sub(EXACT).div_ceil(size);
    packs[bulk] = in_bulk;
    let mut left = wanted.saturating_sub(in_bulk.saturating_mul(size)) as usize;
    let table = table(left, offers);
    while left > 0 {
        let first = table[left].first;
        packs[first] += 1;
        left = left.saturating_sub(offers[first].pieces.max(1) as usize);
    }
    Some(packs)
}

fn cheapest_a_piece(offers: &[PiecePack]) -> Option<usize> {
    let dearer = |a: &PiecePack, b: &PiecePack| {
        let (of_a, of_b) = (u64::from(b.pieces), u64::from(a.pieces));
        a.price.times(of_a).cmp(&b.price.times(of_b))
    };
    let all = offers.iter().enumerate();
    all.min_by(|(_, a), (_, b)| dearer(a, b))
        .map(|(index, _)| index)
}

/// The best way to at least 0, 1, … `wanted` pieces.
fn table(wanted: usize, offers: &[PiecePack]) -> Vec<Best> {
    let mut table = vec![Best {
        price: Money::ZERO,
        packs: 0,
        first: 0,
    }];
    for count in 1..=wanted {
        let ways = offers.iter().enumerate().map(|(first, offer)| {
            let before = table[count.saturating_sub(offer.pieces.max(1) as usize)];
            Best {
                price: before.price + offer.price,
                packs: before.packs + 1,
                first,
            }
        });
        table.extend(ways.min_by_key(|best| (best.price, best.packs, best.first)));
    }
    table
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::quantity::Quantity;

    fn offers(rows: &[(u32, &str)]) -> Vec<PiecePack> {
        let rows = rows.iter().map(|(pieces, price)| PiecePack {
            pieces: *pieces,
            price: Money::parse(price).unwrap(),
        });
        rows.collect()
    }

    #[test]
    fn packs_are_mixed_when_that_is_cheapest() {
        // 12 pieces: 10 + 1 + 1 costs 8.00 + 2.00; two tens 16.00; twelve singles 12.00.
        let offers = offers(&[(10, "8.00"), (1, "1.00")]);
        assert_eq!(cheapest(12, &offers), Some(vec![1, 2]));
        // At 19 pieces a second ten is cheaper than nine singles.
        assert_eq!(cheapest(19, &offers), Some(vec![2, 0]));
    }

    #[test]
    fn of_equal_prices_the_fewest_packs_win_and_then_the_first_offer() {
        let fewer = offers(&[(1, "1.00"), (5, "5.00")]);
        assert_eq!(cheapest(10, &fewer), Some(vec![0, 2]));
        let equal = offers(&[(5, "5.00"), (5, "5.00")]);
        assert_eq!(cheapest(10, &equal), Some(vec![2, 0]));
    }

    #[test]
    fn a_pack_may_hold_more_than_is_wanted() {
        assert_eq!(cheapest(3, &offers(&[(100, "4.00")])), Some(vec![1]));
        assert_eq!(cheapest(0, &offers(&[(100, "4.00")])), Some(vec![0]));
        assert_eq!(cheapest(3, &[]), None);
    }

    #[test]
    fn a_great_number_comes_mostly_in_the_cheapest_packs() {
        let offers = offers(&[(1, "1.00"), (100, "50.00")]);
        assert_eq!(cheapest(1_000_001, &offers), Some(vec![1, 10_000]));
        assert_eq!(cheapest(u32::MAX, &offers).unwrap()[1], 42_949_673);
    }
}
