//! Spares: what to carry so that what fails on the road can be mended there.
//!
//! Every part of the plan is held against the ways in which such parts fail. A failure weighs as
//! often as it happens, times what it stops. A kit mends it when it holds all that one of the ways
//! to mend it takes; one failure at a time is reckoned with, so that a tool or part serves many. The
//! best kit within mass, room and money is found by branch and bound.

mod bound;
mod bulk;
mod bypass;
mod kit;
mod pool;
mod price;
mod problem;
mod reading;
mod report;
mod search;
mod stops;
mod subject;
mod uncovered;
mod ways;

pub use kit::{Grounds, pack};
pub use problem::{Burden, Problem, Want};
pub use reading::Reading;
pub use search::{Choice, WORK, solve};

use serde::Serialize;

use crate::catalog::{Access, Consequence, FailingPart, PartKind};
use crate::file::words;
use crate::quantity::{Currency, Money};

/// Outcome of the spares stage.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Spares {
    /// The most that the kit may be.
    pub limits: KitLimits,
    /// Currency of all amounts.
    pub currency: Currency,
    /// What the kit is.
    pub total: KitTotal,
    /// How good it is.
    pub proof: KitProof,
    /// What is in the box, by kind and then description.
    pub items: Vec<KitItem>,
    /// The longest positive lead, and what it takes to bypass it.
    pub longest: Option<LongestRun>,
    /// Wrenches for nuts within reach that are not in the box, and why.
    pub wrenches_left: Vec<String>,
    /// One card for each kind of failure that the kit mends.
    pub cards: Vec<Card>,
    /// Failures that the kit does not mend.
    pub uncovered: Vec<Uncovered>,
}

/// The most that a kit may be.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct KitLimits {
    /// Mass.
    pub mass_kg: f64,
    /// The same in the job's units.
    pub mass_shown: String,
    /// Room.
    pub volume_l: f64,
    /// Money, tax included.
    pub money: Money,
    /// Worst access within reach at the roadside.
    pub access: Access,
    /// Where these come from.
    pub source: String,
}

/// What a kit is.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct KitTotal {
    /// Mass.
    pub mass_kg: f64,
    /// The same in the job's units.
    pub mass_shown: String,
    /// Room.
    pub volume_l: f64,
    /// Price, tax included, without delivery.
    pub price: Money,
}

/// How good a kit is.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct KitProof {
    /// Weight of all failures.
    pub all: u64,
    /// Weight of the failures that some kit could mend, whatever its size.
    pub mendable: u64,
    /// Weight of those that this kit mends.
    pub covered: u64,
    /// No kit within the limits mends more.
    pub bound: u64,
    /// Whether that none is better is proved.
    pub proved: bool,
    /// Whether the wrenches of all nuts within reach fit the limits together.
    pub wrenches_fit: bool,
    /// All that in a sentence.
    pub told: String,
}

/// Something in the box.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct KitItem {
    /// Id of the part; nothing for the bypass lead, which is made up.
    pub part: Option<String>,
    /// Kind of part, or `bypass lead`.
    pub kind: String,
    /// One line on it.
    pub description: String,
    /// Number of pieces.
    pub pieces: u32,
    /// Mass of all pieces.
    pub mass_g: f64,
    /// The same in the job's units.
    pub mass_shown: String,
    /// Where the mass comes from.
    pub mass_source: String,
    /// Room of all pieces.
    pub volume_ml: f64,
    /// Where the room comes from.
    pub volume_source: String,
    /// Price of all pieces, tax included.
    pub price: Money,
    /// Whether the workshop has it already.
    pub owned: bool,
    /// Whether it is taken whatever it mends: the wrench of a nut within reach.
    pub must: bool,
    /// What it is made of, for the bypass lead.
    pub made_of: Vec<String>,
    /// Leads whose place it can take, for the bypass lead.
    pub replaces: Vec<Replaced>,
}

/// A lead whose place the bypass lead can take.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Replaced {
    /// Name of the lead.
    pub lead: String,
    /// Its largest current for hours.
    pub continuous_a: f64,
    /// Volts that the cable of the bypass lead loses at that current.
    pub loses_v: f64,
}

/// The longest positive lead.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LongestRun {
    /// Its name.
    pub lead: String,
    /// Its cut length.
    pub length_m: f64,
    /// The same in the job's units.
    pub length_shown: String,
    /// The cheapest bypass lead that can take its place, in words; nothing where the catalog has none.
    pub bypass: Option<String>,
    /// Mass of that.
    pub mass_kg: Option<f64>,
    /// The same in the job's units.
    pub mass_shown: Option<String>,
    /// Price of that, tax included.
    pub price: Option<Money>,
    /// Whether a bypass lead that can take its place is in the box.
    pub packed: bool,
}

/// A card for mending one kind of failure.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Card {
    /// The failure.
    pub failure: String,
    /// What fails.
    pub of: FailingPart,
    /// How it shows.
    pub shows: String,
    /// What a wrong reading looks like.
    pub wrong: String,
    /// What can go wrong and hurt.
    pub cautions: Vec<String>,
    /// Ways to mend it that the kit allows for.
    pub ways: Vec<CardWay>,
    /// The parts that it may happen to, and that the kit mends.
    pub cases: Vec<Case>,
    /// Publication, or the word `judgement`.
    pub source: String,
}

/// A way on a card.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CardWay {
    /// Its letter on the card.
    pub letter: String,
    /// What to do.
    pub steps: Vec<String>,
}

/// Parts that may fail, on a card: all that stop the same, show the same reading and take the same.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Case {
    /// The parts.
    pub parts: Vec<CasePart>,
    /// What is stopped when one of them fails.
    pub stops: Vec<String>,
    /// The worst of it.
    pub consequence: Consequence,
    /// Weight of the failure of each.
    pub weight: u64,
    /// What the meter should show.
    pub reading: Option<Reading>,
    /// Letter of the way.
    pub way: String,
    /// What to take out of the box.
    pub take: Vec<String>,
}

/// A part that may fail.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CasePart {
    /// Its name.
    pub what: String,
    /// Where it is.
    pub place: String,
}

words! {
    /// Why a failure stays uncovered.
    pub enum Uncover as "a reason to leave a failure uncovered" {
        /// Nothing mends it at the roadside.
        NoMend = "no mend",
        /// Hands and tools do not get there at the roadside.
        OutOfReach = "out of reach",
        /// A part or tool that it takes is not to be had.
        NotToBeHad = "not to be had",
        /// What it takes is too heavy beside what is worth more.
        TooHeavy = "too heavy",
        /// What it takes does not fit the box beside what is worth more.
        NoRoom = "no room",
        /// What it takes is too dear beside what is worth more.
        TooDear = "too dear",
        /// It was given no weight.
        NoWeight = "no weight",
    }
}

/// A kind of failure that the kit does not mend, on the parts for which that has the same reason.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Uncovered {
    /// The failure.
    pub failure: String,
    /// Why.
    pub reason: Uncover,
    /// The same in a sentence.
    pub told: String,
    /// Weight of it on all these parts.
    pub weight: u64,
    /// The parts.
    pub cases: Vec<UncoveredCase>,
    /// What is left to do.
    pub instead: String,
}

/// A part with a failure that the kit does not mend.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct UncoveredCase {
    /// The part.
    pub what: String,
    /// Where it is.
    pub place: String,
    /// What is stopped.
    pub stops: Vec<String>,
    /// Weight of the failure.
    pub weight: u64,
}

/// Name of a kind of item in the box.
fn kind_words(kind: Option<PartKind>) -> String {
    kind.map_or_else(|| "bypass lead".to_owned(), |kind| kind.to_string())
}
