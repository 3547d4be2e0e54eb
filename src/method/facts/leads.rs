//! Values about cables, leads, their ends and the joints that these make.

use serde::Serialize;

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
    /// Number of legs; none where both ends are at one place.
    pub legs: usize,
    /// Number of made-up cables.
    pub sections: usize,
    /// Name of an end that moves with the engine.
    pub moving: String,
    /// Its breaker or fuse.
    pub protection: String,
    /// Smallest bend radius of its cable.
    pub bend: String,
    /// Largest resistance of its cable by the cable's standard, without joints and protection.
    pub resistance: String,
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
    /// Name of that end of it which moves with the engine.
    pub moving: String,
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
    /// Whether the torque is guidance only, because the stud's metal is its maker's affair.
    pub guidance: bool,
    /// Wrench.
    pub wrench: String,
    /// Boots to pull over.
    pub boots: usize,
}
