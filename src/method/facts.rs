//! What a text of the step library may say about the thing that its step is made for.
//!
//! Names stand in backticks and figures carry their unit, ready to be shown. A text that is empty
//! means that nothing is known or none is there, so that a template can ask `{% if end.boot %}`.

use std::collections::BTreeMap;

use minijinja::Value;
use serde::Serialize;

use super::library::Per;

/// Values by the name of their group; each is a map of its own.
#[derive(Debug, Clone, Default)]
pub struct Facts(BTreeMap<&'static str, Value>);

impl Facts {
    /// Adds a group.
    #[must_use]
    pub fn with(mut self, name: &'static str, group: &impl Serialize) -> Self {
        self.0.insert(name, Value::from_serialize(group));
        self
    }

    /// As the context of a template.
    pub fn context(&self) -> Value {
        self.0.iter().map(|(k, v)| (*k, v.clone())).collect()
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
        let bare = bare.with("count", &1_u32);
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
    /// Name of the setting.
    pub setting: String,
    /// Whether it is a boat.
    pub boat: bool,
    /// Whether a battery is vented lead-acid.
    pub flooded: bool,
    /// Whether a battery is lithium.
    pub lithium: bool,
    /// Whether a battery stands where vapour may gather.
    pub vapour: bool,
    /// Whether leads run where hands reach only lying down or after taking something off.
    pub underneath: bool,
    /// Whether a lead runs past something hot.
    pub hot: bool,
    /// Whether a lead runs past fuel or brake lines.
    pub lines: bool,
    /// Whether there is an alternator.
    pub alternator: bool,
    /// Names of the batteries.
    pub batteries: String,
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

/// A cable of the catalog.
#[derive(Debug, Clone, Default, Serialize)]
pub struct CableFacts {
    /// One line.
    pub description: String,
    /// Id in the catalog.
    pub id: String,
    /// Its size.
    pub size: String,
    /// Largest resistance of its standard.
    pub resistance: String,
    /// Outer diameter.
    pub diameter: String,
    /// Smallest bend radius.
    pub bend: String,
    /// Names of the leads made of it.
    pub leads: String,
}

/// A lead.
#[derive(Debug, Clone, Default, Serialize)]
pub struct LeadFacts {
    /// Its name.
    pub name: String,
    /// The terminal it starts at.
    pub from: String,
    /// The terminal it ends at.
    pub to: String,
    /// Whether it is positive.
    pub positive: bool,
    /// Colour of its insulation.
    pub colour: String,
    /// The places it passes, in order.
    pub way: String,
    /// Length along the way.
    pub routed: String,
    /// Number of made-up cables.
    pub sections: usize,
    /// Name of an end that moves with the engine.
    pub moving: String,
    /// Its breaker or fuse.
    pub protection: String,
    /// Smallest bend radius of its cable.
    pub bend: String,
}

/// A made-up cable.
#[derive(Debug, Clone, Default, Serialize)]
pub struct SectionFacts {
    /// The lead's name, and which part of it.
    pub name: String,
    /// Cable, size and colour.
    pub cable: String,
    /// Terminal at its first end.
    pub from: String,
    /// Terminal at its last end.
    pub to: String,
    /// Length to cut.
    pub cut: String,
    /// Length along the way.
    pub routed: String,
    /// What the cut length is made of.
    pub terms: String,
    /// The places it passes, in order.
    pub way: String,
}

/// One end of a section.
#[derive(Debug, Clone, Default, Serialize)]
pub struct EndFacts {
    /// The terminal.
    pub terminal: String,
    /// Whether it is the end that is made on the bench, before the cable is laid.
    pub first: bool,
    /// Id of the lug.
    pub lug: String,
    /// The lug in one line.
    pub lug_description: String,
    /// Code of the die.
    pub die: String,
    /// Number of crimps, in words.
    pub crimps: String,
    /// Insulation to strip.
    pub strip: String,
    /// Id of the sleeve.
    pub sleeve: String,
    /// Id of the boot.
    pub boot: String,
    /// Thread of the stud.
    pub stud: String,
}

/// A wall or floor.
#[derive(Debug, Clone, Default, Serialize)]
pub struct PanelFacts {
    /// Its name.
    pub name: String,
    /// What it is made of.
    pub material: String,
    /// Whether it is metal.
    pub metal: bool,
    /// Its thickness.
    pub thickness: String,
    /// Names of the leads that pass it.
    pub leads: String,
    /// The leg on which it is passed.
    pub leg: String,
}

/// A fitting for one lead in a panel.
#[derive(Debug, Clone, Default, Serialize)]
pub struct PassageFacts {
    /// `feed-through` or `grommet`.
    pub kind: String,
    /// Id of the fitting.
    pub part: String,
    /// Hole to cut.
    pub hole: String,
    /// Thread of the stud, for a feed-through.
    pub stud: String,
    /// Where the hole goes.
    pub at: String,
}

/// A leg that leads lie on.
#[derive(Debug, Clone, Default, Serialize)]
pub struct LegFacts {
    /// Its two places, in words.
    pub name: String,
    /// The place that distances count from.
    pub from: String,
    /// The place at its end.
    pub to: String,
    /// Word for the access.
    pub access: String,
    /// Names of the leads that lie on it.
    pub leads: String,
    /// Number of clamps.
    pub clamps: usize,
    /// Each clamp: distance, part.
    pub positions: Vec<String>,
    /// Holes for the clamps' bolts.
    pub holes: String,
    /// What it runs past, with the distance to keep.
    pub hazards: Vec<String>,
    /// Whether a conduit, duct or trough encloses the cable.
    pub sheathed: bool,
}

/// Sleeving over a stretch of a lead.
#[derive(Debug, Clone, Default, Serialize)]
pub struct SleevingFacts {
    /// Id of the sleeving.
    pub part: String,
    /// Length to cut.
    pub length: String,
    /// What it guards against.
    pub against: String,
    /// The leg.
    pub leg: String,
}

/// A bus, switch, contactor or connector.
#[derive(Debug, Clone, Default, Serialize)]
pub struct PartFacts {
    /// Its name in the job.
    pub name: String,
    /// Id of the part.
    pub part: String,
    /// The part in one line.
    pub description: String,
    /// Its kind.
    pub kind: String,
    /// How it is held, such as `2 screws M6`.
    pub mounting: String,
    /// Whether a cover comes with it.
    pub cover: bool,
}

/// A breaker or fuse.
#[derive(Debug, Clone, Default, Serialize)]
pub struct ProtectionFacts {
    /// `breaker` or `fuse`.
    pub kind: String,
    /// Id of the part.
    pub part: String,
    /// Its rating.
    pub rating: String,
    /// Id of the holder.
    pub holder: String,
    /// How it is held.
    pub mounting: String,
    /// Thread of its studs.
    pub stud: String,
}

/// A battery's box.
#[derive(Debug, Clone, Default, Serialize)]
pub struct EnclosureFacts {
    /// Id of the part.
    pub part: String,
    /// The part in one line.
    pub description: String,
    /// Id of the vent hose.
    pub vent: String,
    /// Whether a hold-down comes with it.
    pub hold_down: bool,
}

/// A nut on a stud with the lugs under it.
#[derive(Debug, Clone, Default, Serialize)]
pub struct JointFacts {
    /// The stud.
    pub name: String,
    /// What the stud belongs to: `battery`, `alternator`, `load`, `bus`, `device`, `chassis`, `protection` or `feed-through`.
    pub on: String,
    /// Whether it is on the negative side, for a battery's stud.
    pub negative: bool,
    /// Whether it only joins batteries to each other.
    pub link: bool,
    /// Its thread.
    pub thread: String,
    /// Leads from the stud's foot up.
    pub leads: String,
    /// Number of lugs.
    pub lugs: usize,
    /// Torque, where one is published.
    pub torque: String,
    /// Publication behind the torque.
    pub torque_source: String,
    /// Wrench.
    pub wrench: String,
    /// Boots to pull over.
    pub boots: usize,
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
