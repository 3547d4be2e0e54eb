//! Values about what is drilled, mounted and clamped.

use serde::Serialize;

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
    /// The leads that pass it and the leg on which they do, leg by leg.
    pub passed: Vec<String>,
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
