//! What a dead short draws.

use super::guarding::chain;
use super::network::Network;
use super::operate::Solved;
use super::solve::solve;
use super::wiring::Wiring;
use crate::catalog::Polarity;
use crate::job::{Engine, LeadId, Owner, Season, State, TerminalId};
use crate::quantity::{Current, Ratio, Resistance};

/// Resistance of the short itself. A bolted fault has next to none.
const BOLTED_OHM: f64 = 1e-5;

/// The largest current that a short at the start of a lead can draw through it: full and warm
/// battery, cold conductors, devices without resistance, alternators giving their limit. A maker's
/// short-circuit current wins over one worked out from resistance.
pub fn largest(wiring: &Wiring<'_>, lead: LeadId) -> Current {
    let bare = Wiring {
        guards: vec![Resistance::ZERO; wiring.guards.len()],
        ..wiring.clone()
    };
    let wiring = &bare;
    let state = State {
        name: String::new(),
        engine: Engine::Running,
        season: Season::Hot,
        loads: Vec::new(),
        charge: Some(Ratio::from_fraction(1.0)),
    };
    let job = wiring.job;
    let mut network = Network::conductors(wiring, &vec![job.cold.c(); job.leads.len()]);
    network.add_batteries(wiring, &state);
    for (source, battery) in network.sources.iter_mut().zip(&job.batteries) {
        if let Some(maker) = battery.given.short_circuit {
            source.ohm = source.volts / maker.a();
        }
    }
    let from = job.lead(lead).from;
    // The return with least resistance decides; which one that is depends on the network.
    let poles = network
        .sources
        .iter()
        .map(|source| TerminalId(source.negative));
    let returns: Vec<TerminalId> = poles.chain(near_return(wiring, from)).collect();
    let through = |to: TerminalId| {
        let mut faulty = network.clone();
        faulty.add_fault(from, to, BOLTED_OHM);
        fault_amps(faulty)
    };
    let amps = returns.into_iter().map(through).fold(0.0, f64::max);
    let alternators: f64 = job
        .alternators
        .iter()
        .map(|item| item.given.limit.a())
        .sum();
    Current::from_a(amps + alternators)
}

/// The smallest current that a short at the far end of a lead draws: cold battery as charged,
/// conductors as hot as their insulation allows, no alternator, the return as long as the way out
/// where no nearer return is known.
pub fn smallest(wiring: &Wiring<'_>, lead: LeadId) -> Current {
    let job = wiring.job;
    let state = State {
        name: String::new(),
        engine: Engine::Off,
        season: Season::Cold,
        loads: Vec::new(),
        charge: None,
    };
    let hot: Vec<f64> = wiring.cables.iter().map(|cable| cable.rating.c()).collect();
    let mut network = Network::conductors(wiring, &hot);
    network.add_batteries(wiring, &state);
    let Some(source) = network
        .sources
        .first()
        .map(|source| TerminalId(source.negative))
    else {
        return Current::ZERO;
    };
    // Past a switch the fault may lie at the end of what goes on from it.
    let end = chain(job, lead).last().copied().unwrap_or(lead);
    let to = job.lead(end).to;
    match near_return(wiring, to) {
        Some(near) => network.add_fault(to, near, BOLTED_OHM),
        None => {
            let own = network
                .branches
                .get(lead.0)
                .map_or(0.0, |branch| branch.ohm());
            network.add_fault(to, source, BOLTED_OHM + own);
        }
    }
    Current::from_a(fault_amps(network))
}

fn fault_amps(network: Network) -> f64 {
    let solution = solve(&network);
    let solved = Solved { network, solution };
    let fault = solved.network.branches.last();
    fault.map_or(0.0, |branch| {
        (solved.across(branch.from, branch.to) / branch.ohm()).abs()
    })
}

/// The return nearest to a terminal: the other pole of its load or source, else a negative bus or
/// chassis point at the same place.
fn near_return(wiring: &Wiring<'_>, terminal: TerminalId) -> Option<TerminalId> {
    let job = wiring.job;
    let own = match job.terminal(terminal).owner {
        Owner::Load(index) => job.loads.get(index).map(|item| item.negative),
        Owner::Battery(index) => job.batteries.get(index).map(|item| item.negative),
        Owner::Alternator(index) => job.alternators.get(index).map(|item| item.negative),
        Owner::Bus(_) | Owner::Device(_) | Owner::Chassis(_) => None,
    };
    let place = job.terminal(terminal).place;
    let is_return = |owner: Owner| match owner {
        Owner::Bus(index) => job.buses[index].given.polarity == Polarity::Negative,
        Owner::Chassis(_) => true,
        _ => false,
    };
    own.or_else(|| {
        let mut returns = job.terminals.iter().enumerate();
        returns
            .find(|(_, item)| item.place == place && is_return(item.owner))
            .map(|(index, _)| TerminalId(index))
    })
}
