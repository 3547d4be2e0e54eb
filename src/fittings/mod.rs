//! Fittings: every lug, sleeve, boot, clamp, feed-through, bus, box and fastener.

mod bends;
mod buses;
mod choose;
mod clamps;
mod consumables;
mod currents;
mod devices;
mod enclosures;
mod ends;
mod fasteners;
#[cfg(test)]
mod fixture;
mod joints;
mod ledger;
mod needs;
mod passages;
mod posts;
mod room;
mod site;
mod sleevings;
mod studs;
#[cfg(test)]
mod tests;
mod tools;
mod words;

pub use fasteners::bolt_length;

use serde::Serialize;

use crate::catalog::{Catalog, Colour, PartKind};
use crate::check::Check;
use crate::circuit::Operation;
use crate::file::words;
use crate::job::{Job, LeadId, LegId, PanelId, PlaceId};
use crate::protection::Protection;
use crate::quantity::{Length, Thread, Torque};
use crate::route::{EndPoint, Route};
use crate::sizing::Sizing;
use ledger::Ledger;
use site::Site;
use studs::Seats;

/// Outcome of the fittings stage.
#[derive(Debug, Clone, Serialize)]
pub struct Fittings {
    /// Both ends of every section, in the order of leads and sections.
    pub ends: Vec<End>,
    /// Every nut to tighten, stud by stud.
    pub joints: Vec<Joint>,
    /// Clamps, support by support.
    pub clamps: Vec<FittedClamp>,
    /// Fittings in panels.
    pub passages: Vec<FittedPassage>,
    /// Buses.
    pub buses: Vec<FittedBus>,
    /// Boxes of batteries.
    pub enclosures: Vec<FittedEnclosure>,
    /// Sleeving over stretches of leads.
    pub sleevings: Vec<FittedSleeving>,
    /// Everything that the job takes, one row a use.
    pub needs: Vec<Need>,
    /// Ids of the tools and dies that the job takes, each once, in order.
    pub tools: Vec<String>,
    /// What could not be fitted, with the nearest misses.
    pub misfits: Vec<Misfit>,
    /// Verdicts.
    pub checks: Vec<Check>,
}

/// One end of a section.
#[derive(Debug, Clone, Serialize)]
pub struct End {
    /// The lead.
    pub lead: LeadId,
    /// Position of the section in the lead.
    pub section: usize,
    /// Where it ends.
    pub point: EndPoint,
    /// The same in words.
    pub terminal: String,
    /// Where that is.
    pub place: PlaceId,
    /// Thread of the stud; nothing for a connector's contact, or where no stud could be settled.
    pub stud: Option<Thread>,
    /// Id of the lug.
    pub lug: Option<String>,
    /// Code of the die.
    pub die: Option<String>,
    /// Number of crimps.
    pub crimps: u32,
    /// Id of the sleeve.
    pub sleeve: Option<String>,
    /// Id of the boot, for ends that need one.
    pub boot: Option<String>,
    /// Insulation to strip.
    pub strip: Option<Length>,
}

/// A nut on a stud, with the lugs under it.
#[derive(Debug, Clone, Serialize)]
pub struct Joint {
    /// The stud, in words.
    pub name: String,
    /// Where it is.
    pub place: PlaceId,
    /// Its thread.
    pub thread: Thread,
    /// Names of the leads whose lugs it holds, from the stud's foot up.
    pub leads: Vec<String>,
    /// Torque of the nut.
    pub torque: JointTorque,
    /// Wrench for the nut.
    pub wrench: Option<String>,
}

/// How tight a nut is to be.
#[derive(Debug, Clone, Serialize)]
pub struct JointTorque {
    /// The torque, where one is published.
    pub value: Option<Torque>,
    /// How far it binds.
    pub standing: TorqueStanding,
    /// For what stud it is, and the publication behind it; or why there is none.
    pub source: String,
}

words! {
    /// How far a torque binds. The figure of the maker of a battery, load or device always comes first.
    pub enum TorqueStanding as "a standing of a torque" {
        /// A table's figure for a stud of this thread and metal.
        Table = "table",
        /// The stud's metal is its maker's affair: the least figure of any metal.
        Guidance = "guidance",
        /// Nothing is published.
        Open = "open",
    }
}

/// A clamp at a support.
#[derive(Debug, Clone, Serialize)]
pub struct FittedClamp {
    /// The leg.
    pub leg: LegId,
    /// Distance from the leg's first place.
    pub at: Length,
    /// Diameter of the bundle.
    pub diameter: Length,
    /// Leads it holds, by name.
    pub leads: Vec<String>,
    /// Id of the clamp.
    pub part: Option<String>,
    /// Hole for its bolt.
    pub hole: Option<Length>,
}

/// A fitting in a panel.
#[derive(Debug, Clone, Serialize)]
pub struct FittedPassage {
    /// The lead.
    pub lead: LeadId,
    /// The panel.
    pub panel: PanelId,
    /// Feed-through or grommet.
    pub kind: PartKind,
    /// Id of the fitting.
    pub part: Option<String>,
    /// Thread of the stud, for a feed-through.
    pub stud: Option<Thread>,
    /// Hole to cut.
    pub hole: Option<Length>,
}

/// A bus.
#[derive(Debug, Clone, Serialize)]
pub struct FittedBus {
    /// Its name in the job.
    pub name: String,
    /// Where it is mounted.
    pub place: PlaceId,
    /// Id of the part.
    pub part: Option<String>,
    /// Thread of its studs, where a part was found.
    pub stud: Option<Thread>,
    /// Names of the leads that end on each stud.
    pub studs: Vec<Vec<String>>,
}

/// A box for a battery.
#[derive(Debug, Clone, Serialize)]
pub struct FittedEnclosure {
    /// The battery.
    pub battery: String,
    /// Where it stands.
    pub place: PlaceId,
    /// Id of the box.
    pub part: Option<String>,
    /// Id of the vent hose.
    pub vent: Option<String>,
}

/// Sleeving over a stretch of a lead.
#[derive(Debug, Clone, Serialize)]
pub struct FittedSleeving {
    /// The lead.
    pub lead: LeadId,
    /// The leg.
    pub leg: LegId,
    /// Id of the sleeving.
    pub part: Option<String>,
    /// Length to cut.
    pub length: Length,
    /// What it guards against.
    pub against: String,
}

/// Something that the job takes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Need {
    /// Id of the part.
    pub part: String,
    /// Its kind.
    pub kind: PartKind,
    /// Colour, for parts sold in colours.
    pub colour: Option<Colour>,
    /// How much.
    pub amount: Amount,
    /// What it is for, in words.
    pub purpose: String,
}

/// How much of a part.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Amount {
    /// Pieces.
    Pieces(u32),
    /// One unbroken length.
    Length(Length),
}

/// Something that nothing in the catalog fits.
#[derive(Debug, Clone, Serialize)]
pub struct Misfit {
    /// What is needed, in words.
    pub wanted: String,
    /// The parts that come nearest, each with what it lacks.
    pub nearest: Vec<NearMiss>,
}

/// A part that nearly fits.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct NearMiss {
    /// Id of the part.
    pub part: String,
    /// What it lacks.
    pub lacks: Vec<String>,
}

/// Fits everything that ends, joins, passes, holds, boxes and marks the leads.
///
/// Buses and battery terminals come first, because they decide the studs; then the fittings in
/// panels, the ends, and the joints that the ends make.
pub fn fit(
    job: &Job,
    route: &Route,
    sizing: &Sizing,
    protection: &Protection,
    operation: &Operation,
    catalog: &Catalog,
) -> Fittings {
    let site = Site {
        job,
        route,
        sizing,
        protection,
        operation,
        catalog,
    };
    let mut ledger = Ledger::default();
    needs::cables(site, &mut ledger);
    bends::check(site, &mut ledger);
    needs::guards(site, &mut ledger);
    devices::fit(site, &mut ledger);
    let buses = buses::fit(site, &mut ledger);
    let posts = posts::fit(site, &mut ledger);
    let passages = passages::fit(site, &mut ledger);
    let seats = Seats {
        site,
        buses: &buses,
        posts: &posts,
        passages: &passages,
    };
    let ends = ends::fit(&seats, &mut ledger);
    let joints = joints::fit(site, &ends, &mut ledger);
    let clamps = clamps::fit(site, &mut ledger);
    let enclosures = enclosures::fit(site, &mut ledger);
    let sleevings = sleevings::fit(site, &mut ledger);
    needs::labels(site, &mut ledger);
    consumables::fit(site, joints.len(), &mut ledger);
    let tools = tools::fit(site, &joints, &mut ledger);
    Fittings {
        ends: ends.into_iter().map(|end| end.end).collect(),
        joints,
        clamps,
        buses: buses.iter().map(|bus| bus.fitted(site)).collect(),
        passages,
        enclosures,
        sleevings,
        needs: ledger.needs,
        tools,
        misfits: ledger.misfits,
        checks: ledger.checks,
    }
}
