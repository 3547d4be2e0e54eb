//! What a device must do to guard a lead.

use super::duty::LeadDuty;
use super::fault::Faults;
use super::sequence::{Sequence, sequences, used_part};
use super::wiring::{Wiring, stands_a2s};
use crate::catalog::{Cable, Catalog, DeviceDemand, Protective, Reset, RuleSet};
use crate::check::HAIR;
use crate::job::{Job, LeadId, Owner, Protected, TerminalId};
use crate::quantity::{Current, Duration, Length};

/// The task of one lead's device.
#[derive(Debug, Clone)]
pub struct Guarding<'a> {
    /// Name of the lead.
    pub lead: &'a str,
    /// Currents of the lead.
    pub duty: &'a LeadDuty,
    /// Currents that follow one another, which the device must hold.
    pub sequences: Vec<Sequence>,
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
    /// The lead's cable.
    pub cable: &'a Cable,
    /// Parts and tables.
    pub catalog: &'a Catalog,
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
    /// The largest part of the device's current that it carries in a fault.
    pub share: f64,
    /// Heat that it stands in a fault, as current squared times time, in A²s.
    pub stands_a2s: f64,
}

impl Guarded {
    /// Whether it is sized for the device's current: as part of the way out, or as the return of what
    /// the device feeds.
    pub fn is_own(&self) -> bool {
        self.ampacity.a().is_finite()
    }

    /// Whether it carries all of the device's current whatever the sizes: where another way were open,
    /// some of it would take that.
    pub fn is_whole(&self) -> bool {
        const ALL: f64 = 1.0 - 1e-9;
        self.share >= ALL
    }

    /// How long it stands when the device carries a current.
    pub fn withstands(&self, current: Current) -> Duration {
        let own = current.a() * self.share;
        Duration::from_s(self.stands_a2s / (own * own).max(1.0))
    }
}

impl<'a> Guarding<'a> {
    /// The task for a lead as it is wired.
    pub fn of(wiring: &Wiring<'a>, faults: &Faults, id: LeadId, duty: &'a LeadDuty) -> Self {
        let job = wiring.job;
        let (lead, way) = (job.lead(id), &wiring.route.leads[id.0]);
        let space = job.space(job.place(lead.protect_at).space);
        let fault_far = faults.smallest(wiring, id);
        Self {
            lead: &lead.name,
            duty,
            sequences: sequences(job, duty),
            conductors: conductors(wiring, faults, id),
            demand: DeviceDemand {
                voltage: job.system_voltage,
                manual_reset_only: job.rules.manual_reset_only.value,
                vapour: space.vapour,
                fault: faults.largest(wiring, id),
                hot: space.temperature,
                cold: job.cold,
            },
            fault_far,
            limited: wiring.frames.limited[id.0],
            distance: way.protection_at.unwrap_or(Length::ZERO),
            sheathed: way.protection_sheathed,
            cable: wiring.cables[id.0],
            catalog: wiring.catalog,
            rules: &job.rules,
        }
    }

    /// The same task with another cable on the lead itself, all else being as it was.
    #[must_use]
    pub fn with_cable(&self, cable: &'a Cable, ampacity: Current) -> Self {
        let mut task = self.clone();
        task.cable = cable;
        if let Some(own) = task.conductors.first_mut() {
            own.ampacity = ampacity;
            own.stands_a2s = stands_a2s(cable, task.rules, task.catalog);
        }
        task
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
            share: 1.0,
            stands_a2s: 0.0,
        };
        all.min_by(|a, b| a.ampacity.total_cmp(&b.ampacity))
            .unwrap_or(none)
    }

    /// How long the conductor that is harmed first stands a dead short at the far end.
    pub fn withstands(&self) -> Duration {
        let conductors = self.conductors.iter();
        let times = conductors.map(|conductor| conductor.withstands(self.fault_far));
        times.reduce(Duration::min).unwrap_or(Duration::ZERO)
    }

    /// How long the lead itself stands the largest short at its start.
    pub fn withstands_near(&self) -> Duration {
        let own = self.conductors.first();
        own.map_or(Duration::ZERO, |own| own.withstands(self.demand.fault))
    }

    /// The conductor that a dead short harms before a device is sure to open, if any: by the
    /// smallest one at the far end, or by the largest at the start.
    pub fn harmed_before(&self, device: &Protective<'_>) -> Option<LeadId> {
        let device = device.in_air(self.demand.cold);
        let far = device.opens_within(self.fault_far);
        let far = far.unwrap_or(Duration::from_s(f64::INFINITY));
        let conductors = self.conductors.iter();
        let mut harmed: Vec<_> = conductors
            .filter(|conductor| conductor.withstands(self.fault_far) < far)
            .collect();
        harmed.sort_by(|a, b| {
            let (a, b) = (a.withstands(self.fault_far), b.withstands(self.fault_far));
            a.total_cmp(&b)
        });
        let near = device.opens_within(self.demand.fault);
        let late = near.is_none_or(|time| time > self.withstands_near());
        let own = self.conductors.first().filter(|_| late);
        harmed
            .first()
            .copied()
            .or(own)
            .map(|conductor| conductor.lead)
    }

    /// Whether a device holds every sequence of currents of the lead.
    pub fn held_by(&self, device: &Protective<'_>) -> bool {
        let device = device.in_air(self.demand.hot);
        let mut sequences = self.sequences.iter();
        sequences.all(|sequence| used_part(&device, sequence) <= 1.0 + HAIR)
    }

    /// Whether a device opens on a dead short anywhere before a conductor is harmed.
    pub fn opened_by(&self, device: &Protective<'_>) -> bool {
        self.is_self_limited() || self.harmed_before(device).is_none()
    }

    /// Whether all that can flow is less than the lead and its returns carry for hours.
    pub fn is_self_limited(&self) -> bool {
        self.limited
            .is_some_and(|limit| limit <= self.weakest().ampacity * (1.0 + HAIR))
    }

    /// Whether the cable has a lug for the device's studs.
    pub fn has_lug_for(&self, device: &Protective<'_>) -> bool {
        let lugs = self.catalog.lugs.iter();
        let mut studs = lugs.filter(|lug| lug.fits(self.cable)).map(|lug| lug.stud);
        // A cable that the catalog has no lugs for at all is not the device's affair.
        studs
            .next()
            .is_none_or(|first| first == device.stud || studs.any(|stud| stud == device.stud))
    }

    /// Whether a device does all that can be asked of it.
    pub fn done_by(&self, device: &Protective<'_>) -> bool {
        self.guarded_by(device) && device.meets(&self.demand)
    }

    /// Whether a device carries the currents and guards the conductors, wherever it stands.
    pub fn guarded_by(&self, device: &Protective<'_>) -> bool {
        self.carried_by(device)
            && device.rating <= self.most_rating() * (1.0 + HAIR)
            && self.has_lug_for(device)
            && self.opened_by(device)
    }

    /// Whether a device carries and holds the currents and suits its place, whatever the cable.
    pub fn demand_met_by(&self, device: &Protective<'_>) -> bool {
        self.carried_by(device) && device.meets(&self.demand)
    }

    /// Whether a device carries and holds the currents.
    pub fn carried_by(&self, device: &Protective<'_>) -> bool {
        let hot = device.in_air(self.demand.hot);
        hot.rating >= self.least_rating() * (1.0 - HAIR) && self.held_by(device)
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

/// The lead with all that goes on from it, the returns of what it feeds, protected leads that end
/// at the same bus, and every other return that a short to them or to the body would go through.
fn conductors(wiring: &Wiring<'_>, faults: &Faults, id: LeadId) -> Vec<Guarded> {
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
    // Leads that end at the same bus are fed through this one from their far end.
    let beside = job.leads().filter(|(other, lead)| {
        let on_bus = matches!(job.terminal(lead.to).owner, Owner::Bus(_));
        on_bus && lead.is_protected() && ends.contains(&lead.to) && !chain.contains(other)
    });
    let guarded = |lead: LeadId, share: f64| Guarded {
        lead,
        ampacity: wiring.ampacities[lead.0],
        share,
        stands_a2s: wiring.stands_a2s(lead),
    };
    let mut all: Vec<Guarded> = chain
        .iter()
        .copied()
        .chain(returns)
        .chain(beside.map(|(other, _)| other))
        .map(|lead| guarded(lead, 1.0))
        .collect();
    for (lead, share) in faults.return_shares(wiring, id) {
        if all.iter().all(|known| known.lead != lead) {
            all.push(Guarded {
                // It carries other currents too, and is sized for them; here only the short counts.
                ampacity: Current::from_a(f64::INFINITY),
                ..guarded(lead, share)
            });
        }
    }
    all
}
