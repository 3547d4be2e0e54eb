//! What a device asks of every conductor that it guards.

use super::exact::Exact;
use super::outfit::{Outfit, Stock};
use super::problem::Pair;
use super::shares::Shares;
use crate::catalog::Protective;
use crate::check::HAIR;
use crate::circuit::{Guarded, Guarding};

/// What a device asks of a conductor.
#[derive(Debug, Clone)]
pub struct Demand {
    /// Of what kind it is.
    pub kind: DemandKind,
    /// The demand in numbers.
    pub pair: Pair,
}

impl Demand {
    /// What it is known by, whatever the options.
    pub fn key(&self) -> DemandKey {
        (self.pair.asks, self.pair.allows, self.kind)
    }
}

/// Lead, conductor and kind.
pub type DemandKey = (usize, usize, DemandKind);

/// Kinds of demands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DemandKind {
    /// No larger a rating than it may carry.
    Rating,
    /// No more heat let through than it stands.
    Heat,
}

/// The demands of all devices. `strong` is the job at its thickest, where shorts draw most: a device
/// that lets through too much heat there does so everywhere. Of conductors whose shares of a short are
/// not known, nothing is asked.
pub fn pairs(
    stock: &Stock<'_>,
    options: &[Vec<Outfit>],
    strong: &Exact<'_>,
    shares: &impl Shares,
) -> Vec<Demand> {
    let guarded = |lead: &usize| options[*lead].iter().any(|outfit| outfit.device.is_some());
    let leads = (0..options.len()).filter(guarded);
    leads
        .flat_map(|lead| {
            let task = strong.task(lead);
            let asking = Asking::of(stock, options, lead, &task);
            let asked = |conductor: &Guarded| {
                let rating = asking.rating(conductor).into_iter();
                let shares = shares.of(lead, conductor);
                rating.chain(shares.map(|shares| asking.heat(conductor, &shares)))
            };
            let conductors = task.conductors.iter();
            conductors.flat_map(asked).collect::<Vec<_>>()
        })
        .collect()
}

/// One lead's device, which asks.
struct Asking<'s, 'a> {
    stock: &'s Stock<'a>,
    options: &'s [Vec<Outfit>],
    lead: usize,
    task: &'s Guarding<'a>,
    /// The rating of each option's device.
    ratings: Vec<f64>,
    /// The heat that it lets through, in A²s.
    let_through: Vec<f64>,
}

impl<'s, 'a> Asking<'s, 'a> {
    fn of(
        stock: &'s Stock<'a>,
        options: &'s [Vec<Outfit>],
        lead: usize,
        task: &'s Guarding<'a>,
    ) -> Self {
        let devices = || options[lead].iter().map(|outfit| stock.device(outfit));
        let rating = |device: Option<&Protective<'_>>| device.map_or(0.0, |it| it.rating.a());
        let let_through = |device: Option<&Protective<'_>>| {
            device.map_or(0.0, |device| {
                let time = device.in_air(task.demand.cold).opens_within(task.fault_far);
                time.map_or(f64::INFINITY, |time| task.fault_far.a().powi(2) * time.s())
            })
        };
        Self {
            ratings: devices().map(rating).collect(),
            let_through: devices().map(let_through).collect(),
            stock,
            options,
            lead,
            task,
        }
    }

    fn demand(&self, kind: DemandKind, asked: &[f64], allows: usize, allowed: Vec<f64>) -> Demand {
        let pair = Pair {
            asks: self.lead,
            asked: asked.to_vec(),
            allows,
            allowed,
        };
        Demand { kind, pair }
    }

    /// No larger a rating than another conductor may carry.
    fn rating(&self, conductor: &Guarded) -> Option<Demand> {
        let other = conductor.lead.0;
        if other == self.lead || !conductor.is_own() {
            return None;
        }
        let most = self.task.rules.protection_most.value.fraction();
        let carries = |outfit: &Outfit| self.carries(conductor, outfit) * most;
        let allowed = self.options[other].iter().map(carries).collect();
        Some(self.demand(DemandKind::Rating, &self.ratings, other, allowed))
    }

    /// No more heat let through than a conductor stands; nothing where all that can flow is less than
    /// it carries for hours.
    fn heat(&self, conductor: &Guarded, shares: &[f64]) -> Demand {
        let other = conductor.lead.0;
        let stands = |(outfit, share): (&Outfit, &f64)| {
            let carries = self.carries(conductor, outfit) * (1.0 + HAIR);
            match self.task.limited {
                Some(limit) if limit.a() <= carries => f64::INFINITY,
                _ => self.stock.withstands(other, outfit) / share.powi(2),
            }
        };
        let options = self.options[other].iter();
        let allowed = options.zip(shares).map(stands).collect();
        self.demand(DemandKind::Heat, &self.let_through, other, allowed)
    }

    /// What a conductor may carry with one of its options.
    fn carries(&self, conductor: &Guarded, outfit: &Outfit) -> f64 {
        if conductor.is_own() {
            let candidate = self.stock.candidate(conductor.lead.0, outfit);
            candidate.allowed.current.a()
        } else {
            f64::INFINITY
        }
    }
}

/// What the devices of some leads, which guard them with no sizes, ask all the same: what the option
/// that keeps most of it keeps, among the thickest options of the others.
pub fn worth_asking(
    demands: &[Demand],
    unguarded: &[usize],
    options: &[Vec<Outfit>],
    generous: &[usize],
) -> Vec<DemandKey> {
    let holds = |demand: &Demand, option: usize| demand.pair.holds_among(option, generous);
    let mut worth = Vec::new();
    for lead in unguarded {
        let own = || demands.iter().filter(|demand| demand.pair.asks == *lead);
        let count = |option: &usize| own().filter(|demand| holds(demand, *option)).count();
        // Of options that keep as much, the cheapest: they are in that order.
        let most = (0..options[*lead].len()).rev().max_by_key(count);
        let Some(most) = most else { continue };
        let kept = own().filter(|demand| holds(demand, most));
        worth.extend(kept.map(Demand::key));
    }
    worth
}

/// Leaves out options that break a demand by themselves.
pub fn alone(options: &mut [Vec<Outfit>], demands: &[Demand]) {
    let pairs = demands.iter().map(|demand| &demand.pair);
    let own = pairs.filter(|pair| pair.asks == pair.allows);
    let mut keep: Vec<Vec<bool>> = options
        .iter()
        .map(|outfits| vec![true; outfits.len()])
        .collect();
    for pair in own {
        for (option, keep) in keep[pair.asks].iter_mut().enumerate() {
            *keep &= pair.holds(option, option);
        }
    }
    for (outfits, keep) in options.iter_mut().zip(keep) {
        if keep.contains(&true) {
            let mut keep = keep.into_iter();
            outfits.retain(|_| keep.next().unwrap_or(true));
        }
    }
}
