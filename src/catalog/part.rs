//! What all parts have in common.

use crate::file::words;
use crate::quantity::Mass;

words! {
    /// The kinds of part, in the order of a bill.
    pub enum PartKind as "a kind of part" {
        /// Insulated conductor sold by length.
        Cable = "cable",
        /// Crimped cable end for a stud.
        Lug = "lug",
        /// Lined heat-shrink sleeve over a crimp.
        Sleeve = "sleeve",
        /// Insulating cap over a terminal.
        Boot = "boot",
        /// Clamp for a battery post.
        BatteryTerminal = "battery terminal",
        /// Block of studs where leads meet.
        Bus = "bus",
        /// Insulated stud through a panel.
        FeedThrough = "feed-through",
        /// Rubber ring in a hole.
        Grommet = "grommet",
        /// Cushioned support of a cable or bundle.
        Clamp = "clamp",
        /// Nut, washer, bolt, screw or rivet nut.
        Fastener = "fastener",
        /// Circuit breaker.
        Breaker = "breaker",
        /// Fuse element.
        Fuse = "fuse",
        /// Holder for a fuse.
        Holder = "holder",
        /// Master switch or isolator.
        Switch = "switch",
        /// Contactor or relay.
        Contactor = "contactor",
        /// Plug and socket.
        Connector = "connector",
        /// Battery box with its hold-down.
        Enclosure = "enclosure",
        /// Vent hose.
        Vent = "vent",
        /// Abrasion or heat sleeving sold by length.
        Sleeving = "sleeving",
        /// Marker for a lead.
        Label = "label",
        /// Sealant, paint, cleaner and the like.
        Consumable = "consumable",
        /// Crimping die.
        Die = "die",
        /// Hand tool, press or instrument.
        Tool = "tool",
    }
}

impl PartKind {
    /// Whether it is sold by length; everything else is sold by the piece.
    pub const fn sold_by_length(self) -> bool {
        matches!(self, Self::Cable | Self::Vent | Self::Sleeving)
    }
}

/// A row of the catalog that can be bought.
pub trait Part {
    /// The catalog id.
    fn id(&self) -> &str;
    /// One line for a bill.
    fn description(&self) -> &str;
    /// What kind it is.
    fn kind(&self) -> PartKind;
    /// Where its figures come from.
    fn source(&self) -> &str;
    /// Mass of one piece, where known.
    fn mass(&self) -> Option<Mass>;
    /// Whether it is taken before others that fit as well.
    fn preferred(&self) -> bool;
    /// Where the row stands.
    fn span(&self) -> crate::diagnostic::Span;
}

/// Declares a kind of part: the keys that all parts have, then its own.
macro_rules! part {
    (
        $(#[doc = $doc:literal])*
        pub struct $name:ident as $title:literal {
            $( $(#[doc = $meaning:literal])+ $key:ident : $type:ty $(= $default:literal)? ),+ $(,)?
        }
    ) => {
        $crate::file::table! {
            $(#[doc = $doc])*
            pub struct $name as $title {
                /// Catalog id, unique among all parts.
                id: $crate::diagnostic::Spanned<String>,
                /// One line for a bill.
                description: String,
                /// Where the figures come from: a standard, a publication, or `invented`.
                source: String,
                /// Mass of one piece.
                mass: Option<$crate::quantity::Mass>,
                /// Whether it is taken before others that fit as well.
                preferred: bool = "false",
                $( $(#[doc = $meaning])+ $key: $type $(= $default)? ),+
            }
        }

        impl $crate::catalog::Part for $name {
            fn id(&self) -> &str {
                &self.id
            }
            fn description(&self) -> &str {
                &self.description
            }
            fn kind(&self) -> $crate::catalog::PartKind {
                $crate::catalog::PartKind::$name
            }
            fn source(&self) -> &str {
                &self.source
            }
            fn mass(&self) -> Option<$crate::quantity::Mass> {
                self.mass
            }
            fn preferred(&self) -> bool {
                self.preferred
            }
            fn span(&self) -> $crate::diagnostic::Span {
                self.id.span
            }
        }
    };
}
pub(crate) use part;
