//! Protection: the breaker or fuse of every lead that needs one.

mod choose;
mod coverage;
mod cure;
mod exempt;
mod far_feed;
mod judge;
mod precharge;
mod prefer;
mod selectivity;
mod self_limiting;
mod stretches;
mod watch;

pub use choose::choose;
pub use coverage::{Coverage, FaultPoint, Keep, LeadCoverage, Stretch};
pub use selectivity::{Alone, Selectivity};
pub use stretches::looked_at;

use serde::Serialize;

use crate::catalog::PartKind;
use crate::check::Check;
use crate::circuit::Pulse;
use crate::job::{LeadId, PlaceId};
use crate::quantity::{Current, Length, Resistance, Thread};

/// Outcome of the protection stage.
#[derive(Debug, Clone, Serialize)]
pub struct Protection {
    /// Every device, in the order of the leads.
    pub guards: Vec<Guard>,
    /// How much of every positive lead is protected.
    pub coverage: Coverage,
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
    /// Larger currents that flow for a time.
    #[serde(skip)]
    pub pulses: Vec<Pulse>,
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
    /// What would let a device do all, where this one does not; each was tried out.
    pub cures: Vec<String>,
    /// Whether the devices that come next open alone.
    pub selectivity: Vec<Selectivity>,
}
