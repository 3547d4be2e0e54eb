//! The ways to meet one demand, in the order of their cost.
//!
//! A best-first search over the items: how many of the first, then of the next, and so on. What the
//! rest costs at least is known exactly from a table, so that the search goes straight to the
//! cheapest covers. A cover of lengths counts only if the pieces can be cut from it.

use std::cmp::Ordering;
use std::collections::{BinaryHeap, HashMap};

use super::items::{Covering, Item};
use super::packing::{Fits, fits};
use super::price::Prices;
use super::{Amount, Demand, Wanted, Work};

/// A demand made ready for search.
#[derive(Debug)]
pub(super) struct Task {
    /// Its offers.
    pub demand: Demand,
    covering: Covering,
    /// What is known of cutting the pieces from lengths; looked up only, never listed.
    known: HashMap<Vec<u64>, Fits>,
}

/// One way to meet a demand.
#[derive(Debug, Clone)]
pub(super) struct Way {
    /// Cost in parts of a unit, rebates taken off.
    pub reduced: Amount,
    /// Packs of each offer.
    pub packs: Vec<u32>,
    /// Whether it is known to do.
    pub known: bool,
}

impl Task {
    /// A demand of which more may be bought to reach the goal of each supplier.
    pub(super) fn new(demand: &Demand, goals: &[Amount]) -> Self {
        Self {
            covering: Covering::of(demand, goals),
            demand: demand.clone(),
            known: HashMap::new(),
        }
    }

    fn fits(&mut self, packs: &[u32], work: &mut Work) -> Fits {
        let cutting = match &self.demand.wanted {
            Wanted::Lengths(cutting) => cutting,
            Wanted::Pieces(count) => {
                let offers = self.demand.offers.iter().zip(packs);
                let held =
                    offers.map(|(offer, packs)| offer.size.saturating_mul(u64::from(*packs)));
                let held = held.fold(0, u64::saturating_add);
                return if held >= *count { Fits::Yes } else { Fits::No };
            }
        };
        let mut lengths = lengths(&self.demand, packs);
        lengths.extend(&cutting.offcuts);
        lengths.sort_unstable();
        let known = self.known.entry(lengths);
        let pieces = &cutting.pieces;
        *known.or_insert_with_key(|lengths| fits(pieces, lengths, work))
    }

    /// Whether one roll or step fewer of some offer would do as well.
    fn has_too_many(&mut self, packs: &[u32], work: &mut Work) -> bool {
        let is_doubtful = !self.covering.is_exact;
        let offers = 0..packs.len();
        is_doubtful
            && offers.into_iter().any(|offer| {
                let fewer = self.demand.offers[offer].adds_freely() && packs[offer] > 0;
                fewer && {
                    let mut fewer = packs.to_vec();
                    fewer[offer] -= 1;
                    self.fits(&fewer, work) == Fits::Yes
                }
            })
    }
}

/// The lengths that packs of a demand's offers come as.
fn lengths(demand: &Demand, packs: &[u32]) -> Vec<u64> {
    let Wanted::Lengths(cutting) = &demand.wanted else {
        return Vec::new();
    };
    let mut lengths = Vec::new();
    for (offer, packs) in demand.offers.iter().zip(packs) {
        match (offer.joined, *packs) {
            (_, 0) => {}
            (Some(_), packs) => lengths.push(offer.size.saturating_mul(u64::from(packs))),
            // More rolls than pieces are of no use to the cut.
            (None, packs) => {
                let useful = (packs as usize).min(cutting.pieces.len());
                lengths.extend(std::iter::repeat_n(offer.size, useful));
            }
        }
    }
    lengths
}

/// Cost and packs: of equal costs the fewest packs win.
type Weight = (Amount, u32);

const fn plus(a: Weight, b: Weight) -> Weight {
    (a.0 + b.0, a.1.saturating_add(b.1))
}

/// An item with its reduced price.
#[derive(Debug, Clone)]
struct Priced {
    item: Item,
    reduced: Amount,
}

impl Priced {
    fn times(&self, packs: u32) -> Weight {
        (self.reduced * Amount::from(packs), packs)
    }
}

/// Gives the ways to meet a demand, cheapest first.
#[derive(Debug)]
pub(super) struct Ways {
    items: Vec<Priced>,
    /// The least that the items from a position on cost for each rest of the need.
    from: Vec<Vec<Option<Weight>>>,
    /// The same where some of the item at that position are taken already.
    more: Vec<Vec<Option<Weight>>>,
    waiting: BinaryHeap<Waiting>,
    taken: Vec<Taken>,
    born: usize,
    offers: usize,
    /// Whether whatever covers the need does.
    is_exact: bool,
}

/// Packs of an item taken after others.
#[derive(Debug, Clone, Copy)]
struct Taken {
    before: Option<usize>,
    item: usize,
    packs: u32,
}

/// A beginning that waits to be carried on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Waiting {
    least: Weight,
    cost: Weight,
    born: usize,
    item: usize,
    packs: u32,
    rest: u64,
    taken: Option<usize>,
}

impl Ord for Waiting {
    /// Least cost first; of equals the youngest, so that the first way found is carried to its end.
    fn cmp(&self, other: &Self) -> Ordering {
        let by_cost = other.least.cmp(&self.least);
        by_cost.then(self.born.cmp(&other.born))
    }
}

impl PartialOrd for Waiting {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ways {
    /// The ways at some prices.
    pub(super) fn new(task: &Task, prices: Prices<'_>) -> Self {
        let items = task.covering.items.iter();
        let items: Vec<Priced> = items
            .filter(|item| prices.is_open(item.supplier))
            .map(|item| Priced {
                reduced: prices.reduced(item.supplier, item.price),
                item: item.clone(),
            })
            .collect();
        let need = task.covering.need;
        let (from, more) = tables(&items, need);
        let mut ways = Self {
            items,
            from,
            more,
            waiting: BinaryHeap::new(),
            taken: Vec::new(),
            born: 0,
            offers: task.demand.offers.len(),
            is_exact: task.covering.is_exact,
        };
        ways.push((0, 0), 0, 0, need, None);
        ways
    }

    /// The next way that does, or may do; `None` when there is none, or no work may be done.
    pub(super) fn next(&mut self, task: &mut Task, work: &mut Work) -> Option<Way> {
        while let Some(node) = self.waiting.pop() {
            if work.is_done() {
                return None;
            }
            work.spend(1);
            if node.item < self.items.len() {
                self.carry_on(node);
                continue;
            }
            let packs = self.packs(node.taken);
            let fits = task.fits(&packs, work);
            if fits != Fits::No && !task.has_too_many(&packs, work) {
                return Some(Way {
                    reduced: node.cost.0,
                    packs,
                    known: fits == Fits::Yes,
                });
            }
        }
        None
    }

    /// What the next way costs at least.
    pub(super) fn at_least(&self) -> Option<Amount> {
        self.waiting.peek().map(|node| node.least.0)
    }

    fn carry_on(&mut self, node: Waiting) {
        let priced = &self.items[node.item];
        let (item, reach) = (&priced.item, |packs: u32| {
            item_cover(&priced.item, packs).min(node.rest)
        });
        let is_enough = node.rest == 0 && item.adds_freely && self.is_exact;
        if node.packs == 0 && is_enough {
            self.push(node.cost, node.item + 1, 0, node.rest, node.taken);
            return;
        }
        if node.packs == 0 {
            let cost = plus(node.cost, priced.times(item.first));
            let rest = node.rest - reach(item.first);
            let first = item.first;
            self.push(node.cost, node.item + 1, 0, node.rest, node.taken);
            self.push(cost, node.item, first, rest, node.taken);
            return;
        }
        let more = item.next(node.packs).filter(|_| !is_enough);
        let more = more.map(|packs| {
            let added = packs - node.packs;
            let cost = plus(node.cost, priced.times(added));
            (packs, cost, node.rest - reach(added))
        });
        let offer = item.offer;
        let others = self.items[node.item..].iter();
        let same = others.take_while(|other| other.item.offer == offer).count();
        self.taken.push(Taken {
            before: node.taken,
            item: node.item,
            packs: node.packs,
        });
        let taken = Some(self.taken.len() - 1);
        self.push(node.cost, node.item + same, 0, node.rest, taken);
        if let Some((packs, cost, rest)) = more {
            self.push(cost, node.item, packs, rest, node.taken);
        }
    }

    fn push(&mut self, cost: Weight, item: usize, packs: u32, rest: u64, taken: Option<usize>) {
        let table = if packs == 0 { &self.from } else { &self.more };
        let Some(to_come) = table[item][rest as usize] else {
            return;
        };
        self.born += 1;
        self.waiting.push(Waiting {
            least: plus(cost, to_come),
            cost,
            born: self.born,
            item,
            packs,
            rest,
            taken,
        });
    }

    fn packs(&self, mut last: Option<usize>) -> Vec<u32> {
        let mut packs = vec![0; self.offers];
        while let Some(taken) = last.map(|position| self.taken[position]) {
            packs[self.items[taken.item].item.offer] = taken.packs;
            last = taken.before;
        }
        packs
    }
}

fn item_cover(item: &Item, packs: u32) -> u64 {
    item.covers.saturating_mul(u64::from(packs))
}

type Table = Vec<Vec<Option<Weight>>>;

/// The least costs of covering each rest: with the items from a position on, and with more of an
/// item that was begun.
fn tables(items: &[Priced], need: u64) -> (Table, Table) {
    let size = need as usize + 1;
    let mut end = vec![None; size];
    end[0] = Some((0, 0));
    let mut from = vec![end];
    let mut more = Vec::new();
    for priced in items.iter().rev() {
        let after: &[Option<Weight>] = from.last().map_or(&[], Vec::as_slice);
        let mut begun: Vec<Option<Weight>> = Vec::with_capacity(size);
        for (rest, without) in after.iter().enumerate() {
            let reach = item_cover(&priced.item, 1).min(rest as u64) as usize;
            let again = (rest > 0).then(|| begun.get(rest - reach).copied().flatten());
            let again = again.flatten().map(|cost| plus(priced.times(1), cost));
            begun.push(least(*without, again));
        }
        let all = (0..size).map(|rest| {
            let reach = item_cover(&priced.item, priced.item.first).min(rest as u64) as usize;
            let begin = begun[rest - reach].map(|cost| plus(priced.times(priced.item.first), cost));
            least(after[rest], begin)
        });
        let all: Vec<Option<Weight>> = all.collect();
        from.push(all);
        more.push(begun);
    }
    from.reverse();
    more.reverse();
    (from, more)
}

fn least(a: Option<Weight>, b: Option<Weight>) -> Option<Weight> {
    match (a, b) {
        (Some(a), Some(b)) => Some(a.min(b)),
        (one, other) => one.or(other),
    }
}
