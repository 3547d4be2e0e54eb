//! A demand as items that cover a need.

use super::{Amount, Cutting, Demand, Offer, Wanted};

/// Units into which a need by length is divided at most; rounding goes to the safe side, so that
/// a coarse unit weakens the bound and no more.
const RESOLUTION: u64 = 256;

/// Pieces that are told apart at most; of more, the bound is coarser.
const MOST_PIECES: u64 = 10_000;

/// Sums of pieces that are followed to find how full a roll can get.
const MOST_SUMS: usize = 4096;

/// One price of one offer.
#[derive(Debug, Clone)]
pub(super) struct Item {
    /// Position of the offer in the demand.
    pub offer: usize,
    /// Position of the supplier.
    pub supplier: usize,
    /// Packs that are taken at once at first.
    pub first: u32,
    /// Most packs.
    pub last: u32,
    /// What one pack covers, in units of the need.
    pub covers: u64,
    /// Price of one pack.
    pub price: Amount,
    /// Whether what is bought beyond the need is thought of apart from it.
    pub adds_freely: bool,
    /// The only numbers of packs that are of use, where they are known.
    pub useful: Vec<u32>,
}

impl Item {
    /// The next number of packs that may be of use.
    pub(super) fn next(&self, packs: u32) -> Option<u32> {
        let next = match self.useful.is_empty() {
            true => Some(packs + 1),
            false => self.useful.iter().copied().find(|useful| *useful > packs),
        };
        next.filter(|next| *next <= self.last)
    }
}

/// Items and what they must cover.
#[derive(Debug, Clone)]
pub(super) struct Covering {
    /// The items, those of one offer next to each other.
    pub items: Vec<Item>,
    /// What must be covered.
    pub need: u64,
    /// Whether whatever covers the need does.
    pub is_exact: bool,
}

impl Covering {
    /// The items of a demand, of which more may be bought to reach the goal of each supplier.
    pub(super) fn of(demand: &Demand, goals: &[Amount]) -> Self {
        let sizes: Vec<u64> = match &demand.wanted {
            Wanted::Pieces(_) => demand.offers.iter().map(|offer| offer.size).collect(),
            Wanted::Lengths(cutting) => {
                let whole = |offer: &Offer| match offer.joined {
                    Some(_) => offer.size,
                    None => fullest(cutting, offer.size).max(1),
                };
                demand.offers.iter().map(whole).collect()
            }
        };
        let raw = match &demand.wanted {
            Wanted::Pieces(count) => *count,
            Wanted::Lengths(cutting) => {
                let all: u64 = cutting.pieces.iter().sum();
                let offcuts = cutting.offcuts.iter();
                let on_hand: u64 = offcuts.map(|length| fullest(cutting, *length)).sum();
                all.saturating_sub(on_hand)
            }
        };
        let unit = match &demand.wanted {
            Wanted::Pieces(count) => count.div_ceil(MOST_PIECES).max(1),
            Wanted::Lengths(_) => unit(raw, &sizes),
        };
        let need = raw.div_ceil(unit);
        let mut items = Vec::new();
        for (position, offer) in demand.offers.iter().enumerate() {
            let covers = sizes[position].div_ceil(unit);
            for (rank, tier) in offer.tiers.iter().enumerate() {
                let first = tier.from.max(offer.joined.unwrap_or(1)).max(1);
                let goal = goals.get(offer.supplier).copied().unwrap_or(0);
                let beyond = if offer.adds_freely() { 0 } else { goal };
                let enough = most(for_need(demand, offer), tier.price, beyond).max(first);
                let before_next = offer.tiers.get(rank + 1).map(|next| next.from - 1);
                let last = before_next.map_or(enough, |last| last.min(enough));
                if first > last {
                    continue;
                }
                items.push(Item {
                    offer: position,
                    supplier: offer.supplier,
                    first,
                    last,
                    covers,
                    price: tier.price,
                    adds_freely: offer.adds_freely(),
                    useful: match (&demand.wanted, offer.joined) {
                        (Wanted::Lengths(cutting), Some(_)) if beyond == 0 => {
                            useful(cutting, offer.size, first)
                        }
                        _ => Vec::new(),
                    },
                });
            }
        }
        Self {
            items,
            need,
            is_exact: unit == 1 && matches!(demand.wanted, Wanted::Pieces(_)),
        }
    }
}

/// Packs that meet the need whatever the pieces are cut from: no piece takes more than one roll, and
/// one length at the counter may hold them all.
fn for_need(demand: &Demand, offer: &Offer) -> u64 {
    match &demand.wanted {
        Wanted::Pieces(count) => count.div_ceil(offer.size),
        Wanted::Lengths(cutting) if offer.joined.is_some() => {
            let all: u64 = cutting.pieces.iter().sum();
            all.div_ceil(offer.size)
        }
        Wanted::Lengths(cutting) => cutting.pieces.len() as u64,
    }
}

/// Packs that can be of use: enough for the need, and then for the goods total.
fn most(for_need: u64, price: Amount, top_up: Amount) -> u32 {
    let beyond = if price > 0 { top_up / price + 1 } else { 0 };
    let all = Amount::from(for_need).saturating_add(beyond);
    u32::try_from(all).unwrap_or(u32::MAX)
}

/// The largest unit that divides all sizes, or one that is coarse enough.
fn unit(need: u64, sizes: &[u64]) -> u64 {
    let common = sizes.iter().copied().fold(0, common_divisor).max(1);
    if need / common <= RESOLUTION {
        common
    } else {
        need.div_ceil(RESOLUTION)
    }
}

const fn common_divisor(mut a: u64, mut b: u64) -> u64 {
    while b > 0 {
        (a, b) = (b, a % b);
    }
    a
}

/// The most that pieces can use of a length.
fn fullest(cutting: &Cutting, length: u64) -> u64 {
    let sums = sums(cutting, length);
    sums.and_then(|sums| sums.last().copied()).unwrap_or(length)
}

/// Numbers of steps, from the first on, that some of the pieces use up.
fn useful(cutting: &Cutting, step: u64, first: u32) -> Vec<u32> {
    let sums = sums(cutting, u64::MAX).unwrap_or_default();
    let steps = sums.iter().skip(1).map(|sum| sum.div_ceil(step));
    let steps = steps.map(|steps| u32::try_from(steps).unwrap_or(u32::MAX).max(first));
    let mut steps: Vec<u32> = steps.collect();
    steps.dedup();
    steps
}

/// Every sum of pieces up to a length, rising; `None` where there are too many.
fn sums(cutting: &Cutting, length: u64) -> Option<Vec<u64>> {
    let mut sums = vec![0];
    for piece in &cutting.pieces {
        let longer = sums.iter().map(|sum| sum + piece);
        let more: Vec<u64> = longer.filter(|sum| *sum <= length).collect();
        sums.extend(more);
        sums.sort_unstable();
        sums.dedup();
        if sums.len() > MOST_SUMS {
            return None;
        }
    }
    Some(sums)
}
