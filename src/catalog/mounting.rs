//! What carries, passes and holds leads.

use super::part::part;
use crate::file::words;
use crate::quantity::{Current, Length, Resistance, Temperature, Thread};

words! {
    /// What a current-carrying stud is made of.
    pub enum StudMaterial as "a stud material" {
        /// Brass, CuZn37 or alike.
        Brass = "brass",
        /// Copper.
        Copper = "copper",
        /// Steel, plated; lugs clamp on a copper bar or on each other.
        Steel = "steel",
    }
}

words! {
    /// What a fastener is.
    pub enum FastenerKind as "a kind of fastener" {
        /// Hexagon nut.
        Nut = "nut",
        /// Plain washer.
        PlainWasher = "plain washer",
        /// Spring washer.
        SpringWasher = "spring washer",
        /// Hexagon-head bolt.
        Bolt = "bolt",
        /// Nut with a locking insert.
        LockingNut = "locking nut",
        /// Nut set into sheet like a rivet.
        RivetNut = "rivet nut",
        /// Wood or sheet-metal screw.
        Screw = "screw",
    }
}

words! {
    /// How a battery is connected.
    pub enum PostKind as "a kind of battery post" {
        /// Tapered post, clamped by a battery terminal.
        Tapered = "tapered",
        /// Threaded stud that takes a lug.
        Stud = "stud",
    }
}

words! {
    /// Polarity of a terminal.
    pub enum Polarity as "a polarity" {
        /// Positive.
        Positive = "positive",
        /// Negative.
        Negative = "negative",
    }
}

part! {
    /// Block of studs where leads meet.
    pub struct Bus as "bus" {
        /// Number of studs.
        studs: u32,
        /// Thread of the studs.
        stud: Thread,
        /// Material of the studs.
        material: StudMaterial,
        /// Continuous current through the whole block.
        rating: Current,
        /// Short-time current through the whole block, for cranking and winching.
        intermittent: Current,
        /// Resistance between two studs.
        resistance: Resistance,
        /// Whether a cover comes with it.
        cover: bool,
        /// Thread of the mounting screws.
        mount: Thread,
        /// Number of mounting screws.
        mounts: u32,
    }
}

part! {
    /// Insulated stud that carries a lead through a panel.
    pub struct FeedThrough as "feed-through" {
        /// Thread of the stud at both ends.
        stud: Thread,
        /// Material of the stud.
        material: StudMaterial,
        /// Continuous current.
        rating: Current,
        /// Short-time current, for cranking and winching.
        intermittent: Current,
        /// Resistance from end to end.
        resistance: Resistance,
        /// Thinnest panel it grips.
        min_panel: Length,
        /// Thickest panel it passes.
        max_panel: Length,
        /// Hole to cut.
        hole: Length,
    }
}

part! {
    /// Rubber ring that guards a cable in a hole.
    pub struct Grommet as "grommet" {
        /// Smallest cable it holds.
        min_cable: Length,
        /// Largest cable it holds.
        max_cable: Length,
        /// Thickest panel its groove takes.
        max_panel: Length,
        /// Hole to cut.
        hole: Length,
    }
}

part! {
    /// Cushioned metal support.
    pub struct Clamp as "clamp" {
        /// Smallest cable or bundle it grips.
        min_diameter: Length,
        /// Largest cable or bundle it grips.
        max_diameter: Length,
        /// Thread of its bolt.
        bolt: Thread,
        /// Highest continuous temperature of the cushion.
        rating: Temperature,
    }
}

part! {
    /// Nut, washer, bolt, screw or rivet nut.
    pub struct Fastener as "fastener" {
        /// What it is.
        kind: FastenerKind,
        /// Its thread.
        thread: Thread,
        /// Length under the head, for bolts and screws.
        length: Option<Length>,
        /// Width across flats, for nuts and bolts.
        across_flats: Option<Length>,
        /// Hole to drill, for rivet nuts.
        hole: Option<Length>,
    }
}

part! {
    /// Clamp for a tapered battery post.
    pub struct BatteryTerminal as "battery terminal" {
        /// Which post it fits.
        polarity: Polarity,
        /// Stud it offers to a lug.
        stud: Thread,
        /// Continuous current.
        rating: Current,
        /// Cranking current.
        intermittent: Current,
    }
}
