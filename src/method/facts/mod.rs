//! What a text of the step library may say about the thing that its step is made for.
//!
//! Names stand in backticks and figures carry their unit, ready to be shown. A text that is empty
//! means that nothing is known or none is there, so that a template can ask `{% if end.boot %}`.

mod fixed;
mod leads;

pub use fixed::{EnclosureFacts, LegFacts, PanelFacts, PartFacts, PassageFacts, ProtectionFacts};
pub use leads::{CableFacts, EndFacts, JointFacts, LeadFacts, SectionFacts, SleevingFacts};

use std::collections::BTreeMap;

use minijinja::Value;
use minijinja::value::Serde;
use serde::Serialize;

use super::library::Per;

/// Values by the name of their group; each is a map of its own.
#[derive(Debug, Clone, Default)]
pub struct Facts(BTreeMap<&'static str, Value>);

impl Facts {
    /// Adds a group.
    #[must_use]
    pub fn with(mut self, name: &'static str, group: &impl Serialize) -> Self {
        self.0.insert(name, Value::from(Serde(group)));
        self
    }

    /// As the context of a template.
    pub fn context(&self) -> Value {
        Value::from_pairs(self.0.iter().map(|(name, group)| (*name, group.clone())))
    }

    /// The names that a template may use: groups, and keys of groups as `group.key`.
    pub fn names(&self) -> Vec<String> {
        let mut names = Vec::new();
        for (group, value) in &self.0 {
            names.push((*group).to_owned());
            let keys = value.try_iter().into_iter().flatten();
            names.extend(keys.map(|key| format!("{group}.{key}")));
        }
        names
    }

    /// Empty values of all groups that a step made for such a thing has.
    pub fn sample(per: Per) -> Self {
        let bare = Self::default().with("job", &JobFacts::default());
        let placed = || bare.clone().with("place", &PlaceFacts::default());
        let lead = || bare.clone().with("lead", &LeadFacts::default());
        let section = || lead().with("section", &SectionFacts::default());
        match per {
            Per::Job => bare,
            Per::Battery => placed().with("battery", &BatteryFacts::default()),
            Per::Cable => bare.with("cable", &CableFacts::default()),
            Per::Lead => lead(),
            Per::Section => section(),
            Per::End => section()
                .with("place", &PlaceFacts::default())
                .with("end", &EndFacts::default()),
            Per::Panel => bare.with("panel", &PanelFacts::default()),
            Per::Passage => lead()
                .with("place", &PlaceFacts::default())
                .with("panel", &PanelFacts::default())
                .with("passage", &PassageFacts::default()),
            Per::Leg => bare.with("leg", &LegFacts::default()),
            Per::Sleeving => lead().with("sleeving", &SleevingFacts::default()),
            Per::Bus => placed().with("bus", &PartFacts::default()),
            Per::Protection => lead()
                .with("place", &PlaceFacts::default())
                .with("protection", &ProtectionFacts::default()),
            Per::Device => placed().with("device", &PartFacts::default()),
            Per::Enclosure => placed()
                .with("battery", &BatteryFacts::default())
                .with("enclosure", &EnclosureFacts::default()),
            Per::Joint => placed().with("joint", &JointFacts::default()),
            Per::State => bare.with("state", &StateFacts::default()),
        }
    }
}

/// The job as a whole.
#[derive(Debug, Clone, Default, Serialize)]
pub struct JobFacts {
    /// Its title.
    pub title: String,
    /// Nominal voltage.
    pub voltage: String,
    /// Whether it is a boat.
    pub boat: bool,
    /// Whether a battery is vented lead-acid.
    pub flooded: bool,
    /// Whether a battery is lithium.
    pub lithium: bool,
    /// Whether leads run where hands reach only lying down or after taking something off.
    pub underneath: bool,
    /// Whether there is an alternator.
    pub alternator: bool,
    /// Names of loads that fail when the supply dips.
    pub sensitive: String,
    /// Number of leads.
    pub leads: usize,
    /// Number of nuts to tighten.
    pub joints: usize,
    /// Number of checks that failed or are open, in the stages before this one.
    pub unsettled: usize,
    /// What nothing in the catalog fits.
    pub misfits: Vec<String>,
}

/// A place.
#[derive(Debug, Clone, Default, Serialize)]
pub struct PlaceFacts {
    /// Its name.
    pub name: String,
    /// The space it lies in.
    pub space: String,
    /// Whether fuel vapour or battery gas may gather there.
    pub vapour: bool,
    /// Whether it gets wet.
    pub wet: bool,
}

/// A battery.
#[derive(Debug, Clone, Default, Serialize)]
pub struct BatteryFacts {
    /// Its name.
    pub name: String,
    /// What it is made of.
    pub chemistry: String,
    /// Whether it is lithium.
    pub lithium: bool,
    /// Its mass, where known.
    pub mass: String,
    /// Whether its posts take a battery terminal.
    pub tapered: bool,
    /// Whether it gets a box.
    pub boxed: bool,
}

/// An operating state.
#[derive(Debug, Clone, Default, Serialize)]
pub struct StateFacts {
    /// Its name.
    pub name: String,
    /// What the engine does.
    pub engine: String,
    /// Cold or hot.
    pub season: String,
    /// Whether the engine turns.
    pub turning: bool,
    /// Loads that are on.
    pub loads: String,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_of_thing_can_show_its_own_values() {
        for (per, group) in [
            (Per::End, "end.strip"),
            (Per::Passage, "passage.hole"),
            (Per::Joint, "joint.torque"),
            (Per::Enclosure, "battery.name"),
        ] {
            let names = Facts::sample(per).names();
            assert!(names.iter().any(|name| name == group), "{group}");
            assert!(names.iter().any(|name| name == "job.title"));
        }
    }
}
