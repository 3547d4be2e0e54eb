//! What a dead short draws.

use nalgebra::DMatrix;

use super::guarding::chain;
use super::limited::{converters, limited_feed};
use super::network::Network;
use super::solve::{solve, transfer};
use super::wiring::Wiring;
use crate::catalog::Polarity;
use crate::job::{Engine, LeadId, Owner, Season, Speed, State, TerminalId};
use crate::quantity::{Current, Ratio, Resistance};

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
}

impl Faults {
    /// Works out the network for the largest and for the smallest currents.
    pub fn of(wiring: &Wiring<'_>) -> Self {
        let job = wiring.job;
        let strong = strong(wiring);
        let poles = strong
            .sources
            .iter()
            .map(|source| TerminalId(source.negative));
        let limits = job.alternators.iter().map(|item| item.given.limit.a());
        Self {
            poles: poles.collect(),
            alternators_a: limits.sum(),
            strong: Shorts::of(strong),
            weak: Shorts::of(weak(wiring)),
        }
    }

    /// The largest current that a short at the start of a lead can draw through it: full and warm
    /// battery, cold conductors, devices without resistance, alternators giving their limit. A
    /// maker's short-circuit current wins over one worked out from resistance.
    pub fn largest(&self, wiring: &Wiring<'_>, lead: LeadId) -> Current {
        if let Some(limit) = limited_feed(wiring.job, lead) {
            return limit;
        }
        let from = wiring.job.lead(lead).from;
        // The return with least resistance decides; which one that is depends on the network.
        let returns = self.poles.iter().copied().chain(near_return(wiring, from));
        let amps = returns.map(|to| self.strong.amps(from, to, BOLTED_OHM));
        let battery = Current::from_a(amps.fold(0.0, f64::max) + self.alternators_a);
        battery + converters(wiring.job, lead)
    }

    /// The smallest current that a short at the far end of a lead draws: cold battery as charged,
    /// conductors as hot as their insulation allows, no alternator, the return as long as the way
    /// out where no nearer return is known.
    pub fn smallest(&self, wiring: &Wiring<'_>, lead: LeadId) -> Current {
        let job = wiring.job;
        if let Some(limit) = limited_feed(job, lead) {
            return limit;
        }
        let Some(pole) = self.poles.first() else {
            return Current::ZERO;
        };
        // Past a switch the fault may lie at the end of what goes on from it.
        let chain = chain(job, lead);
        let end = chain.last().copied().unwrap_or(lead);
        let to = job.lead(end).to;
        let amps = match near_return(wiring, to) {
            Some(near) => self.weak.amps(to, near, BOLTED_OHM),
            None => {
                let way_out: f64 = chain.iter().map(|part| self.weak.branch_ohm(*part)).sum();
                self.weak.amps(to, *pole, BOLTED_OHM + way_out)
            }
        };
        Current::from_a(amps)
    }
}

impl Faults {
    /// The returns that a short at the far end of a lead goes through, to its own return or to any
    /// point of the body, each with the largest part of the current that it carries.
    pub fn return_shares(&self, wiring: &Wiring<'_>, lead: LeadId) -> Vec<(LeadId, f64)> {
        /// Less of the current than this does no harm that the rest does not do first.
        const LEAST_SHARE: f64 = 0.05;
        let job = wiring.job;
        if limited_feed(job, lead).is_some() {
            // No more than the limit flows back, which its own return carries for hours.
            return Vec::new();
        }
        let end = chain(job, lead).last().copied().unwrap_or(lead);
        let from = job.lead(end).to;
        let body = job.chassis.iter().map(|point| point.terminal);
        let grounds: Vec<TerminalId> = body.chain(near_return(wiring, from)).collect();
        let returns = job
            .leads()
            .filter(|(_, other)| other.polarity == Polarity::Negative);
        returns
            .map(|(id, _)| {
                let shares = grounds.iter().map(|to| self.weak.share(id, from, *to));
                (id, shares.fold(0.0, f64::max))
            })
            .filter(|(_, share)| *share >= LEAST_SHARE)
            .collect()
    }
}

/// Everything that drives the largest fault current.
pub(super) fn strong(wiring: &Wiring<'_>) -> Network {
    let job = wiring.job;
    let bare = Wiring {
        guards: vec![Resistance::ZERO; wiring.guards.len()],
        ..wiring.clone()
    };
    let mut network = Network::conductors(&bare, &vec![job.cold.c(); job.leads.len()]);
    network.add_batteries(
        &bare,
        &standing(Season::Hot, Some(Ratio::from_fraction(1.0))),
    );
    for (source, battery) in network.sources.iter_mut().zip(&job.batteries) {
        if let Some(maker) = battery.given.short_circuit {
            source.ohm = source.volts / maker.a();
        }
    }
    network
}

/// Everything that hinders the smallest.
fn weak(wiring: &Wiring<'_>) -> Network {
    let hot: Vec<f64> = wiring.cables.iter().map(|cable| cable.rating.c()).collect();
    let mut network = Network::conductors(wiring, &hot);
    network.add_batteries(wiring, &standing(Season::Cold, None));
    network
}

/// A state in which nothing is on.
fn standing(season: Season, charge: Option<Ratio>) -> State {
    State {
        name: String::new(),
        engine: Engine::Off,
        season,
        loads: Vec::new(),
        speed: Speed::Cruise,
        dead: Vec::new(),
        charge,
    }
}

/// A network of resistances and batteries, solved once for shorts between any two nodes: the volts
/// between them before the short, over the resistance that the network shows there (Thévenin).
#[derive(Debug, Clone)]
struct Shorts {
    network: Network,
    volts: Vec<f64>,
    transfer: DMatrix<f64>,
}

impl Shorts {
    fn of(network: Network) -> Self {
        let solution = solve(&network);
        Self {
            transfer: transfer(&network, &solution),
            volts: solution.volts,
            network,
        }
    }

    fn amps(&self, from: TerminalId, to: TerminalId, ohm: f64) -> f64 {
        let (a, b) = (from.0, to.0);
        let shown = self.transfer[(a, a)] + self.transfer[(b, b)]
            - self.transfer[(a, b)]
            - self.transfer[(b, a)];
        ((self.volts[a] - self.volts[b]) / (shown + ohm)).abs()
    }

    /// The part of a short's current that a lead carries.
    fn share(&self, lead: LeadId, from: TerminalId, to: TerminalId) -> f64 {
        let Some(branch) = self.network.branches.get(lead.0) else {
            return 0.0;
        };
        let answer = |node: usize| self.transfer[(node, to.0)] - self.transfer[(node, from.0)];
        ((answer(branch.from) - answer(branch.to)) / branch.ohm()).abs()
    }

    fn branch_ohm(&self, lead: LeadId) -> f64 {
        let branch = self.network.branches.get(lead.0);
        branch.map_or(0.0, super::network::Branch::ohm)
    }
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
