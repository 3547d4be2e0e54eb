//! Route: the way of every lead through the vehicle, and what it meets there.
//!
//! The way is the one of least cost over the graph of legs. A lead is cut into sections wherever
//! its conductor ends: at its two terminals, at its protection, and at every panel that it passes
//! by a feed-through. Each section is one made-up cable.

mod words;

use serde::Serialize;

use crate::check::Check;
use crate::job::{LeadId, LegId, PanelId, PlaceId, TerminalId};
use crate::quantity::{Length, Temperature};

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
    /// Distance along the conductor from the source to the protection, for protected leads.
    pub protection_at: Option<Length>,
    /// Whether the cable is sheathed from the source to the protection.
    pub protection_sheathed: bool,
}

impl LeadRoute {
    /// Length along the way, without slack.
    pub fn routed(&self) -> Length {
        self.way.length
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
    /// Length to cut: the sum of the terms, rounded up to the cutting step.
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
