//! Leads to be made, and the states that they must stand.

use crate::catalog::{Colour, Polarity};
use crate::diagnostic::Span;
use crate::job::id::{BatteryId, LoadId, PlaceId, TerminalId};
use crate::job::words::{Engine, MovingEnd, Season, Speed};
use crate::quantity::{ConductorSize, Current, Length, Ratio};

/// A lead to be made.
#[derive(Debug, Clone)]
pub struct Lead {
    /// Its name.
    pub name: String,
    /// The terminal it starts at.
    pub from: TerminalId,
    /// The terminal it ends at.
    pub to: TerminalId,
    /// Places it must pass, in order.
    pub via: Vec<PlaceId>,
    /// Places it must not pass.
    pub avoid: Vec<PlaceId>,
    /// Fixed size, or the program's choice.
    pub size: Option<ConductorSize>,
    /// Fixed family, or the program's choice.
    pub family: Option<String>,
    /// Insulation colour, where the user wants a certain one.
    pub colour: Option<Colour>,
    /// Whether it is on the positive side.
    pub polarity: Polarity,
    /// What protection it gets.
    pub protected: Protected,
    /// The place of the protection.
    pub protect_at: PlaceId,
    /// Length of cable from the source to protection at the same place.
    pub link: Length,
    /// Which end moves with the engine.
    pub moves: MovingEnd,
    /// Whether it gets clamps of its own.
    pub own_clamps: bool,
    /// Where it stands in the file.
    pub span: Span,
}

impl Lead {
    /// Insulation colour: as wanted, else red for positive and black for negative.
    pub fn insulation(&self) -> Colour {
        self.colour.unwrap_or(match self.polarity {
            Polarity::Positive => Colour::Red,
            Polarity::Negative => Colour::Black,
        })
    }

    /// Whether it gets a device.
    pub fn is_protected(&self) -> bool {
        !matches!(self.protected, Protected::No { .. })
    }
}

/// What is wanted of a lead's protection, once `auto` is decided.
#[derive(Debug, Clone, PartialEq)]
pub enum Protected {
    /// No device.
    No {
        /// Why not.
        reason: Unprotected,
    },
    /// A device, chosen by the program.
    Auto,
    /// A device of this rating.
    Rating(Current),
    /// The breaker or fuse with this id.
    Part(String),
}

/// Why a lead has no protection.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unprotected {
    /// It is a return, which needs none.
    Return,
    /// The setting permits leads to a starter without protection.
    StarterPermitted,
    /// The user said so.
    User,
    /// It does not start at a source or bus, and is protected from further up.
    Downstream,
}

/// An operating state.
#[derive(Debug, Clone)]
pub struct State {
    /// Its name.
    pub name: String,
    /// What the engine does.
    pub engine: Engine,
    /// Cold or hot.
    pub season: Season,
    /// Loads that are on, starters included while the engine is cranked.
    pub loads: Vec<LoadId>,
    /// How fast a running engine turns.
    pub speed: Speed,
    /// Batteries that give and take nothing.
    pub dead: Vec<BatteryId>,
    /// State of charge of all batteries, where the state sets it.
    pub charge: Option<Ratio>,
}
