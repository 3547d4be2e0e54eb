//! Protection and everything that is mounted or tightened.

use serde::Serialize;

use super::build::{Context, metres};
use crate::drawings::time_current_name;
use crate::protection::{Alone, Selectivity};

/// A breaker or fuse.
#[derive(Debug, Clone, Serialize)]
pub struct ProtectionView {
    /// The lead it guards.
    pub lead: String,
    /// Where it is mounted.
    pub place: String,
    /// Id of the breaker or fuse.
    pub part: String,
    /// The part in words.
    pub description: String,
    /// Id of the holder of a fuse.
    pub holder: Option<String>,
    /// Rated current.
    pub rating_a: f64,
    /// Distance from the source.
    pub distance_mm: f64,
    /// Largest current for hours.
    pub continuous_a: f64,
    /// Largest fault current that it must break.
    pub fault_near_a: f64,
    /// Smallest fault current at the far end.
    pub fault_far_a: f64,
    /// Longest opening time at that current.
    pub opens_within_s: Option<f64>,
    /// How long the cable stands that current.
    pub withstands_s: f64,
    /// Why this device.
    pub reason: String,
    /// What would let a device do all, where this one does not.
    pub cures: Vec<String>,
    /// The devices that come next.
    pub selectivity: Vec<SelectivityView>,
    /// Name of the drawing of its band, its cable and its faults.
    pub time_current: String,
}

/// A device that comes next after another.
#[derive(Debug, Clone, Serialize)]
pub struct SelectivityView {
    /// The lead that it guards.
    pub lead: String,
    /// Whether it opens alone: `always`, `up to`, `never`.
    pub alone: &'static str,
    /// Up to which current of a short, where not always or never.
    pub up_to_a: Option<f64>,
    /// Smallest short in its lead.
    pub least_a: f64,
    /// Largest short in its lead.
    pub largest_a: f64,
}

/// A clamp.
#[derive(Debug, Clone, Serialize)]
pub struct ClampView {
    /// The leg, by its two places.
    pub leg: String,
    /// The place that distances are from.
    pub from: String,
    /// Distance from it.
    pub at_m: f64,
    /// The same in the job's units.
    pub at_shown: String,
    /// Diameter of what it holds.
    pub diameter_mm: f64,
    /// Leads it holds.
    pub leads: Vec<String>,
    /// Id of the clamp.
    pub part: Option<String>,
    /// Hole for its bolt.
    pub hole_mm: Option<f64>,
}

/// A fitting in a panel.
#[derive(Debug, Clone, Serialize)]
pub struct PassageView {
    /// The lead.
    pub lead: String,
    /// The panel.
    pub panel: String,
    /// Feed-through or grommet.
    pub kind: String,
    /// Id of the fitting.
    pub part: Option<String>,
    /// Thread of its stud.
    pub stud: Option<String>,
    /// Hole to cut.
    pub hole_mm: Option<f64>,
    /// The same in the job's units.
    pub hole_shown: Option<String>,
}

/// A bus.
#[derive(Debug, Clone, Serialize)]
pub struct BusView {
    /// Its name.
    pub name: String,
    /// Where it is mounted.
    pub place: String,
    /// Id of the part.
    pub part: Option<String>,
    /// Thread of its studs.
    pub stud: String,
    /// Lead ends on each stud.
    pub studs: Vec<Vec<String>>,
}

/// A battery's box.
#[derive(Debug, Clone, Serialize)]
pub struct EnclosureView {
    /// The battery.
    pub battery: String,
    /// Where it stands.
    pub place: String,
    /// Id of the box.
    pub part: Option<String>,
    /// Id of the vent hose.
    pub vent: Option<String>,
}

/// Sleeving over a stretch of a lead.
#[derive(Debug, Clone, Serialize)]
pub struct SleevingView {
    /// The lead.
    pub lead: String,
    /// The leg, by its two places.
    pub leg: String,
    /// Id of the sleeving.
    pub part: Option<String>,
    /// Length to cut.
    pub length_m: f64,
    /// The same in the job's units.
    pub length_shown: String,
    /// What it guards against.
    pub against: String,
}

/// Every device.
pub fn protection(context: Context<'_>) -> Vec<ProtectionView> {
    let guards = context.plan.protection.guards.iter();
    guards
        .map(|guard| ProtectionView {
            lead: context.job.lead(guard.lead).name.clone(),
            place: context.job.place(guard.place).name.clone(),
            part: guard.part.clone(),
            description: context.described(&guard.part),
            holder: guard.holder.clone(),
            rating_a: guard.rating.a(),
            distance_mm: guard.distance.mm(),
            continuous_a: guard.continuous.a(),
            fault_near_a: guard.fault_near.a(),
            fault_far_a: guard.fault_far.a(),
            opens_within_s: guard.opens_within_s,
            withstands_s: guard.withstands_s,
            reason: guard.reason.clone(),
            cures: guard.cures.clone(),
            time_current: time_current_name(context.job, guard.lead),
            selectivity: guard
                .selectivity
                .iter()
                .map(|pair| selectivity(context, pair))
                .collect(),
        })
        .collect()
}

fn selectivity(context: Context<'_>, pair: &Selectivity) -> SelectivityView {
    let (alone, up_to_a) = match pair.alone {
        Alone::Always => ("always", None),
        Alone::UpTo(most) => ("up to", Some(most.a())),
        Alone::Never => ("never", None),
    };
    SelectivityView {
        lead: context.job.lead(pair.downstream).name.clone(),
        alone,
        up_to_a,
        least_a: pair.least.a(),
        largest_a: pair.largest.a(),
    }
}

fn leg_name(context: Context<'_>, leg: crate::job::LegId) -> String {
    let leg = context.job.leg(leg);
    let (from, to) = (context.job.place(leg.from), context.job.place(leg.to));
    format!("{} – {}", from.name, to.name)
}

/// Every clamp.
pub fn clamps(context: Context<'_>) -> Vec<ClampView> {
    let clamps = context.plan.fittings.clamps.iter();
    clamps
        .map(|clamp| ClampView {
            leg: leg_name(context, clamp.leg),
            from: context
                .job
                .place(context.job.leg(clamp.leg).from)
                .name
                .clone(),
            at_m: metres(clamp.at),
            at_shown: context.job.units.on_tape_nearest(clamp.at),
            diameter_mm: clamp.diameter.mm(),
            leads: clamp.leads.clone(),
            part: clamp.part.clone(),
            hole_mm: clamp.hole.map(|hole| hole.mm()),
        })
        .collect()
}

/// Every fitting in a panel.
pub fn passages(context: Context<'_>) -> Vec<PassageView> {
    let passages = context.plan.fittings.passages.iter();
    passages
        .map(|passage| PassageView {
            lead: context.job.lead(passage.lead).name.clone(),
            panel: context.job.panel(passage.panel).name.clone(),
            kind: passage.kind.to_string(),
            part: passage.part.clone(),
            stud: passage.stud.map(|stud| stud.to_string()),
            hole_mm: passage.hole.map(|hole| hole.mm()),
            hole_shown: passage.hole.map(|hole| context.job.units.drill(hole)),
        })
        .collect()
}

/// Every bus.
pub fn buses(context: Context<'_>) -> Vec<BusView> {
    let buses = context.plan.fittings.buses.iter();
    buses
        .map(|bus| BusView {
            name: bus.name.clone(),
            place: context.job.place(bus.place).name.clone(),
            part: bus.part.clone(),
            stud: bus
                .stud
                .map_or_else(|| "-".to_owned(), |stud| stud.to_string()),
            studs: bus.studs.clone(),
        })
        .collect()
}

/// Every battery box.
pub fn enclosures(context: Context<'_>) -> Vec<EnclosureView> {
    let boxes = context.plan.fittings.enclosures.iter();
    boxes
        .map(|item| EnclosureView {
            battery: item.battery.clone(),
            place: context.job.place(item.place).name.clone(),
            part: item.part.clone(),
            vent: item.vent.clone(),
        })
        .collect()
}

/// Every sleeving.
pub fn sleevings(context: Context<'_>) -> Vec<SleevingView> {
    let sleevings = context.plan.fittings.sleevings.iter();
    sleevings
        .map(|item| SleevingView {
            lead: context.job.lead(item.lead).name.clone(),
            leg: leg_name(context, item.leg),
            part: item.part.clone(),
            length_m: metres(item.length),
            length_shown: context.shown_for_marking(item.length),
            against: item.against.clone(),
        })
        .collect()
}
