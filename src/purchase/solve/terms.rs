//! Which suppliers are used, pay delivery or reach their free limit.
//!
//! Branch and bound over what each supplier that binds the whole order is to do. What must be spent
//! with a supplier is relaxed: each minor unit spent there earns a rebate, and the demands are then
//! met each by itself. Every choice of rebates gives a bound; the rebates are raised until the
//! goods reach their limits or nothing is gained.

use super::cover::{Task, Ways};
use super::gap::Gap;
use super::price::{Prices, whole};
use super::rebates::{Known, Met};
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
pub(super) enum Role {
    /// Not settled: no charge, and no least order.
    Open,
    /// Nothing is bought there.
    Closed,
    /// It is paid for delivery.
    Paid,
    /// The goods reach its free limit.
    Free,
}

/// Steps to close one gap at most: few at first, so that no single one keeps the search from good
/// orders elsewhere.
const GAP_STEPS: [u64; 3] = [30_000, 300_000, u64::MAX];

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

/// A search for the cheapest order.
pub(super) struct Search<'a> {
    order: &'a Order,
    pub(super) tasks: Vec<Task>,
    /// Suppliers of each demand.
    pub(super) own: Vec<u64>,
    /// What is known of each demand.
    pub(super) known: Vec<Known>,
    /// Cost of one minor unit of each supplier's prices.
    pub(super) weights: Vec<Amount>,
    top_ups: Vec<TopUp>,
    best: Option<Found>,
    gap_steps: u64,
    pub(super) work: Work,
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
            known: vec![Known::new(); order.demands.len()],
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
    pub(super) fn charges(&self, roles: &[Role]) -> Amount {
        let both = roles.iter().zip(&self.order.suppliers);
        let paid = both.filter(|(role, _)| **role == Role::Paid);
        paid.map(|(_, terms)| terms.charge).sum::<Amount>() * self.order.charge_weight
    }

    /// What an order spends with each supplier.
    pub(super) fn spent(&self, packs: &[Vec<u32>]) -> Vec<Amount> {
        let mut spent = vec![0; self.order.suppliers.len()];
        for (demand, packs) in self.order.demands.iter().zip(packs) {
            for (offer, packs) in demand.offers.iter().zip(packs) {
                spent[offer.supplier] += offer.price(*packs);
            }
        }
        spent
    }

    /// Remembers an order, and the same with goods added where goals are not reached.
    pub(super) fn note_topped(&mut self, met: &Met, goals: &[Amount]) {
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

    pub(super) fn may_gain(&self, bound: Amount) -> bool {
        self.is_below_best(whole(bound))
    }

    fn is_below_best(&self, bound: Amount) -> bool {
        self.upper().is_none_or(|upper| bound < upper)
    }
}

/// A bit for each supplier that is asked.
pub(super) fn open(roles: &[Role]) -> u64 {
    let asked = (0..roles.len()).filter(|supplier| roles[*supplier] != Role::Closed);
    asked.fold(0, |all, supplier| all | (1 << supplier))
}

/// A supplier whose goal is not reached.
fn short(goals: &[Amount], spent: &[Amount]) -> Option<usize> {
    (0..goals.len()).find(|supplier| spent[*supplier] < goals[*supplier])
}
