//! The conductors of a job: which cable and which device each lead has.

use std::sync::Arc;

use super::frame::Frames;
use crate::catalog::{Cable, Catalog, RuleSet};
use crate::file::words;
use crate::heat::Laid;
use crate::job::{Job, LeadId, Season};
use crate::quantity::{Current, Length, Resistance};
use crate::route::{EndPoint, Route};

/// A job with a cable, an ampacity and a device resistance for each lead.
#[derive(Debug, Clone)]
pub struct Wiring<'a> {
    /// The job.
    pub job: &'a Job,
    /// The ways and lengths of its leads.
    pub route: &'a Route,
    /// Parts and tables.
    pub catalog: &'a Catalog,
    /// The cable of each lead; position = lead id.
    pub cables: Vec<&'a Cable>,
    /// What each lead may carry where it lies; position = lead id.
    pub ampacities: Vec<Current>,
    /// Resistance of each lead's breaker or fuse; nothing where it has none.
    pub guards: Vec<Resistance>,
    /// What no cable and no device changes.
    pub frames: Arc<Frames>,
}

words! {
    /// What a part on the way of a current is.
    pub enum PartKind as "a kind of part" {
        /// A stretch of conductor.
        Cable = "cable",
        /// A crimp with its stud.
        Joint = "joint",
        /// A breaker or fuse.
        Protection = "protection",
        /// A switch, contactor or connector.
        Device = "device",
        /// Metal of body or engine.
        Body = "body",
    }
}

/// Names of the joints and devices of a lead.
#[derive(Debug, Clone, Copy)]
pub struct EndName;

impl EndName {
    /// The breaker or fuse.
    pub const PROTECTION: &'static str = "protection";

    /// A crimp with its stud.
    pub fn of(job: &Job, end: &EndPoint) -> String {
        format!("crimp and stud, {}", end.words(job))
    }
}

/// One resistance.
#[derive(Debug, Clone)]
pub struct Element {
    /// Its name.
    pub name: String,
    /// What it is.
    pub kind: PartKind,
    /// Its resistance.
    pub ohm: f64,
}

/// The resistance of a lead by what it belongs to, in ohms.
#[derive(Debug, Clone, Copy)]
pub struct LeadOhms {
    /// The conductor.
    pub cable: f64,
    /// Crimps and studs.
    pub joints: f64,
    /// The breaker or fuse.
    pub guard: f64,
}

impl LeadOhms {
    /// All together.
    pub fn sum(self) -> f64 {
        self.cable + self.joints + self.guard
    }
}

impl Wiring<'_> {
    /// Resistances of a lead from end to end, its conductor at a temperature.
    pub fn elements(&self, lead: LeadId, celsius: f64) -> Vec<Element> {
        let joint = self.job.rules.joint_resistance.value.ohm();
        let cable = self.cables[lead.0];
        let mut elements = Vec::new();
        for section in &self.route.leads[lead.0].sections {
            let joint_at = |end: &EndPoint| Element {
                name: EndName::of(self.job, end),
                kind: PartKind::Joint,
                ohm: joint,
            };
            elements.push(joint_at(&section.from));
            elements.push(Element {
                name: format!("cable, {:.2} m of {}", section.cut.m(), cable.size),
                kind: PartKind::Cable,
                ohm: self.length_ohm(lead, section.cut, celsius),
            });
            elements.push(joint_at(&section.to));
            let guard = self.guards[lead.0].ohm();
            if matches!(section.to, EndPoint::ProtectionIn(_)) && guard > 0.0 {
                elements.push(Element {
                    name: EndName::PROTECTION.to_owned(),
                    kind: PartKind::Protection,
                    ohm: guard,
                });
            }
        }
        elements
    }

    /// The sum of a lead's resistances, by what they belong to.
    pub fn lead_ohms(&self, lead: LeadId, celsius: f64) -> LeadOhms {
        let sections = &self.route.leads[lead.0].sections;
        let guard = self.guards[lead.0].ohm();
        let protections = sections
            .iter()
            .filter(|section| matches!(section.to, EndPoint::ProtectionIn(_)));
        LeadOhms {
            cable: self.cable_ohm(lead, celsius),
            joints: self.job.rules.joint_resistance.value.ohm() * 2.0 * sections.len() as f64,
            guard: guard * protections.count() as f64,
        }
    }

    /// Resistance of a lead's whole cable, its conductor at a temperature.
    pub fn cable_ohm(&self, lead: LeadId, celsius: f64) -> f64 {
        self.length_ohm(lead, self.route.leads[lead.0].cut(), celsius)
    }

    /// Resistance of a length of a lead's cable, its conductor at a temperature.
    pub fn length_ohm(&self, lead: LeadId, length: Length, celsius: f64) -> f64 {
        let cable = self.cables[lead.0];
        cable.max_resistance.of(length).ohm() * self.warming(cable, celsius)
    }

    /// Heat that a lead stands in a fault, from its rated temperature to the limit in a fault, as
    /// current squared times time, in A²s.
    pub fn stands_a2s(&self, lead: LeadId) -> f64 {
        stands_a2s(self.cables[lead.0], &self.job.rules, self.catalog)
    }

    /// R(T) / R(20): (beta + T) / (beta + 20), IEC 60949.
    fn warming(&self, cable: &Cable, celsius: f64) -> f64 {
        let row = self.catalog.material(cable.material);
        row.map_or(1.0, |row| (row.beta.c() + celsius) / (row.beta.c() + 20.0))
    }

    /// Temperatures of all conductors before any current flows.
    pub fn still_c(&self, season: Season) -> Vec<f64> {
        let ways = self.route.leads.iter();
        match season {
            Season::Cold => ways.map(|_| self.job.cold.c()).collect(),
            Season::Hot => ways.map(|way| way.ambient.c()).collect(),
        }
    }

    /// Temperature of a lead's conductor when a current has flown for hours, by the model of its
    /// heat. Never above its rating: short runs, which would take it there in hours, end before
    /// (sizing sees to it), and currents that no cable stands still give a network. A cable that
    /// the catalog lacks figures for counts as warm as its rating; the check of its heat is open.
    pub fn loaded_c(&self, lead: LeadId, amps: f64) -> f64 {
        let (way, cable) = (&self.route.leads[lead.0], self.cables[lead.0]);
        let steady = match Laid::on(way, cable, self.catalog) {
            Some(laid) => laid.steady(Current::from_a(amps.abs())),
            None => cable.rating,
        };
        steady.min(cable.rating).max(way.ambient).c()
    }
}

/// Heat that a cable stands in a fault, from its rated temperature to the limit in a fault, as
/// current squared times time, in A²s.
pub fn stands_a2s(cable: &Cable, rules: &RuleSet, catalog: &Catalog) -> f64 {
    // Insulation of a rating above the limit stands at least its rating.
    let end = rules.fault_limit.value.max(cable.rating);
    let one = Current::from_a(1.0);
    catalog.material(cable.material).map_or(0.0, |row| {
        let area = cable.size.nominal_area();
        row.heats_in(area, one, cable.rating, end).s()
    })
}
