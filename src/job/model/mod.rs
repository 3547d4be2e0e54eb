//! The job once every name is resolved and every contradiction ruled out.

mod circuit;
mod ground;
mod leads;

pub use circuit::{
    Alternator, Battery, Bond, Bus, Chassis, Converter, Demand, Device, Load, Owner, Stud, Terminal,
};
pub use ground::{Leg, Panel, Place, Position, Space};
pub use leads::{Lead, Protected, State, Unprotected};

use super::id::{LeadId, LegId, LoadId, PanelId, PlaceId, SpaceId, TerminalId};
use super::rules::Loosened;
use super::spares_file::SparesFile;
use super::units::Units;
use crate::catalog::{RuleSet, Setting};
use crate::quantity::{Currency, Temperature, Voltage};

/// A checked job. Lists keep the order of the file; ids are positions in them.
#[derive(Debug, Clone)]
pub struct Job {
    /// What the job is.
    pub title: String,
    /// Who took the measurements, where the file says.
    pub measured_by: Option<String>,
    /// Which variant of it this is; none for the job itself.
    pub variant: Option<String>,
    /// Units that documents show.
    pub units: Units,
    /// Currency of the bill.
    pub currency: Currency,
    /// Nominal voltage.
    pub system_voltage: Voltage,
    /// Which rules hold.
    pub setting: Setting,
    /// The setting's rules with the job's own figures in place.
    pub rules: RuleSet,
    /// What the spares kit may be, where the job says.
    pub spares: Option<SparesFile>,
    /// Rules that the job made less strict.
    pub loosened: Vec<Loosened>,
    /// Coldest day.
    pub cold: Temperature,
    /// Hottest day.
    pub hot: Temperature,
    /// Regions.
    pub spaces: Vec<Space>,
    /// Named points.
    pub places: Vec<Place>,
    /// Walls and floors.
    pub panels: Vec<Panel>,
    /// Measured stretches.
    pub legs: Vec<Leg>,
    /// Batteries.
    pub batteries: Vec<Battery>,
    /// Alternators.
    pub alternators: Vec<Alternator>,
    /// Converters.
    pub converters: Vec<Converter>,
    /// Loads.
    pub loads: Vec<Load>,
    /// Buses.
    pub buses: Vec<Bus>,
    /// Switches, contactors and connectors.
    pub devices: Vec<Device>,
    /// Points of body or engine.
    pub chassis: Vec<Chassis>,
    /// Metal that joins chassis points.
    pub bonds: Vec<Bond>,
    /// Leads to be made.
    pub leads: Vec<Lead>,
    /// States to be judged.
    pub states: Vec<State>,
    /// Every terminal.
    pub terminals: Vec<Terminal>,
    /// The same job with something changed; none of a variant itself.
    pub variants: Vec<Variant>,
}

/// The same job with something changed.
#[derive(Debug, Clone)]
pub struct Variant {
    /// Its name.
    pub name: String,
    /// What it tries.
    pub note: Option<String>,
    /// The job that it gives.
    pub job: Job,
}

impl Job {
    /// What the job is, and which variant of it.
    pub fn headline(&self) -> String {
        match &self.variant {
            Some(variant) => format!("{}; variant “{variant}”", self.title),
            None => self.title.clone(),
        }
    }

    /// The job of a variant.
    pub fn variant(&self, name: &str) -> Option<&Job> {
        let mut variants = self.variants.iter();
        variants
            .find(|variant| variant.name == name)
            .map(|variant| &variant.job)
    }

    /// The place behind an id.
    pub fn place(&self, id: PlaceId) -> &Place {
        &self.places[id.0]
    }

    /// The space behind an id.
    pub fn space(&self, id: SpaceId) -> &Space {
        &self.spaces[id.0]
    }

    /// The panel behind an id.
    pub fn panel(&self, id: PanelId) -> &Panel {
        &self.panels[id.0]
    }

    /// The leg behind an id.
    pub fn leg(&self, id: LegId) -> &Leg {
        &self.legs[id.0]
    }

    /// The lead behind an id.
    pub fn lead(&self, id: LeadId) -> &Lead {
        &self.leads[id.0]
    }

    /// The load behind an id.
    pub fn load(&self, id: LoadId) -> &Load {
        &self.loads[id.0]
    }

    /// The terminal behind an id.
    pub fn terminal(&self, id: TerminalId) -> &Terminal {
        &self.terminals[id.0]
    }

    /// Every lead with its id.
    pub fn leads(&self) -> impl Iterator<Item = (LeadId, &Lead)> {
        self.leads
            .iter()
            .enumerate()
            .map(|(i, lead)| (LeadId(i), lead))
    }

    /// Every leg with its id.
    pub fn legs(&self) -> impl Iterator<Item = (LegId, &Leg)> {
        self.legs.iter().enumerate().map(|(i, leg)| (LegId(i), leg))
    }

    /// How many times the 12 V on which some limits are stated.
    pub fn twelfths(&self) -> f64 {
        self.system_voltage.v() / 12.0
    }

    /// Leads that end at a terminal.
    pub fn leads_at(&self, terminal: TerminalId) -> impl Iterator<Item = LeadId> {
        self.leads()
            .filter(move |(_, lead)| lead.from == terminal || lead.to == terminal)
            .map(|(id, _)| id)
    }
}
