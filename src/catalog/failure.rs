//! How parts fail, what that is worth guarding against, and how it is mended away from home.

use super::access::Access;
use super::housing::{ConsumableUse, ToolUse};
use super::part::PartKind;
use crate::diagnostic::Spanned;
use crate::file::{table, words};
use crate::quantity::{Mass, Money, Ratio, Volume};

words! {
    /// What fails.
    pub enum FailingPart as "a part that fails" {
        /// A battery.
        Battery = "battery",
        /// The clamp on a battery post.
        BatteryTerminal = "battery terminal",
        /// A fuse.
        Fuse = "fuse",
        /// The holder of a fuse.
        Holder = "holder",
        /// A breaker.
        Breaker = "breaker",
        /// A switch, contactor or connector.
        Device = "device",
        /// A bus.
        Bus = "bus",
        /// An insulated stud through a panel.
        FeedThrough = "feed-through",
        /// A nut on a stud, with the lugs under it.
        Joint = "joint",
        /// A crimped end of a cable.
        End = "end",
        /// A lead between its ends.
        Lead = "lead",
        /// The clamps of a leg.
        Clamps = "clamps",
    }
}

words! {
    /// What a failure stops; worked out from the network with the failed part taken away.
    pub enum Consequence as "a consequence" {
        /// No battery can turn the starter.
        Starting = "starting",
        /// A load that resets when its supply dips, or a critical one, has no supply.
        Critical = "critical load",
        /// Another load has no supply.
        Load = "load",
        /// A battery is charged by nothing.
        Charging = "charging",
        /// Everything still has its supply, by another way or in spite of the damage.
        Nothing = "nothing yet",
    }
}

words! {
    /// What a mending takes besides tools and consumables.
    pub enum MendingPart as "a spare part" {
        /// The part itself, once more.
        Same = "the same",
        /// A lug and a sleeve for the cable.
        NewEnd = "new end",
        /// A nut, two plain washers and a spring washer for the stud.
        Nut = "nut and washers",
        /// A bolt with its nut and washers, to join two lugs by.
        Bolt = "joining bolt",
        /// The bypass lead.
        Bypass = "bypass lead",
    }
}

words! {
    /// What a meter tells about a failure.
    pub enum FailureReading as "a reading" {
        /// Volts of a battery at its own posts.
        Battery = "battery volts",
        /// Volts at the far end of a positive lead; the volts that a return loses, for others.
        Beyond = "volts beyond",
        /// Volts lost across the part itself.
        Across = "volts across",
        /// Nothing: it is seen.
        Eye = "by eye",
    }
}

table! {
    /// One way to mend a failure, tried in the order of the file. It counts for a failure only where a hand with tools gets to it.
    pub struct MendRow as "way to mend" {
        /// What to do, a step a line.
        steps: Vec<String>,
        /// Parts that it takes.
        parts: Vec<MendingPart>,
        /// Consumables that it takes, a container each.
        consumables: Vec<ConsumableUse>,
        /// Tools that it takes; of wrenches those of the nuts that must be undone.
        tools: Vec<ToolUse>,
        /// Worst access at which it can be done at the roadside.
        access: Access = "awkward",
    }
}

table! {
    /// A way in which parts of a kind fail.
    pub struct FailureRow as "failure" {
        /// Its name, in few words.
        name: Spanned<String>,
        /// What fails.
        of: FailingPart,
        /// How often it happens against the other failures, for each such part; judgement.
        weight: u32,
        /// How it shows.
        shows: String,
        /// What a meter tells.
        reading: FailureReading,
        /// What a wrong reading looks like, beside the expected one of the plan.
        wrong: String,
        /// What can go wrong and hurt: names of cautions.
        cautions: Vec<String>,
        /// Ways to mend it, best first; none where it cannot be mended at the roadside.
        mend: Vec<MendRow>,
        /// What is left to do where nothing in the kit mends it.
        instead: String,
        /// Publication, or the word `judgement`.
        source: String,
    }
}

table! {
    /// How much worse a failure is by what it stops.
    pub struct ConsequenceRow as "consequence row" {
        /// What is stopped.
        stops: Consequence,
        /// Times that the weight of the failure counts.
        factor: u32,
        /// Publication, or the word `judgement`.
        source: String,
    }
}

table! {
    /// Mass and room of parts for which the catalog's own rows tell neither mass nor size. The row that names a part wins over one that names a use, and that over one that names a kind.
    pub struct BulkRow as "bulk row" {
        /// Kind of part.
        kind: PartKind,
        /// Use of a tool, where the row is for that use alone.
        purpose: Option<ToolUse>,
        /// Id of a part, where the row is for that part alone.
        part: Option<String>,
        /// Mass of one piece.
        mass: Option<Mass>,
        /// Room that one piece takes.
        volume: Option<Volume>,
        /// Publication, or the word `judgement`.
        source: String,
    }
}

table! {
    /// How much a spares kit may be where a job does not say. One row in all.
    pub struct KitRow as "kit row" {
        /// Largest mass.
        mass: Mass,
        /// Room in the box.
        volume: Volume,
        /// Most that may be spent on it, in the currency of the job, tax included.
        money: Money,
        /// Worst access that counts as within reach at the roadside.
        access: Access,
        /// Thinnest stud that a lug of the bypass lead still sits on, with a washer, in percent of the stud that it is made for.
        least_stud: Ratio,
        /// Part of the room of a coil that the cable itself fills.
        coil_fill: Ratio,
        /// Publication, or the word `judgement`.
        source: String,
    }
}
