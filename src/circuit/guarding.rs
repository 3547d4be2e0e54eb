//! What a device must do to guard a lead.

use super::duty::LeadDuty;
use super::fault::Faults;
use super::limited::limited_feed;
use super::wiring::Wiring;
use crate::catalog::{DeviceDemand, Protective, Reset, RuleSet};
use crate::check::HAIR;
use crate::job::{Job, LeadId, Owner, Protected, TerminalId};
use crate::quantity::{Current, Duration, Length, Thread};

/// The task of one lead's device.
#[derive(Debug, Clone)]
pub struct Guarding<'a> {
    /// Name of the lead.
    pub lead: &'a str,
    /// Currents of the lead.
    pub duty: &'a LeadDuty,
    /// The lead, and the returns of its load, through which the same fault flows.
    pub conductors: Vec<Guarded>,
    /// What place and job demand.
    pub demand: DeviceDemand,
    /// Smallest current of a dead short at the far end.
    pub fault_far: Current,
    /// The most that flows at all, where only sources with a current limit feed the lead.
    pub limited: Option<Current>,
    /// Distance from the source along the conductor.
    pub distance: Length,
    /// Whether the conductor is sheathed over that distance.
    pub sheathed: bool,
    /// Studs for which the lead's cable has a lug; any when empty.
    pub studs: Vec<Thread>,
    /// The rules of the setting.
    pub rules: &'a RuleSet,
}

/// A conductor that the device must guard.
#[derive(Debug, Clone, Copy)]
pub struct Guarded {
    /// Which lead.
    pub lead: LeadId,
    /// What it may carry.
    pub ampacity: Current,
    /// How long it stands the smallest fault at the far end.
    pub withstands: Duration,
}

impl<'a> Guarding<'a> {
    /// The task for a lead as it is wired.
    pub fn of(wiring: &Wiring<'a>, faults: &Faults, id: LeadId, duty: &'a LeadDuty) -> Self {
        let job = wiring.job;
        let (lead, way) = (job.lead(id), &wiring.route.leads[id.0]);
        let fault_far = faults.smallest(wiring, id);
        Self {
            lead: &lead.name,
            duty,
            conductors: conductors(wiring, faults, id, fault_far),
            demand: DeviceDemand {
                voltage: job.system_voltage,
                manual_reset_only: job.rules.manual_reset_only.value,
                vapour: job.space(job.place(lead.protect_at).space).vapour,
                fault: faults.largest(wiring, id),
            },
            fault_far,
            limited: limited_feed(job, id),
            distance: way.protection_at.unwrap_or(Length::ZERO),
            sheathed: way.protection_sheathed,
            studs: wiring.catalog.studs_for(wiring.cables[id.0]),
            rules: &job.rules,
        }
    }

    /// Smallest rating that carries the current for hours with the margin of the rule.
    pub fn least_rating(&self) -> Current {
        self.duty.continuous * self.rules.protection_least.value.fraction()
    }

    /// Largest rating that guards the lead and the returns of its load.
    pub fn most_rating(&self) -> Current {
        self.weakest().ampacity * self.rules.protection_most.value.fraction()
    }

    /// The conductor that may carry least.
    pub fn weakest(&self) -> Guarded {
        let all = self.conductors.iter().copied();
        let none = Guarded {
            lead: LeadId(0),
            ampacity: Current::ZERO,
            withstands: Duration::ZERO,
        };
        all.min_by(|a, b| a.ampacity.total_cmp(&b.ampacity))
            .unwrap_or(none)
    }

    /// How long the conductor that is harmed first stands a dead short at the far end.
    pub fn withstands(&self) -> Duration {
        let times = self.conductors.iter().map(|conductor| conductor.withstands);
        times.reduce(Duration::min).unwrap_or(Duration::ZERO)
    }

    /// Whether a device holds every pulse of the lead.
    pub fn held_by(&self, device: &Protective<'_>) -> bool {
        let mut pulses = self.duty.pulses.iter();
        pulses.all(|pulse| device.holds(pulse.current, pulse.time))
    }

    /// Whether a device opens on a dead short at the far end before the cable is harmed.
    pub fn opened_by(&self, device: &Protective<'_>) -> bool {
        self.is_self_limited()
            || device
                .opens_within(self.fault_far)
                .is_some_and(|time| time <= self.withstands())
    }

    /// Whether all that can flow is less than the lead and its returns carry for hours.
    pub fn is_self_limited(&self) -> bool {
        self.limited
            .is_some_and(|limit| limit <= self.weakest().ampacity * (1.0 + HAIR))
    }

    /// Whether the cable has a lug for the device's studs.
    pub fn has_lug_for(&self, device: &Protective<'_>) -> bool {
        self.studs.is_empty() || self.studs.contains(&device.stud)
    }

    /// Whether a device does all that can be asked of it.
    pub fn done_by(&self, device: &Protective<'_>) -> bool {
        self.demand_met_by(device)
            && device.rating <= self.most_rating() * (1.0 + HAIR)
            && self.has_lug_for(device)
            && self.opened_by(device)
    }

    /// Whether a device carries and holds the currents and suits its place, whatever the cable.
    pub fn demand_met_by(&self, device: &Protective<'_>) -> bool {
        device.rating >= self.least_rating() * (1.0 - HAIR)
            && device.meets(&self.demand)
            && self.held_by(device)
    }
}

/// The devices that a wish leaves to choose from.
pub fn wanted<'a>(devices: &[Protective<'a>], wish: &Protected) -> Vec<Protective<'a>> {
    let all = devices.iter().copied();
    match wish {
        Protected::No { .. } => Vec::new(),
        // One that closes by itself heats a fault again and again, and cannot be held open while
        // somebody works; only the user may ask for it.
        Protected::Auto => all
            .filter(|device| device.reset != Some(Reset::Automatic))
            .collect(),
        Protected::Part(part) => all.filter(|device| device.part == part).collect(),
        Protected::Rating(rating) => {
            let same = |device: &Protective<'_>| (device.rating.a() - rating.a()).abs() < 1e-6;
            all.filter(same).collect()
        }
    }
}

/// The leads that go on from a lead through switches and the like without a device of their own,
/// the lead itself first.
pub fn chain(job: &Job, id: LeadId) -> Vec<LeadId> {
    let mut chain = vec![id];
    let mut next = 0;
    while let Some(lead) = chain.get(next).map(|lead| job.lead(*lead)) {
        next += 1;
        let Owner::Device(index) = job.terminal(lead.to).owner else {
            continue;
        };
        let device = &job.devices[index];
        let beyond = if device.input == lead.to {
            device.output
        } else {
            device.input
        };
        for other in job.leads_at(beyond) {
            if !job.lead(other).is_protected() && !chain.contains(&other) {
                chain.push(other);
            }
        }
    }
    chain
}

/// The lead with all that goes on from it, the returns of what it feeds, and every other return
/// that a short to them or to the body would go through.
fn conductors(wiring: &Wiring<'_>, faults: &Faults, id: LeadId, fault: Current) -> Vec<Guarded> {
    let job = wiring.job;
    let chain = chain(job, id);
    let ends: Vec<TerminalId> = chain.iter().map(|lead| job.lead(*lead).to).collect();
    let loads = job.loads.iter().map(|item| (item.positive, item.negative));
    let chargers = job
        .alternators
        .iter()
        .map(|item| (item.positive, item.negative));
    let converters = job.converters.iter().flat_map(|item| {
        [
            (item.input, item.input_return),
            (item.output, item.output_return),
        ]
    });
    let fed = loads
        .chain(chargers)
        .chain(converters)
        .filter(|(positive, _)| ends.contains(positive));
    // A case bolted to the body shares its way back with others.
    let own =
        fed.filter(|(_, negative)| !matches!(job.terminal(*negative).owner, Owner::Chassis(_)));
    let returns = own.flat_map(|(_, negative)| job.leads_at(negative));
    let guarded = |lead: LeadId, fault: Current| Guarded {
        lead,
        ampacity: wiring.ampacities[lead.0],
        withstands: withstands(wiring, lead, fault),
    };
    let mut all: Vec<Guarded> = chain
        .iter()
        .copied()
        .chain(returns)
        .map(|lead| guarded(lead, fault))
        .collect();
    for (lead, share) in faults.return_shares(wiring, id) {
        if all.iter().all(|known| known.lead != lead) {
            all.push(Guarded {
                // It carries other currents too, and is sized for them; here only the short counts.
                ampacity: Current::from_a(f64::INFINITY),
                ..guarded(lead, fault * share)
            });
        }
    }
    all
}

/// How long the lead stands a fault, from its rated temperature to the limit in a fault.
fn withstands(wiring: &Wiring<'_>, id: LeadId, fault: Current) -> Duration {
    let cable = wiring.cables[id.0];
    let Some(row) = wiring.catalog.material(cable.material) else {
        return Duration::ZERO;
    };
    // Insulation of a rating above the limit stands at least its rating.
    let end = wiring.job.rules.fault_limit.value.max(cable.rating);
    let fault = fault.max(Current::from_a(1.0));
    row.heats_in(cable.size.nominal_area(), fault, cable.rating, end)
}
