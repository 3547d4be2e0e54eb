//! What would let a device do all that a lead asks of it, where none does.

use std::iter::once;

use crate::catalog::{Cable, Protective};
use crate::circuit::{Faults, Guarding, LeadDuty, Pulse, Wiring};
use crate::job::LeadId;
use crate::quantity::{Current, Length};
use crate::route::Route;
use crate::sizing::{allowed, could_be};

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
            self.apart(fitting),
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

    /// The next thicker cable with which a device does all, the return of the load made as thick where
    /// it is thinner.
    fn thicker(&self, devices: &[Protective<'_>]) -> Option<String> {
        let own = self.own();
        self.thicker_cables().find_map(|cable| {
            let wiring = self.with_cable(self.wiring.clone(), &own, cable)?;
            let device = self.device(&wiring, self.duty, devices)?;
            Some(format!(
                "take {} for it and for the return of what it feeds, and a device of {:.0} A",
                cable.size,
                device.rating.a()
            ))
        })
    }

    /// Clamps of its own, with which its cable carries more, or the next thicker one enough.
    fn apart(&self, devices: &[Protective<'_>]) -> Option<String> {
        let own = self.own();
        let together = |lead: &LeadId| self.wiring.route.leads[lead.0].bundled_with > 1;
        if !own.iter().any(together) {
            return None;
        }
        let mut route = self.wiring.route.clone();
        for lead in &own {
            route.leads[lead.0].bundled_with = 1;
        }
        let present = self.wiring.cables[self.lead.0];
        once(present)
            .chain(self.thicker_cables())
            .find_map(|cable| {
                let wiring = Wiring {
                    route: &route,
                    ..self.wiring.clone()
                };
                let wiring = self.with_cable(wiring, &own, cable)?;
                let device = self.device(&wiring, self.duty, devices)?;
                let thicker = match cable.id == present.id {
                    true => String::new(),
                    false => format!(" and {}", cable.size),
                };
                Some(format!(
                    "give it and the return of what it feeds clamps of their own (`own_clamps = \
                 true`){thicker}, and it a device of {:.0} A",
                    device.rating.a()
                ))
            })
    }

    /// The lead, and the others that its device is to spare.
    fn own(&self) -> Vec<LeadId> {
        let faults = Faults::of(self.wiring);
        let task = Guarding::of(self.wiring, &faults, self.lead, self.duty);
        let own = task.conductors.iter().filter(|item| item.is_own());
        own.map(|conductor| conductor.lead).collect()
    }

    /// The cables thicker than the present one that the lead could be made of, thinnest first.
    fn thicker_cables(&self) -> impl Iterator<Item = &Cable> {
        let Wiring {
            job,
            route,
            catalog,
            ..
        } = *self.wiring;
        let area = |cable: &Cable| cable.size.nominal_area().mm2();
        let present = area(self.wiring.cables[self.lead.0]);
        let cables = catalog.cables.iter();
        let mut thicker: Vec<&Cable> = cables
            .filter(|cable| area(cable) > present)
            .filter(|cable| could_be(job, self.lead, route, cable, catalog))
            .collect();
        thicker.sort_by(|a, b| area(a).total_cmp(&area(b)));
        thicker.into_iter()
    }

    /// The wiring with a cable for those leads that carry less; nothing where one of them cannot be
    /// made of it.
    fn with_cable<'w>(
        &'w self,
        mut wiring: Wiring<'w>,
        leads: &[LeadId],
        cable: &'w Cable,
    ) -> Option<Wiring<'w>> {
        let Wiring {
            job,
            route,
            catalog,
            ..
        } = wiring;
        let table = catalog.ampacity_table(&job.rules.ampacity_table);
        for lead in leads {
            let way = &route.leads[lead.0];
            let own = wiring.cables[lead.0];
            let may = allowed(cable, way, table, catalog).current;
            let present = allowed(own, way, table, catalog).current;
            if own.id == cable.id || may <= present {
                wiring.ampacities[lead.0] = present;
            } else if could_be(job, *lead, route, cable, catalog) {
                wiring.ampacities[lead.0] = may;
                wiring.cables[lead.0] = cable;
            } else {
                return None;
            }
        }
        Some(wiring)
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
