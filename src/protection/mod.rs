//! Protection: the breaker or fuse of every lead that needs one.

mod choose;
mod exempt;
mod judge;
mod precharge;
mod self_limiting;

pub use choose::choose;

use serde::Serialize;

use crate::catalog::PartKind;
use crate::check::Check;
use crate::job::{LeadId, PlaceId};
use crate::quantity::{Current, Length, Resistance, Thread};

/// Outcome of the protection stage.
#[derive(Debug, Clone, Serialize)]
pub struct Protection {
    /// Every device, in the order of the leads.
    pub guards: Vec<Guard>,
    /// Verdicts.
    pub checks: Vec<Check>,
}

impl Protection {
    /// The device of a lead.
    pub fn guard(&self, lead: LeadId) -> Option<&Guard> {
        self.guards.iter().find(|guard| guard.lead == lead)
    }
}

/// A device in the path of a lead.
#[derive(Debug, Clone, Serialize)]
pub struct Guard {
    /// The lead it guards.
    pub lead: LeadId,
    /// Where it is mounted.
    pub place: PlaceId,
    /// Breaker or fuse.
    pub kind: PartKind,
    /// Id of the breaker or fuse.
    pub part: String,
    /// Id of the holder, for a fuse.
    pub holder: Option<String>,
    /// Thread of the studs that the lugs go on.
    pub stud: Thread,
    /// Rated current.
    pub rating: Current,
    /// Resistance when closed.
    pub resistance: Resistance,
    /// Distance along the conductor from the source.
    pub distance: Length,
    /// Largest continuous current through it.
    pub continuous: Current,
    /// Fault current at its own terminals, largest.
    pub fault_near: Current,
    /// Fault current at the far end of the lead, smallest.
    pub fault_far: Current,
    /// Longest opening time at the smallest fault, in seconds; nothing when it need not open.
    pub opens_within_s: Option<f64>,
    /// How long the lead stands that fault, in seconds.
    pub withstands_s: f64,
    /// Why this device.
    pub reason: String,
}
