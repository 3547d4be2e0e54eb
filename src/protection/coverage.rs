//! How much of every positive lead a device protects in time, metre by metre.

use rayon::prelude::*;
use serde::Serialize;

use super::stretches::stretches;
use super::watch::{End, Feed, Watch};
use crate::catalog::{Basis, Cited, Polarity};
use crate::check::{Check, CheckRule};
use crate::job::{Job, LeadId, Owner};
use crate::quantity::{Current, Length};

/// Whether a stretch of a lead is protected.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Keep {
    /// A device opens before the cable is harmed.
    Protected,
    /// None does, and the rules permit it.
    Permitted,
    /// None does.
    Bare,
}

/// A stretch of a lead.
#[derive(Debug, Clone, Serialize)]
pub struct Stretch {
    /// Metres of cable from the lead's start to the start of the stretch.
    pub from: Length,
    /// The same to its end.
    pub to: Length,
    /// Whether it is protected.
    pub keep: Keep,
    /// By what, or why not.
    pub reason: String,
}

impl Stretch {
    /// How long it is.
    pub fn length(&self) -> Length {
        self.to - self.from
    }
}

/// A short at one point of a lead.
#[derive(Debug, Clone, Serialize)]
pub struct FaultPoint {
    /// Which point, in words.
    pub name: &'static str,
    /// Metres of cable from the lead's start.
    pub at: Length,
    /// Largest current of the short.
    pub largest: Current,
    /// Smallest current of the short.
    pub smallest: Current,
    /// The lead whose device sees it, if any does.
    pub guard: Option<LeadId>,
    /// Longest time until that device opens, in seconds; nothing when it need not.
    pub opens_within_s: Option<f64>,
    /// The most energy that it lets through, in A²s.
    pub lets_through_a2s: Option<f64>,
}

/// One positive lead.
#[derive(Debug, Clone, Serialize)]
pub struct LeadCoverage {
    /// Which lead.
    pub lead: LeadId,
    /// Its stretches, from its start to its end.
    pub stretches: Vec<Stretch>,
    /// Shorts at its near end, at its far end, and where its protection stops.
    pub points: Vec<FaultPoint>,
    /// The energy that its cable stands, in A²s.
    pub stands_a2s: f64,
}

impl LeadCoverage {
    /// Sum of the stretches of a kind.
    pub fn length(&self, keep: Keep) -> Length {
        let stretches = self.stretches.iter().filter(|stretch| stretch.keep == keep);
        stretches.map(Stretch::length).sum()
    }
}

/// All positive leads.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Coverage {
    /// The leads, in the order of the job.
    pub leads: Vec<LeadCoverage>,
}

impl Coverage {
    /// Sum of the stretches of a kind over all leads.
    pub fn length(&self, keep: Keep) -> Length {
        self.leads.iter().map(|lead| lead.length(keep)).sum()
    }
}

/// Works out the coverage of every positive lead.
pub fn cover(watch: &Watch<'_>) -> Coverage {
    let leads = watch.wiring.job.leads();
    let positive = leads.filter(|(_, lead)| lead.polarity == Polarity::Positive);
    let positive: Vec<LeadId> = positive.map(|(id, _)| id).collect();
    let leads = positive.into_par_iter().map(|id| cover_lead(watch, id));
    Coverage {
        leads: leads.collect(),
    }
}

/// One verdict for each positive lead.
pub fn judge(watch: &Watch<'_>, coverage: &Coverage) -> Vec<Check> {
    let leads = coverage.leads.iter();
    leads.map(|lead| judge_lead(watch, lead)).collect()
}

fn judge_lead(watch: &Watch<'_>, covered: &LeadCoverage) -> Check {
    let wiring = watch.wiring;
    let row = wiring
        .catalog
        .material(wiring.cables[covered.lead.0].material);
    let limit = Cited {
        value: 0.0,
        citation: row.map_or_else(String::new, |row| row.citation.clone()),
        basis: row.map_or(Basis::CommonPractice, |row| row.basis),
    };
    let metres = |keep| covered.length(keep).m();
    let mut note = format!(
        "{:.2} m protected, {:.2} m without by permission, {:.2} m not protected",
        metres(Keep::Protected),
        metres(Keep::Permitted),
        metres(Keep::Bare)
    );
    let first = covered
        .stretches
        .iter()
        .find(|stretch| stretch.keep == Keep::Bare);
    if let Some(bare) = first {
        note = format!("{note}, from {:.2} m on: {}", bare.from.m(), bare.reason);
    }
    let name = &wiring.job.lead(covered.lead).name;
    Check::at_most(CheckRule::Coverage, name, metres(Keep::Bare), &limit, "m").with_note(note)
}

fn cover_lead(watch: &Watch<'_>, lead: LeadId) -> LeadCoverage {
    let stretches = stretches(watch, lead);
    let points = points(watch, lead, &stretches)
        .into_iter()
        .map(|(name, at)| point(watch, lead, name, at))
        .collect();
    LeadCoverage {
        lead,
        stretches,
        points,
        stands_a2s: watch.wiring.stands_a2s(lead),
    }
}

/// Whether the setting lets a lead to a starter go without a device.
pub fn starter_permitted(watch: &Watch<'_>, lead: LeadId) -> bool {
    let job = watch.wiring.job;
    let item = job.lead(lead);
    let starter = |owner| match owner {
        Owner::Load(index) => job
            .loads
            .get(index)
            .is_some_and(crate::job::Load::is_starter),
        _ => false,
    };
    let ends = [item.from, item.to].map(|end| job.terminal(end).owner);
    job.rules.starter_unprotected.value && ends.into_iter().any(starter)
}

/// Whether a lead's own device is near enough to a source at its far end.
pub fn within_reach(watch: &Watch<'_>, lead: LeadId, feed: &Feed) -> bool {
    let most = watch.wiring.job.rules.protection_distance.value;
    watch.kept(lead).is_some_and(|kept| {
        let rest = watch.wiring.route.leads[lead.0].cut() - kept.at;
        feed.distance + rest <= most
    })
}

/// Name of a source.
pub fn source_name(job: &Job, source: Owner) -> &str {
    match source {
        Owner::Battery(index) => job
            .batteries
            .get(index)
            .map(|item| item.given.name.as_str()),
        Owner::Alternator(index) => job
            .alternators
            .get(index)
            .map(|item| item.given.name.as_str()),
        _ => None,
    }
    .unwrap_or("a source")
}

/// The points of a lead that are shown.
fn points(watch: &Watch<'_>, lead: LeadId, stretches: &[Stretch]) -> Vec<(&'static str, Length)> {
    let start = watch.kept(lead).map_or(Length::ZERO, |kept| kept.at);
    let end = watch.wiring.route.leads[lead.0].cut();
    let mut points = vec![("near end", start)];
    let mut kept = false;
    for stretch in stretches {
        if kept && stretch.keep == Keep::Bare {
            points.push(("where protection stops", stretch.from));
        }
        kept = stretch.keep == Keep::Protected;
    }
    points.push(("far end", end));
    points
}

fn point(watch: &Watch<'_>, lead: LeadId, name: &'static str, at: Length) -> FaultPoint {
    let spot = watch.faults.at(watch.wiring, lead, at);
    let total = watch.faults.total(&spot);
    let own = watch.kept(lead).filter(|kept| at >= kept.at).map(|_| lead);
    let upstream = watch.nearest_guards(lead, &spot);
    let guards = || own.into_iter().chain(upstream.iter().copied());
    // The one that saves the cable, else one that opens at all, else any.
    let saves = |guard: &LeadId| watch.in_time(*guard, lead, End::Near, &spot);
    let guard = own
        .filter(saves)
        .or_else(|| watch.savers(lead, &spot).first().copied())
        .or_else(|| guards().find(|guard| watch.lets_in(*guard, lead, End::Near, &spot).is_some()))
        .or_else(|| guards().next());
    let opens = guard.and_then(|guard| {
        let seen = watch.seen(guard, lead, End::Near, &spot);
        watch.kept(guard)?.cold.opens_within(seen.least)
    });
    FaultPoint {
        name,
        at,
        largest: total.largest,
        smallest: total.least,
        guard,
        opens_within_s: opens.map(|time| time.s()),
        lets_through_a2s: guard.and_then(|guard| watch.lets_in(guard, lead, End::Near, &spot)),
    }
}
