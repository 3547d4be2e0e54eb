//! Which suppliers are used, pay delivery or reach their free limit.
//!
//! Branch and bound over what each supplier that binds the whole order is to do. What must be spent
//! with a supplier is relaxed: each minor unit spent there earns a rebate, and the demands are then
//! met each by itself. Every choice of rebates gives a bound; the rebates are raised until the
//! goods reach their limits or nothing is gained.

use std::collections::HashMap;

use super::cover::{Task, Way, Ways};
use super::gap::Gap;
use super::price::{Prices, SCALE, whole};
use super::top_up::TopUp;
use super::{Amount, Bought, Order, Terms, Wanted, Work};

/// What an order is limited to.
#[derive(Debug, Clone, Copy)]
pub(in super::super) struct Limits {
    /// A bit for each supplier that may be asked.
    pub open: u64,
    /// Steps of the searches at most.
    pub steps: u64,
}

/// What a supplier is to do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Role {
    /// Not settled: no charge, and no least order.
    Open,
    /// Nothing is bought there.
    Closed,
    /// It is paid for delivery.
    Paid,
    /// The goods reach its free limit.
    Free,
}

/// Halvings of the span that a rebate lies in.
const HALVINGS: u32 = 8;

/// Steps to close one gap at most: few at first, so that no single one keeps the search from good
/// orders elsewhere.
const GAP_STEPS: [u64; 3] = [30_000, 300_000, u64::MAX];

/// Most of a price that a rebate takes off: at the full price, more goods than are of use would cost
/// nothing.
const MOST_REBATE: (Amount, Amount) = (63, 64);

/// Rounds over all rebates.
const ROUNDS: usize = 3;

/// The cheapest order within limits, or the cheapest that was found; `None` where there is none.
pub(in super::super) fn cheapest(order: &Order, limits: Limits) -> Option<Bought> {
    let mut search = Search::new(order, limits);
    let roles = (0..order.suppliers.len()).map(|supplier| {
        if limits.open & (1 << supplier) == 0 {
            Role::Closed
        } else {
            Role::Open
        }
    });
    let roles: Vec<Role> = roles.collect();
    let mut bound = None;
    for steps in GAP_STEPS {
        search.gap_steps = steps;
        bound = search.explore(&roles, 0);
        if bound.is_none_or(|bound| !search.is_below_best(bound)) || search.work.is_done() {
            break;
        }
    }
    let found = search.best?;
    Some(Bought {
        bound: bound.unwrap_or(found.cost).min(found.cost),
        packs: found.packs,
        cost: found.cost,
    })
}

/// Whether suppliers can meet every demand, their smallest orders left aside.
pub(in super::super) fn is_possible(order: &Order, open: u64) -> bool {
    let rebates = vec![0; order.suppliers.len()];
    let prices = Prices {
        open,
        rebates: &rebates,
        weights: &rebates,
    };
    let mut demands = order.demands.iter();
    demands.all(|demand| {
        if matches!(demand.wanted, Wanted::Pieces(_)) {
            return demand
                .offers
                .iter()
                .any(|offer| prices.is_open(offer.supplier));
        }
        let mut task = Task::new(demand, &[]);
        let mut ways = Ways::new(&task, prices);
        ways.next(&mut task, &mut Work::new(10_000)).is_some()
    })
}

/// An order that was found.
#[derive(Debug, Clone)]
struct Found {
    cost: Amount,
    packs: Vec<Vec<u32>>,
}

/// All demands met at some rebates.
#[derive(Debug, Clone)]
struct Met {
    /// No order in these roles costs less, in parts of a unit.
    bound: Amount,
    /// The order that gives the bound.
    packs: Vec<Vec<u32>>,
    /// What it spends with each supplier.
    spent: Vec<Amount>,
}

/// The best way to meet one demand at some prices.
#[derive(Debug, Clone)]
struct Best {
    /// No way costs less, in parts of a unit.
    floor: Amount,
    packs: Vec<u32>,
}

/// Best ways at prices met before, by the suppliers asked and their rebates; looked up only, never
/// listed.
type Known = HashMap<(u64, Vec<Amount>), Option<Best>>;

struct Search<'a> {
    order: &'a Order,
    tasks: Vec<Task>,
    /// Suppliers of each demand.
    own: Vec<u64>,
    /// What is known of each demand.
    known: Vec<Known>,
    /// Cost of one minor unit of each supplier's prices.
    weights: Vec<Amount>,
    top_ups: Vec<TopUp>,
    best: Option<Found>,
    gap_steps: u64,
    work: Work,
}

impl<'a> Search<'a> {
    fn new(order: &'a Order, limits: Limits) -> Self {
        let goals = order.suppliers.iter().map(Terms::highest_goal);
        let goals: Vec<Amount> = goals.collect();
        let demands = order.demands.iter();
        let own = |demand: &super::Demand| {
            let suppliers = demand.offers.iter().map(|offer| 1 << offer.supplier);
            suppliers.fold(0, |all, one: u64| all | one)
        };
        Self {
            order,
            tasks: demands
                .clone()
                .map(|demand| Task::new(demand, &goals))
                .collect(),
            own: demands.map(own).collect(),
            known: vec![HashMap::new(); order.demands.len()],
            weights: order.suppliers.iter().map(|terms| terms.weight).collect(),
            top_ups: (0..order.suppliers.len())
                .map(|supplier| TopUp::of(order, supplier))
                .collect(),
            best: None,
            gap_steps: 0,
            work: Work::new(limits.steps),
        }
    }

    /// Searches all orders in these roles, which cost at least `least`. Gives a cost that none of
    /// them goes below; `None` where there is none, or none below the best known.
    fn explore(&mut self, roles: &[Role], least: Amount) -> Option<Amount> {
        let goals = self.goals(roles);
        let none = vec![0; roles.len()];
        let Some(mut met) = self.meet(roles, &goals, &none) else {
            // Without work left, nothing is known of what cannot be met.
            return self.work.is_done().then_some(least);
        };
        self.note_topped(&met, &goals);
        let mut rebates = none;
        if self.may_gain(met.bound) && short(&goals, &met.spent).is_some() {
            (rebates, met) = self.raise(roles, &goals, met);
        }
        if !self.may_gain(met.bound) {
            return None;
        }
        let bound = whole(met.bound);
        if self.work.is_done() {
            return Some(bound);
        }
        if let Some(supplier) = self.unsettled(roles, &met.spent) {
            return self.branch(roles, supplier, bound);
        }
        if short(&goals, &met.spent).is_none() && rebates.iter().all(|rebate| *rebate == 0) {
            // What is spent where it is free costs what the bound says.
            return Some(bound);
        }
        let gap = Gap {
            goals: &goals,
            prices: Prices {
                open: open(roles),
                rebates: &rebates,
                weights: &self.weights,
            },
            top_ups: &self.top_ups,
            charges: self.charges(roles),
            bound: met.bound,
            below: self.upper(),
        };
        let mut work = self.work.part(self.gap_steps);
        let closed = gap.close(&mut self.tasks, &mut work);
        self.work.give_back(self.gap_steps, work);
        let Some(packs) = closed.packs else {
            return closed.bound;
        };
        self.note(&packs);
        let spent = self.spent(&packs);
        match self.unsettled(roles, &spent) {
            Some(supplier) if !self.work.is_done() => self.branch(roles, supplier, bound),
            _ => closed.bound,
        }
    }

    /// Settles one supplier in each way.
    fn branch(&mut self, roles: &[Role], supplier: usize, least: Amount) -> Option<Amount> {
        let terms = self.order.suppliers[supplier];
        let ways = [
            Some(Role::Paid),
            terms.free_from.map(|_| Role::Free),
            Some(Role::Closed),
        ];
        let bounds = ways.into_iter().flatten().filter_map(|role| {
            let mut roles = roles.to_vec();
            roles[supplier] = role;
            self.explore(&roles, least)
        });
        bounds.min()
    }

    /// The supplier that is used against its terms, of several the one with the highest charge.
    fn unsettled(&self, roles: &[Role], spent: &[Amount]) -> Option<usize> {
        let open = (0..roles.len()).filter(|supplier| roles[*supplier] == Role::Open);
        let wrong = open.filter(|supplier| {
            let (terms, goods) = (self.order.suppliers[*supplier], spent[*supplier]);
            goods > 0 && (goods < terms.smallest || terms.charged(goods) > 0)
        });
        wrong.max_by_key(|supplier| {
            (
                self.order.suppliers[*supplier].charge,
                usize::MAX - supplier,
            )
        })
    }

    /// What must be spent with each supplier.
    fn goals(&self, roles: &[Role]) -> Vec<Amount> {
        let goal = |(role, terms): (&Role, &Terms)| match role {
            Role::Open | Role::Closed => 0,
            Role::Paid => terms.smallest,
            Role::Free => terms.free_from.unwrap_or(0).max(terms.smallest),
        };
        roles.iter().zip(&self.order.suppliers).map(goal).collect()
    }

    /// Cost of delivery by those who are paid for it.
    fn charges(&self, roles: &[Role]) -> Amount {
        let both = roles.iter().zip(&self.order.suppliers);
        let paid = both.filter(|(role, _)| **role == Role::Paid);
        paid.map(|(_, terms)| terms.charge).sum::<Amount>() * self.order.charge_weight
    }

    /// Raises the rebates, one supplier after the other, while the bound rises.
    fn raise(&mut self, roles: &[Role], goals: &[Amount], start: Met) -> (Vec<Amount>, Met) {
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
    fn meet(&mut self, roles: &[Role], goals: &[Amount], rebates: &[Amount]) -> Option<Met> {
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

    /// What an order spends with each supplier.
    fn spent(&self, packs: &[Vec<u32>]) -> Vec<Amount> {
        let mut spent = vec![0; self.order.suppliers.len()];
        for (demand, packs) in self.order.demands.iter().zip(packs) {
            for (offer, packs) in demand.offers.iter().zip(packs) {
                spent[offer.supplier] += offer.price(*packs);
            }
        }
        spent
    }

    /// Remembers an order, and the same with goods added where goals are not reached.
    fn note_topped(&mut self, met: &Met, goals: &[Amount]) {
        self.note(&met.packs);
        let mut packs = met.packs.clone();
        let mut is_topped = false;
        for (supplier, goal) in goals.iter().enumerate() {
            let missing = goal - met.spent[supplier];
            if missing <= 0 {
                continue;
            }
            let top_up = &self.top_ups[supplier];
            let Some(sum) = top_up.sum(missing) else {
                return;
            };
            for (demand, offer) in top_up.packs(sum) {
                packs[demand][offer] += 1;
            }
            is_topped = true;
        }
        if is_topped {
            self.note(&packs);
        }
    }

    /// Remembers an order that keeps everybody's terms, if it is the cheapest so far.
    fn note(&mut self, packs: &[Vec<u32>]) {
        let mut cost = 0;
        for (terms, goods) in self.order.suppliers.iter().zip(self.spent(packs)) {
            cost += goods * terms.weight;
            if goods > 0 && goods < terms.smallest {
                return;
            }
            if goods > 0 {
                cost += terms.charged(goods) * self.order.charge_weight;
            }
        }
        if self.upper().is_none_or(|upper| cost < upper) {
            self.best = Some(Found {
                cost,
                packs: packs.to_vec(),
            });
        }
    }

    /// Cost of the best order; only those that cost less are of use.
    fn upper(&self) -> Option<Amount> {
        self.best.as_ref().map(|found| found.cost)
    }

    fn may_gain(&self, bound: Amount) -> bool {
        self.is_below_best(whole(bound))
    }

    fn is_below_best(&self, bound: Amount) -> bool {
        self.upper().is_none_or(|upper| bound < upper)
    }
}

/// A bit for each supplier that is asked.
fn open(roles: &[Role]) -> u64 {
    let asked = (0..roles.len()).filter(|supplier| roles[*supplier] != Role::Closed);
    asked.fold(0, |all, supplier| all | (1 << supplier))
}

/// A supplier whose goal is not reached.
fn short(goals: &[Amount], spent: &[Amount]) -> Option<usize> {
    (0..goals.len()).find(|supplier| spent[*supplier] < goals[*supplier])
}
