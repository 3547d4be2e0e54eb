//! What would let a device do all that a lead asks of it, where none does.

use crate::catalog::{Cable, Protective};
use crate::circuit::{Faults, Guarding, LeadDuty, Pulse, Wiring};
use crate::job::LeadId;
use crate::quantity::{Current, Length};
use crate::route::Route;
use crate::sizing::allowed;

/// A lead that no device guards as it is.
pub struct Ailing<'a> {
    /// The wiring as it is.
    pub wiring: &'a Wiring<'a>,
    /// The lead.
    pub lead: LeadId,
    /// Its currents.
    pub duty: &'a LeadDuty,
    /// The devices that the job lets it have.
    pub wanted: &'a [Protective<'a>],
    /// The devices that it could have if the job named none.
    pub all: &'a [Protective<'a>],
}

impl Ailing<'_> {
    /// The devices to try with another cable: those wanted, or any where none of them suits the
    /// load and the place.
    fn fitting(&self) -> &[Protective<'_>] {
        let faults = Faults::of(self.wiring);
        let task = Guarding::of(self.wiring, &faults, self.lead, self.duty);
        let suits = self.wanted.iter().any(|device| task.demand_met_by(device));
        if suits || self.all.is_empty() {
            self.wanted
        } else {
            self.all
        }
    }

    /// Every change that would cure it, in words, each tried out.
    pub fn cures(&self) -> Vec<String> {
        let fitting = self.fitting();
        let cures = [
            self.another_device(),
            self.thicker(fitting),
            self.shorter(fitting),
            self.split(),
        ];
        cures.into_iter().flatten().collect()
    }

    /// A device of those given that does all.
    fn device<'d>(
        &self,
        wiring: &Wiring<'_>,
        duty: &LeadDuty,
        devices: &'d [Protective<'d>],
    ) -> Option<&'d Protective<'d>> {
        let faults = Faults::of(wiring);
        let task = Guarding::of(wiring, &faults, self.lead, duty);
        devices.iter().find(|device| task.done_by(device))
    }

    fn another_device(&self) -> Option<String> {
        let device = self.device(self.wiring, self.duty, self.all)?;
        Some(format!(
            "leave the choice of its device to the program: {} of {:.0} A does all",
            device.part,
            device.rating.a()
        ))
    }

    /// The next size of the same cable at which a device does all, the return of the load made as
    /// thick where it is thinner.
    fn thicker(&self, devices: &[Protective<'_>]) -> Option<String> {
        let present = self.wiring.cables[self.lead.0];
        let cables = self.wiring.catalog.cables.iter();
        let area = |cable: &Cable| cable.size.nominal_area().mm2();
        let mut thicker: Vec<&Cable> = cables
            .filter(|cable| cable.family == present.family && area(cable) > area(present))
            .collect();
        thicker.sort_by(|a, b| area(a).total_cmp(&area(b)));
        let faults = Faults::of(self.wiring);
        let task = Guarding::of(self.wiring, &faults, self.lead, self.duty);
        let own = task
            .conductors
            .iter()
            .filter(|item| item.ampacity.a().is_finite());
        let own: Vec<LeadId> = own.map(|conductor| conductor.lead).collect();
        thicker.into_iter().find_map(|cable| {
            let wiring = self.with_cable(&own, cable);
            let device = self.device(&wiring, self.duty, devices)?;
            Some(format!(
                "take {} for it and for the return of what it feeds, and a device of {:.0} A",
                cable.size,
                device.rating.a()
            ))
        })
    }

    fn with_cable<'w>(&'w self, leads: &[LeadId], cable: &'w Cable) -> Wiring<'w> {
        let mut wiring = self.wiring.clone();
        let job = wiring.job;
        let table = wiring.catalog.ampacity_table(&job.rules.ampacity_table);
        for lead in leads {
            let way = &wiring.route.leads[lead.0];
            let may = allowed(cable, way, table, wiring.catalog).current;
            if may > wiring.ampacities[lead.0] {
                wiring.ampacities[lead.0] = may;
                wiring.cables[lead.0] = cable;
            }
        }
        wiring
    }

    /// The length at which a device would do all.
    fn shorter(&self, devices: &[Protective<'_>]) -> Option<String> {
        let works = |part: f64| {
            let route = self.shortened(part);
            let wiring = Wiring {
                route: &route,
                ..self.wiring.clone()
            };
            self.device(&wiring, self.duty, devices).is_some()
        };
        let (mut low, mut high) = (0.05, 1.0);
        if !works(low) {
            return None;
        }
        for _ in 0..8 {
            let middle = (low + high) / 2.0;
            if works(middle) {
                low = middle;
            } else {
                high = middle;
            }
        }
        let length = self.wiring.route.leads[self.lead.0].cut();
        let shorter = Length::from_m((length.m() * low * 10.0).floor() / 10.0);
        (shorter > Length::ZERO).then(|| {
            format!(
                "bring what it feeds nearer: a lead of {:.1} m instead of {:.1} m would do",
                shorter.m(),
                length.m()
            )
        })
    }

    fn shortened(&self, part: f64) -> Route {
        let mut route = self.wiring.route.clone();
        if let Some(way) = route.leads.get_mut(self.lead.0) {
            for section in &mut way.sections {
                section.cut = section.cut * part;
            }
        }
        route
    }

    /// Two leads of half the load each.
    fn split(&self) -> Option<String> {
        let pulse = |pulse: &Pulse| Pulse {
            current: pulse.current / 2.0,
            ..pulse.clone()
        };
        let half = LeadDuty {
            continuous: self.duty.continuous / 2.0,
            pulses: self.duty.pulses.iter().map(pulse).collect(),
            ..self.duty.clone()
        };
        if half.largest() <= Current::ZERO {
            return None;
        }
        let device = self.device(self.wiring, &half, self.wanted)?;
        Some(format!(
            "part what it feeds between two leads like it, each with a device of {:.0} A",
            device.rating.a()
        ))
    }
}
