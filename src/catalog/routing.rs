//! What counts when the way of a lead is chosen.

use super::{Basis, Catalog};
use crate::file::{table, words};
use crate::quantity::Ratio;

words! {
    /// Something about a leg that counts when a way is chosen.
    pub enum RoutingWord as "a routing word" {
        /// Beside a hot surface.
        HotSurface = "hot surface",
        /// Beside a moving part.
        MovingPart = "moving part",
        /// Beside a fuel line.
        FuelLine = "fuel line",
        /// Beside a brake line.
        BrakeLine = "brake line",
        /// Where the road throws stones and water.
        RoadDebris = "road debris",
        /// Beside an edge that chafes.
        Chafe = "chafe",
        /// In a hot space.
        Heat = "heat",
        /// Wide open.
        Open = "open",
        /// Reached with usual tools.
        Easy = "easy",
        /// Reached lying down or past other parts.
        Awkward = "awkward",
        /// Reached only after taking something off.
        Hard = "hard",
    }
}

table! {
    /// How much one thing about a leg counts when a way is chosen.
    pub struct RoutingRow as "routing row" {
        /// What it is.
        word: RoutingWord,
        /// For a hazard and for heat, what it adds to each metre; for access, what each metre is multiplied by.
        factor: Ratio,
        /// Publication and clause, or the reasoning.
        citation: String,
        /// How far it can be trusted.
        basis: Basis,
    }
}

impl Catalog {
    /// How much something about a leg counts; `None` where the catalog does not say.
    pub fn routing_factor(&self, word: RoutingWord) -> Option<Ratio> {
        self.routing
            .iter()
            .find(|row| row.word == word)
            .map(|row| row.factor)
    }
}
