//! More than a kit can be worth: a bound by prices.
//!
//! Give each limit a price for its use, and let each want pay a part of its weight for the items of
//! its ways. What any kit is worth is then no more than the sum of
//!
//! - the limits at their prices,
//! - what each want has left after paying for the cheapest of its ways, if that is above nothing, and
//! - what each item is paid beyond its own price and its use of the limits, if that is above nothing.
//!
//! That holds for every choice of prices and parts; it is the dual of the linear relaxation. The
//! choice is bettered by subgradient steps. What a want has left, and what an item is paid beyond or
//! below its cost, tells by how much the bound falls where the want is not met, or where the item is
//! left or taken all the same.

use super::problem::Problem;

/// What is settled about an item.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Settled {
    /// Nothing yet.
    Open,
    /// It is taken.
    In,
    /// It is left.
    Out,
}

/// What is settled so far.
#[derive(Debug, Clone)]
pub(super) struct State {
    /// Of each item.
    pub items: Vec<Settled>,
    /// Whether each want must be met, for a better kit than the best known.
    pub needed: Vec<bool>,
}

/// The prices of the limits, and what each want pays for each item of its ways.
#[derive(Debug, Clone)]
pub(super) struct Prices {
    limits: [f64; 3],
    paid: Vec<Vec<f64>>,
}

/// A problem in the figures of the bound: worth in units of weight, limits as one.
#[derive(Debug)]
pub(super) struct Scaled<'a> {
    problem: &'a Problem,
    /// Worth of an item's own price and mass, far below one weight.
    own: Vec<f64>,
    /// Part of each limit that an item takes.
    part: Vec<[f64; 3]>,
    /// For each want the items of its ways, each once.
    items: Vec<Vec<usize>>,
    /// For each want and way, the places of the way's items among the want's.
    ways: Vec<Vec<Vec<usize>>>,
}

/// A bound with what it was reckoned from.
#[derive(Debug, Clone)]
pub(super) struct Bound {
    /// No kit that agrees with what is settled is worth more.
    pub value: f64,
    /// The prices behind it.
    pub prices: Prices,
    /// How often each open item was worth taking during the steps, from 0 to 1.
    pub taken: Vec<f64>,
    /// What each want that is still waiting has left.
    pub left: Vec<f64>,
    /// What each open item is paid beyond its cost; below zero where it is paid less.
    pub gains: Vec<f64>,
}

/// One reckoning: the bound and the way it falls.
struct Reckoned {
    value: f64,
    limits: [f64; 3],
    paid: Vec<Vec<f64>>,
    left: Vec<f64>,
    gains: Vec<f64>,
}

impl<'a> Scaled<'a> {
    pub(super) fn of(problem: &'a Problem) -> Self {
        let total = problem.burden(&vec![true; problem.items.len()]);
        // One more unit of weight is worth more than all money, one of money more than all mass.
        let money = total.price.min(problem.limits.price) as f64 + 1.0;
        let mass = total.grams.min(problem.limits.grams) as f64 + 1.0;
        let limits = problem.limits.figures();
        let own = problem.items.iter();
        let own = own.map(|item| (item.price as f64 + item.grams as f64 / mass) / money);
        let part = problem.items.iter().map(|item| {
            let mut part = [0.0; 3];
            for ((part, figure), limit) in part.iter_mut().zip(item.figures()).zip(limits) {
                *part = figure as f64 / limit.max(1) as f64;
            }
            part
        });
        let items: Vec<Vec<usize>> = problem
            .wants
            .iter()
            .map(|want| {
                let mut items: Vec<usize> = want.ways.iter().flatten().copied().collect();
                items.sort_unstable();
                items.dedup();
                items
            })
            .collect();
        let place = |items: &[usize], item: usize| items.iter().position(|one| *one == item);
        let ways = problem.wants.iter().zip(&items).map(|(want, items)| {
            let ways = want.ways.iter();
            ways.map(|way| way.iter().filter_map(|item| place(items, *item)).collect())
                .collect()
        });
        Self {
            own: own.collect(),
            part: part.collect(),
            ways: ways.collect(),
            items,
            problem,
        }
    }

    /// Prices to start from: nothing for the limits, all of a want's weight shared out evenly.
    pub(super) fn first_prices(&self) -> Prices {
        let wants = self.problem.wants.iter().zip(&self.items);
        let paid = wants
            .map(|(want, items)| vec![want.weight as f64 / items.len().max(1) as f64; items.len()]);
        Prices {
            limits: [0.0; 3],
            paid: paid.collect(),
        }
    }

    /// What a kit is worth in the figures of the bound.
    pub(super) fn worth(&self, taken: &[bool]) -> f64 {
        let own: f64 = self
            .own
            .iter()
            .zip(taken)
            .filter(|(_, taken)| **taken)
            .map(|(own, _)| own)
            .sum();
        self.problem.weight(taken) as f64 - own
    }

    /// Figures that one reckoning looks at; a measure of work.
    pub(super) fn size(&self) -> u64 {
        let pairs: usize = self.items.iter().map(Vec::len).sum();
        (pairs + self.problem.items.len()) as u64
    }

    /// Takes so many steps towards the least bound, and stops below `enough`.
    pub(super) fn bound(&self, state: &State, start: Prices, steps: u32, enough: f64) -> Bound {
        const STALE: u32 = 8;
        let mut prices = start;
        let mut best = Bound {
            value: f64::INFINITY,
            prices: prices.clone(),
            taken: vec![0.0; state.items.len()],
            left: Vec::new(),
            gains: Vec::new(),
        };
        let (mut stride, mut stale, mut done) = (1.0, 0, 0.0);
        for _ in 0..steps {
            let now = self.reckon(state, &prices);
            done += 1.0;
            for (often, gain) in best.taken.iter_mut().zip(&now.gains) {
                *often += f64::from(u8::from(*gain > 0.0));
            }
            if now.value < best.value {
                best.value = now.value;
                best.prices = prices.clone();
                best.left.clone_from(&now.left);
                best.gains.clone_from(&now.gains);
                stale = 0;
            } else {
                stale += 1;
            }
            if stale > STALE {
                (stride, stale) = (stride / 2.0, 0);
            }
            let square = now
                .limits
                .iter()
                .chain(now.paid.iter().flatten())
                .map(|one| one * one);
            let square: f64 = square.sum();
            if best.value < enough || square <= 0.0 {
                break;
            }
            let step = stride * (now.value - enough).max(0.0) / square;
            for (price, slope) in prices.limits.iter_mut().zip(now.limits) {
                *price = (*price - step * slope).max(0.0);
            }
            for (paid, slope) in prices
                .paid
                .iter_mut()
                .flatten()
                .zip(now.paid.iter().flatten())
            {
                *paid = (*paid - step * slope).max(0.0);
            }
        }
        for often in &mut best.taken {
            *often /= f64::max(done, 1.0);
        }
        best
    }

    fn reckon(&self, state: &State, prices: &Prices) -> Reckoned {
        let settled = &state.items;
        let count = settled.len();
        let mut value = 0.0;
        let mut left = [1.0; 3];
        for (item, settled) in settled.iter().enumerate() {
            if *settled == Settled::In {
                value -= self.own[item];
                for (left, part) in left.iter_mut().zip(self.part[item]) {
                    *left -= part;
                }
            }
        }
        let mut income = vec![0.0; count];
        let mut slopes: Vec<Vec<f64>> = Vec::with_capacity(self.items.len());
        let mut active = Vec::with_capacity(self.items.len());
        let mut rest = Vec::with_capacity(self.items.len());
        for want in 0..self.items.len() {
            let chosen = self.cheapest(want, state, &prices.paid[want]);
            value += chosen.left;
            rest.push(if chosen.open { chosen.left } else { 0.0 });
            let mut slope = vec![0.0; self.items[want].len()];
            for place in chosen.way.unwrap_or_default() {
                if settled[self.items[want][*place]] == Settled::Open {
                    slope[*place] -= 1.0;
                }
            }
            if chosen.open {
                for (place, item) in self.items[want].iter().enumerate() {
                    income[*item] += prices.paid[want][place];
                }
            }
            active.push(chosen.open);
            slopes.push(slope);
        }
        let mut gains = vec![0.0; count];
        let mut limits = left;
        for item in (0..count).filter(|item| settled[*item] == Settled::Open) {
            let use_of_limits = self.part[item]
                .iter()
                .zip(prices.limits)
                .map(|(part, price)| part * price);
            let gain = income[item] - self.own[item] - use_of_limits.sum::<f64>();
            gains[item] = gain;
            if gain > 0.0 {
                value += gain;
                for (limit, part) in limits.iter_mut().zip(self.part[item]) {
                    *limit -= part;
                }
            }
        }
        for (want, slope) in slopes
            .iter_mut()
            .enumerate()
            .filter(|(want, _)| active[*want])
        {
            for (place, item) in self.items[want].iter().enumerate() {
                if gains[*item] > 0.0 {
                    slope[place] += 1.0;
                }
            }
        }
        value += left
            .iter()
            .zip(prices.limits)
            .map(|(left, price)| left * price)
            .sum::<f64>();
        Reckoned {
            value,
            limits,
            paid: slopes,
            left: rest,
            gains,
        }
    }

    /// What a want has left after paying for the cheapest way that is still open, and that way where
    /// it is worth paying for.
    fn cheapest(&self, want: usize, state: &State, paid: &[f64]) -> Chosen<'_> {
        let items = &self.items[want];
        let is = |place: &usize, what: Settled| state.items[items[*place]] == what;
        let weight = self.problem.wants[want].weight as f64;
        let mut best: Option<(f64, &[usize])> = None;
        for way in &self.ways[want] {
            if way.iter().any(|place| is(place, Settled::Out)) {
                continue;
            }
            if way.iter().all(|place| is(place, Settled::In)) {
                return Chosen::settled(weight);
            }
            let open = way.iter().filter(|place| is(place, Settled::Open));
            let cost: f64 = open.map(|place| paid[*place]).sum();
            if best.is_none_or(|(least, _)| cost < least) {
                best = Some((cost, way));
            }
        }
        match best {
            None => Chosen::settled(0.0),
            Some((cost, way)) if cost < weight || state.needed[want] => Chosen {
                left: weight - cost,
                way: Some(way),
                open: true,
            },
            Some(_) => Chosen {
                left: 0.0,
                way: None,
                open: true,
            },
        }
    }
}

/// What became of a want in a reckoning.
struct Chosen<'a> {
    /// What it has left.
    left: f64,
    /// The way that it pays for.
    way: Option<&'a [usize]>,
    /// Whether items are still to be settled for it.
    open: bool,
}

impl Chosen<'_> {
    const fn settled(left: f64) -> Self {
        Self {
            left,
            way: None,
            open: false,
        }
    }
}
