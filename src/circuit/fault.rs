//! What a dead short draws.

use super::guarding::chain;
use super::limited::converters;
use super::network::Network;
use super::shorts::{Hindrance, Short, Shorts};
use super::wiring::Wiring;
use crate::catalog::Polarity;
use crate::job::{LeadId, Owner, TerminalId};
use crate::quantity::{Current, Length, Resistance};

/// Resistance of the short itself. A bolted fault has next to none.
const BOLTED_OHM: f64 = 1e-5;

/// The currents of dead shorts anywhere in a job as it is wired.
#[derive(Debug, Clone)]
pub struct Faults {
    strong: Shorts,
    weak: Shorts,
    /// Sum of what the alternators give.
    alternators_a: f64,
    /// Negative nodes of the sources.
    poles: Vec<TerminalId>,
    /// Resistance of a fault that is not bolted.
    contact_ohm: f64,
}

/// Least and largest of something.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// The least.
    pub least: Current,
    /// The largest.
    pub largest: Current,
}

/// All shorts of one metre of a lead: to every return and every point of the body.
#[derive(Debug, Clone)]
pub struct Spot {
    strong: Vec<Short>,
    weak: Vec<Short>,
}

impl Spot {
    /// Whether anything can drive a current into a short there.
    pub fn is_fed(&self) -> bool {
        !self.weak.is_empty()
    }
}

impl Faults {
    /// Works out the network for the largest and for the smallest currents.
    pub fn of(wiring: &Wiring<'_>) -> Self {
        let job = wiring.job;
        let batteries = job.batteries.iter();
        let limits = job.alternators.iter().map(|item| item.given.limit.a());
        Self {
            strong: strong(wiring),
            weak: weak(wiring),
            alternators_a: limits.sum(),
            poles: batteries.map(|battery| battery.negative).collect(),
            contact_ohm: job.rules.fault_contact.value.ohm().max(BOLTED_OHM),
        }
    }

    /// The largest current that a short at the start of a lead can draw through it: full and warm
    /// battery, cold conductors, devices without resistance, alternators giving their limit. A
    /// maker's short-circuit current wins over one worked out from resistance.
    pub fn largest(&self, wiring: &Wiring<'_>, lead: LeadId) -> Current {
        if let Some(limit) = wiring.frames.limited[lead.0] {
            return limit;
        }
        let from = wiring.job.lead(lead).from;
        let returns = self.returns(wiring, from);
        let amps = returns.map(|to| self.strong.between(from, to, BOLTED_OHM));
        Current::from_a(amps.fold(0.0, f64::max) + self.beside_batteries(wiring, lead))
    }

    /// The returns that a short at a terminal may go to. The one with least resistance decides; which
    /// one that is depends on the network.
    fn returns(&self, wiring: &Wiring<'_>, from: TerminalId) -> impl Iterator<Item = TerminalId> {
        let poles = self.poles.iter().copied();
        poles.chain(near_return(wiring, from))
    }

    /// What comes to the largest short from others than batteries, in amperes.
    pub fn beside_batteries(&self, wiring: &Wiring<'_>, lead: LeadId) -> f64 {
        self.alternators_a + converters(wiring.job, lead).a()
    }

    /// What hinders the largest current of a lead as far as it comes from batteries; `None` where
    /// their part in it is not what decides.
    pub fn hindrance_near(&self, wiring: &Wiring<'_>, lead: LeadId) -> Option<Hindrance> {
        if wiring.frames.limited[lead.0].is_some() {
            return None;
        }
        let from = wiring.job.lead(lead).from;
        let amps = |to: &TerminalId| self.strong.between(from, *to, BOLTED_OHM);
        let returns = self.returns(wiring, from);
        let worst = returns.max_by(|a, b| amps(a).total_cmp(&amps(b)))?;
        self.strong.hindrance(from, worst, BOLTED_OHM)
    }

    /// The smallest current that a short at the far end of a lead draws through the lead: cold and
    /// aged battery as charged, conductors as hot as their insulation allows, no alternator, a
    /// contact that is not bolted, the worst of all returns, the return as long as the way out where
    /// no nearer return is known. What feeds the far end has opened by then, or must by itself.
    pub fn smallest(&self, wiring: &Wiring<'_>, lead: LeadId) -> Current {
        if let Some(limit) = wiring.frames.limited[lead.0] {
            return limit;
        }
        let least = self.weakest(wiring, lead);
        Current::from_a(least.map_or(0.0, |(short, share)| short.alone * share))
    }

    /// The short at the far end that draws least through a lead, and the lead's part in it.
    fn weakest(&self, wiring: &Wiring<'_>, lead: LeadId) -> Option<(Short, f64)> {
        // Past a switch the fault may lie at the end of what goes on from it.
        let chain = chain(wiring.job, lead);
        let far = |part: &LeadId| {
            let end = wiring.route.leads[part.0].cut();
            let shorts = self.weak_shorts(wiring, &chain, *part, end).into_iter();
            let part = *part;
            shorts.map(move |short| (short, self.weak_share(lead, part, &short)))
        };
        let amps = |(short, share): &(Short, f64)| short.alone * share;
        let shorts = chain.iter().flat_map(far);
        shorts.min_by(|a, b| amps(a).total_cmp(&amps(b)))
    }

    /// What hinders the smallest current of a lead; `None` where a source limits it by itself.
    pub fn hindrance_far(&self, wiring: &Wiring<'_>, lead: LeadId) -> Option<Hindrance> {
        if wiring.frames.limited[lead.0].is_some() {
            return None;
        }
        let (short, share) = self.weakest(wiring, lead)?;
        let mut hindrance = self.weak.hindrance_alone(&short)?;
        hindrance.per_amp /= share;
        hindrance
            .slopes
            .iter_mut()
            .for_each(|slope| *slope /= share);
        Some(hindrance)
    }

    /// Part of what comes to a short from its lead's first end that flows through another lead.
    fn weak_share(&self, lead: LeadId, faulty: LeadId, short: &Short) -> f64 {
        if lead == faulty || short.near <= 0.0 {
            return 1.0;
        }
        (self.weak.through(lead, short) / short.near).min(1.0)
    }

    /// All shorts at a metre of a lead.
    pub fn at(&self, wiring: &Wiring<'_>, lead: LeadId, at: Length) -> Spot {
        let ends = [wiring.job.lead(lead).from, wiring.job.lead(lead).to];
        let near = ends.iter().filter_map(|end| near_return(wiring, *end));
        let poles = self.poles.iter().copied();
        let grounds = near.chain(body(wiring)).chain(poles);
        let joined = grounds.filter(|ground| self.strong.joined(ends[0], *ground));
        let strong = joined.filter_map(|ground| self.strong.at(lead, at, ground, BOLTED_OHM));
        Spot {
            strong: strong.collect(),
            weak: self.weak_shorts(wiring, &[lead], lead, at),
        }
    }

    /// The whole current of a short.
    pub fn total(&self, spot: &Spot) -> Span {
        self.span(spot, |_, short| short.amps)
    }

    /// Current of a short that comes from the lead's first end.
    pub fn from_near(&self, spot: &Spot) -> Span {
        self.span(spot, |_, short| short.near)
    }

    /// Current of a short that comes from the lead's last end.
    pub fn from_far(&self, spot: &Spot) -> Span {
        self.span(spot, |_, short| short.far)
    }

    /// Current through another lead under a short.
    pub fn through(&self, lead: LeadId, spot: &Spot) -> Span {
        self.span(spot, |shorts, short| shorts.through(lead, short))
    }

    /// The shorts at a spot of which the largest and the smallest whole current are, each with the
    /// network that it is in. Batteries alone drive them; alternators add to the largest.
    pub(super) fn deciding<'a>(
        &'a self,
        spot: &'a Spot,
    ) -> impl Iterator<Item = (&'static str, &'a Shorts, &'a Short)> {
        let by_amps = |a: &&Short, b: &&Short| a.amps.total_cmp(&b.amps);
        let largest = spot.strong.iter().max_by(by_amps);
        let smallest = spot.weak.iter().min_by(by_amps);
        let largest = largest.map(|short| ("largest", &self.strong, short));
        let smallest = smallest.map(|short| ("smallest", &self.weak, short));
        largest.into_iter().chain(smallest)
    }

    fn span(&self, spot: &Spot, amps: impl Fn(&Shorts, &Short) -> f64) -> Span {
        let weak = spot
            .weak
            .iter()
            .map(|short| amps(&self.weak, short).max(0.0));
        let strong = spot
            .strong
            .iter()
            .map(|short| amps(&self.strong, short).max(0.0));
        let least = weak.reduce(f64::min).unwrap_or(0.0);
        let largest = strong.fold(0.0, f64::max) + self.alternators_a;
        Span {
            least: Current::from_a(least),
            largest: Current::from_a(largest.max(least)),
        }
    }

    /// Shorts of the smallest currents at a metre of a lead that is the last of a chain.
    fn weak_shorts(
        &self,
        wiring: &Wiring<'_>,
        chain: &[LeadId],
        lead: LeadId,
        at: Length,
    ) -> Vec<Short> {
        let to = wiring.job.lead(lead).to;
        let near = near_return(wiring, to);
        let grounds = near.into_iter().chain(body(wiring));
        let joined = grounds.filter(|ground| self.weak.joined(to, *ground));
        let short = |ground, ohm| self.weak.at(lead, at, ground, self.contact_ohm + ohm);
        let mut shorts: Vec<Short> = joined.filter_map(|ground| short(ground, 0.0)).collect();
        let poles = self.poles.iter().copied();
        let pole = poles.clone().find(|pole| self.weak.joined(to, *pole));
        if let (None, Some(pole)) = (near, pole) {
            let before = chain.iter().take_while(|part| **part != lead);
            let before: f64 = before.map(|part| self.weak.branch_ohm(*part)).sum();
            let way_out = before + self.weak.branch_ohm(lead) * self.weak.part(lead, at);
            let ohms = (self.contact_ohm, way_out);
            shorts.extend(self.weak.there_and_back(lead, at, pole, ohms));
        }
        shorts
    }
}

impl Faults {
    /// The returns that a short at the far end of a lead goes through, to its own return or to any
    /// point of the body, each with the largest part of the current that it carries.
    pub fn return_shares(&self, wiring: &Wiring<'_>, lead: LeadId) -> Vec<(LeadId, f64)> {
        /// Less of the current than this does no harm that the rest does not do first.
        const LEAST_SHARE: f64 = 0.05;
        let job = wiring.job;
        if wiring.frames.limited[lead.0].is_some() {
            // No more than the limit flows back, which its own return carries for hours.
            return Vec::new();
        }
        let end = chain(job, lead).last().copied().unwrap_or(lead);
        let from = job.lead(end).to;
        let grounds: Vec<TerminalId> = body(wiring).chain(near_return(wiring, from)).collect();
        let shares: Vec<Vec<f64>> = grounds
            .iter()
            .map(|to| self.weak.shares(from, *to))
            .collect();
        let returns = job
            .leads()
            .filter(|(_, other)| other.polarity == Polarity::Negative);
        returns
            .map(|(id, _)| {
                let shares = shares.iter().map(|leads| leads[id.0]);
                (id, shares.fold(0.0, f64::max))
            })
            .filter(|(_, share)| *share >= LEAST_SHARE)
            .collect()
    }
}

impl Faults {
    /// The leads that a short at the far end of a lead goes through.
    pub fn carriers(&self, wiring: &Wiring<'_>, lead: LeadId) -> Vec<LeadId> {
        const LEAST_SHARE: f64 = 1e-6;
        let job = wiring.job;
        let end = chain(job, lead).last().copied().unwrap_or(lead);
        let from = job.lead(end).to;
        let pole = self.poles.first().copied();
        let Some(to) = near_return(wiring, from).or(pole) else {
            return Vec::new();
        };
        let shares = self.weak.shares(from, to);
        let all = job.leads().map(|(id, _)| id);
        all.filter(|id| shares[id.0] > LEAST_SHARE).collect()
    }
}

/// Everything that drives the largest fault current: cold conductors, devices without resistance.
fn strong(wiring: &Wiring<'_>) -> Shorts {
    let cold = vec![wiring.job.cold.c(); wiring.job.leads.len()];
    Shorts::of(&without_guards(wiring), &wiring.frames.strong, &cold)
}

fn without_guards<'a>(wiring: &Wiring<'a>) -> Wiring<'a> {
    Wiring {
        guards: vec![Resistance::ZERO; wiring.guards.len()],
        ..wiring.clone()
    }
}

/// Everything that drives the largest current.
pub(super) fn strong_network(wiring: &Wiring<'_>) -> Network {
    let cold = vec![wiring.job.cold.c(); wiring.job.leads.len()];
    let bare = without_guards(wiring);
    wiring.frames.strong.network(&bare, &cold)
}

/// Everything that hinders the smallest.
fn weak(wiring: &Wiring<'_>) -> Shorts {
    let hot: Vec<f64> = wiring.cables.iter().map(|cable| cable.rating.c()).collect();
    Shorts::of(wiring, &wiring.frames.weak, &hot)
}

/// Every point of the body and engine.
fn body(wiring: &Wiring<'_>) -> impl Iterator<Item = TerminalId> {
    wiring.job.chassis.iter().map(|point| point.terminal)
}

/// The return nearest to a terminal: the other pole of its load or source, else a negative bus or
/// chassis point at the same place.
fn near_return(wiring: &Wiring<'_>, terminal: TerminalId) -> Option<TerminalId> {
    let job = wiring.job;
    let own = match job.terminal(terminal).owner {
        Owner::Load(index) => job.loads.get(index).map(|item| item.negative),
        Owner::Battery(index) => job.batteries.get(index).map(|item| item.negative),
        Owner::Alternator(index) => job.alternators.get(index).map(|item| item.negative),
        Owner::Converter(index) => {
            let converter = job.converters.get(index);
            converter.map(|item| item.return_of(terminal))
        }
        Owner::Bus(_) | Owner::Device(_) | Owner::Chassis(_) => None,
    };
    let place = job.terminal(terminal).place;
    let is_return = |owner: Owner| match owner {
        Owner::Bus(index) => job.buses[index].given.polarity == Polarity::Negative,
        Owner::Chassis(_) => true,
        _ => false,
    };
    // A link of batteries in series ends at a negative pole: that is no return for itself.
    let own = own.filter(|near| *near != terminal);
    own.or_else(|| {
        let mut returns = job.terminals.iter().enumerate();
        returns
            .find(|(_, item)| item.place == place && is_return(item.owner))
            .map(|(index, _)| TerminalId(index))
    })
}
