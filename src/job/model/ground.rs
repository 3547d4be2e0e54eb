//! The vehicle as measured.

use crate::job::file::HazardFile;
use crate::job::id::{PanelId, PlaceId, SpaceId};
use crate::job::words::{Access, PanelMaterial, Passage};
use crate::quantity::{Length, Temperature};

/// A region with its own surroundings.
#[derive(Debug, Clone)]
pub struct Space {
    /// Its name.
    pub name: String,
    /// Air temperature on the hottest day at work.
    pub temperature: Temperature,
    /// Whether it is an engine space.
    pub engine_space: bool,
    /// Whether people sit or sleep in it.
    pub occupied: bool,
    /// Whether it gets wet.
    pub wet: bool,
    /// Whether devices in it must be ignition protected.
    pub vapour: bool,
}

/// A named point.
#[derive(Debug, Clone)]
pub struct Place {
    /// Its name.
    pub name: String,
    /// The space it lies in.
    pub space: SpaceId,
    /// Where it is in the vehicle, where that was measured.
    pub position: Option<Position>,
}

/// Where something is in the vehicle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Position {
    /// From the back.
    pub from_back: Length,
    /// From the left side.
    pub from_left: Length,
    /// Above the ground.
    pub height: Length,
}

impl Position {
    /// The straight line between two.
    pub fn straight(self, other: Self) -> Length {
        let along = self.from_back - other.from_back;
        let across = self.from_left - other.from_left;
        let up = self.height - other.height;
        Length::from_m(along.m().hypot(across.m()).hypot(up.m()))
    }
}

/// A wall or floor.
#[derive(Debug, Clone)]
pub struct Panel {
    /// Its name.
    pub name: String,
    /// Its thickness.
    pub thickness: Length,
    /// What it is made of.
    pub material: PanelMaterial,
    /// How leads go through it.
    pub passage: Passage,
}

/// A measured stretch.
#[derive(Debug, Clone)]
pub struct Leg {
    /// The place at its start.
    pub from: PlaceId,
    /// The place at its end.
    pub to: PlaceId,
    /// Its length.
    pub length: Length,
    /// The space it lies in.
    pub space: SpaceId,
    /// How well it can be reached.
    pub access: Access,
    /// The panel it crosses and the distance of the crossing from `from`.
    pub crossing: Option<(PanelId, Length)>,
    /// Number of bends.
    pub bends: u32,
    /// Tightest bend.
    pub bend_radius: Option<Length>,
    /// Whether the cable is enclosed all along.
    pub sheathed: bool,
    /// What it runs past.
    pub hazards: Vec<HazardFile>,
}
