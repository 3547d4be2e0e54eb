//! Route: the way of every lead through the vehicle, and what it meets there.
//!
//! The way is the one of least cost over the graph of legs. A lead is cut into sections wherever
//! its conductor ends: at its two terminals, at its protection, and at every panel that it passes
//! by a feed-through. Each section is one made-up cable.

mod choice;
mod clearance;
mod cost;
mod graph;
mod lengths;
mod limits;
mod reasons;
mod sections;
mod sorted;
mod support;
mod survey;
#[cfg(test)]
mod testing;
mod windows;
mod wording;
mod words;

pub use limits::gap_limit;
pub use wording::hazard as hazard_name;

use serde::Serialize;

use crate::catalog::Catalog;
use crate::check::Check;
use crate::job::{Job, Lead, LeadId, LegId, PanelId, PlaceId, TerminalId};
use crate::quantity::{Length, Temperature};

/// Finds the way of every lead, cuts it into cables, and places the supports.
pub fn trace(job: &Job, catalog: &Catalog) -> Route {
    let graph = graph::Graph::of(job);
    let mut checks = Vec::new();
    let (ways, runners_up): (Vec<Way>, Vec<Option<RunnerUp>>) = job
        .leads
        .iter()
        .map(|lead| chosen(job, catalog, &graph, lead, &mut checks))
        .unzip();
    let bundles = survey::bundles(job, &ways);
    let supports = support::layout(job, &ways, &bundles);
    checks.extend(support::checks(job, &ways, &bundles, &supports));
    let leads = ways.into_iter().zip(runners_up).enumerate();
    Route {
        leads: leads
            .map(|(lead, (way, runner_up))| travelled(job, LeadId(lead), way, runner_up, &bundles))
            .collect(),
        bundles,
        supports,
        checks,
    }
}

/// The way of one lead and the best other way; its verdicts go to `checks`.
fn chosen(
    job: &Job,
    catalog: &Catalog,
    graph: &graph::Graph,
    lead: &Lead,
    checks: &mut Vec<Check>,
) -> (Way, Option<RunnerUp>) {
    let insulation = limits::insulation(job, lead, catalog);
    let choice = choice::Choice {
        job,
        graph,
        lead,
        insulation: insulation.as_ref(),
        tolls: &cost::tolls(job, catalog, insulation.as_ref()),
    };
    let Some(way) = choice.way() else {
        checks.push(clearance::unjoined(lead));
        return (choice.no_way(), None);
    };
    checks.extend(clearance::clearances(job, lead, &way));
    let insulation = insulation.as_ref();
    checks.extend(clearance::insulation_check(
        job, catalog, lead, &way, insulation,
    ));
    let runner_up = choice.runner_up(&way);
    (way, runner_up)
}

fn travelled(
    job: &Job,
    id: LeadId,
    way: Way,
    runner_up: Option<RunnerUp>,
    bundles: &[Bundle],
) -> LeadRoute {
    let cables = sections::cables(job, id, &way);
    LeadRoute {
        lead: id,
        runner_up,
        sections: cables.sections,
        crossings: cables.crossings,
        ambient: survey::ambient(job, &way),
        engine_space: survey::engine_space(job, &way),
        bundled_with: survey::bundled_with(job, id, bundles, &way),
        bends: survey::bends(job, &way),
        tightest_bend: survey::tightest_bend(job, &way),
        protection_at: cables.protection_at,
        protection_sheathed: sections::protection_sheathed(job, job.lead(id), &way),
        way,
    }
}

/// Outcome of the route stage.
#[derive(Debug, Clone, Serialize)]
pub struct Route {
    /// The way of each lead; position = lead id.
    pub leads: Vec<LeadRoute>,
    /// Leads that share a leg, for every leg that is used; in the order of the legs.
    pub bundles: Vec<Bundle>,
    /// Every support; in the order of legs and distance.
    pub supports: Vec<Support>,
    /// Verdicts on clearance, insulation and support.
    pub checks: Vec<Check>,
}

/// The way of one lead.
#[derive(Debug, Clone, Serialize)]
pub struct LeadRoute {
    /// Which lead.
    pub lead: LeadId,
    /// The way taken.
    pub way: Way,
    /// The best other way, if there is one.
    pub runner_up: Option<RunnerUp>,
    /// The cables it is made of, from its first end to its last.
    pub sections: Vec<Section>,
    /// Panels it passes, in order.
    pub crossings: Vec<Crossing>,
    /// Hottest air on the way.
    pub ambient: Temperature,
    /// Whether any of the way is in an engine space.
    pub engine_space: bool,
    /// Most current-carrying conductors that lie together anywhere on the way, itself included.
    pub bundled_with: usize,
    /// Bends on the way.
    pub bends: u32,
    /// Tightest bend on the way, where one was measured.
    pub tightest_bend: Option<Length>,
    /// Length of conductor from the source to the protection, slack included, for protected leads.
    pub protection_at: Option<Length>,
    /// Whether the cable is sheathed from the source to the protection.
    pub protection_sheathed: bool,
}

impl LeadRoute {
    /// Length along the way, without slack.
    pub fn routed(&self) -> Length {
        self.way.length
    }

    /// Where a section lies along the way: from its start to the start of the next. Nothing for a
    /// link between studs at one place, whose length is not along the way.
    pub fn stretch(&self, section: usize) -> Option<(Length, Length)> {
        let start = self.sections.get(section)?.start;
        let next = self.sections.get(section + 1);
        Some((start, next.map_or(self.way.length, |next| next.start)))
    }

    /// Sum of what is cut for all sections.
    pub fn cut(&self) -> Length {
        self.sections.iter().map(|section| section.cut).sum()
    }
}

/// A chain of legs.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Way {
    /// Places from end to end; one more than `legs`.
    pub places: Vec<PlaceId>,
    /// The legs between them.
    pub legs: Vec<LegId>,
    /// Sum of their lengths.
    pub length: Length,
    /// Length weighted by exposure and access, in metres; what the choice was made by.
    pub cost_m: f64,
}

/// The best other way and why it lost.
#[derive(Debug, Clone, Serialize)]
pub struct RunnerUp {
    /// The way.
    pub way: Way,
    /// Why it was not taken, in words.
    pub reasons: Vec<String>,
}

/// Where a section ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum EndPoint {
    /// On a terminal of the job.
    Terminal(TerminalId),
    /// On the source side of the lead's protection.
    ProtectionIn(LeadId),
    /// On the load side of the lead's protection.
    ProtectionOut(LeadId),
    /// On a feed-through, on the side that the lead comes from.
    FeedThroughNear(LeadId, PanelId),
    /// On a feed-through, on the side that the lead goes on to.
    FeedThroughFar(LeadId, PanelId),
}

/// One made-up cable.
#[derive(Debug, Clone, Serialize)]
pub struct Section {
    /// Its first end.
    pub from: EndPoint,
    /// Its last end.
    pub to: EndPoint,
    /// Where it starts along the way of the lead.
    pub start: Length,
    /// Length along the way.
    pub routed: Length,
    /// What the cut length is made of; the first is the routed length itself.
    pub terms: Vec<LengthTerm>,
    /// Length to cut: the sum of the terms, a whole number of cutting steps.
    pub cut: Length,
}

/// One part of a cut length.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LengthTerm {
    /// What it is for.
    pub reason: String,
    /// How much; may be below zero.
    pub length: Length,
}

/// A lead passing a panel.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Crossing {
    /// The panel.
    pub panel: PanelId,
    /// The leg on which it lies.
    pub leg: LegId,
    /// Distance along the way of the lead.
    pub at: Length,
}

/// Leads that share a leg.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Bundle {
    /// The leg.
    pub leg: LegId,
    /// The leads, in order.
    pub leads: Vec<LeadId>,
}

/// One support of a bundle.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Support {
    /// The leg it is on.
    pub leg: LegId,
    /// Distance from the leg's first place.
    pub at: Length,
    /// Why it is there.
    pub reason: SupportReason,
}

/// Why a support is there.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum SupportReason {
    /// To keep the spacing.
    Spacing,
    /// Near an end of a lead.
    NearEnd,
    /// Beside a bend.
    Bend,
    /// Beside a panel.
    Panel,
}
