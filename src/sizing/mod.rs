//! Sizing: the cable of every lead, and the reason for it.

mod bound;
mod candidates;
mod carry;
mod choose;
mod choosing;
mod domains;
mod effort;
mod ends;
mod exact;
mod held;
mod least;
mod mend;
mod ohms;
mod options;
mod outfit;
mod pairs;
mod price;
mod problem;
mod reasons;
mod relax;
mod report;
mod search;
#[cfg(test)]
mod search_tests;
mod shares;
mod shorted;
mod split;
#[cfg(test)]
mod truth_tests;
mod worth;

pub use choose::Proof;
pub use split::Split;
pub use worth::Thicker;

pub use candidates::{Candidate, allowed, could_be};
pub use carry::{Burden, burden};

use std::collections::BTreeMap;

use serde::Serialize;

use crate::catalog::Catalog;
use crate::check::Check;
use crate::job::{Job, LeadId, SortedJob};
use crate::quantity::{ConductorSize, Current, Length, Resistance};
use crate::route::Route;

/// Chooses the cable of every lead; the same ones whatever the order of the job.
pub fn choose(job: &Job, route: &Route, catalog: &Catalog) -> Sizing {
    let sorted = SortedJob::of(job);
    let route = route.of_sorted(&sorted);
    let stock = outfit::Stock::of(&sorted.job, &route, catalog);
    // Only an empty catalog leaves a lead without any cable; the catalog's own check forbids it.
    if stock.ladders.iter().any(Vec::is_empty) {
        return report::nothing(job);
    }
    let chosen = choose::choose(&stock);
    report::report(&stock, &chosen).in_order_of(job, &sorted)
}

impl Sizing {
    /// The same with leads and checks in the order of the job as written.
    fn in_order_of(mut self, job: &Job, sorted: &SortedJob) -> Self {
        for (written, _) in job.leads() {
            self.leads[sorted.lead(written).0].lead = written;
        }
        self.leads.sort_by_key(|lead| lead.lead);
        let places: BTreeMap<&str, LeadId> = job
            .leads()
            .map(|(id, lead)| (lead.name.as_str(), id))
            .collect();
        self.checks
            .sort_by_key(|check| places.get(check.subject.as_str()).copied());
        self
    }
}

/// Outcome of the sizing stage.
#[derive(Debug, Clone, Serialize)]
pub struct Sizing {
    /// The cable of each lead; position = lead id.
    pub leads: Vec<SizedLead>,
    /// How good the choice is, all leads taken together.
    pub proof: Proof,
    /// Verdicts on ampacity and conductors.
    pub checks: Vec<Check>,
}

/// The cable of one lead.
#[derive(Debug, Clone, Serialize)]
pub struct SizedLead {
    /// Which lead.
    pub lead: LeadId,
    /// Id of the cable.
    pub cable: String,
    /// Its size.
    pub size: ConductorSize,
    /// Nominal area in square millimetres.
    pub area_mm2: f64,
    /// Outer diameter.
    pub outer_diameter: Length,
    /// Id of the breaker or fuse that was reckoned with, for leads that some device can guard.
    pub device: Option<String>,
    /// Resistance reckoned for its device until one is chosen.
    pub device_allowance: Resistance,
    /// Largest continuous current in any state, at its worst corner.
    pub continuous: Current,
    /// The same with every figure as planned.
    pub planned: Current,
    /// Current it may carry where it lies.
    pub ampacity: Current,
    /// How the ampacity comes about, factor by factor.
    pub ampacity_terms: Vec<String>,
    /// What decided the size.
    pub binding: String,
    /// How much is left of what decided it, in percent of the limit.
    pub margin_percent: f64,
    /// What the next thinner size would break; nothing when there is no thinner one.
    pub thinner: Option<String>,
    /// What the next thicker size would cost and bring.
    pub thicker: Option<Thicker>,
    /// What clamps of its own would save, where lying with others makes it thicker.
    pub split: Option<Split>,
    /// Rough price of the lead with its fittings and device.
    pub price: f64,
}
