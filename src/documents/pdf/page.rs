//! Laid-out pages: marks at fixed places, in points from the top left corner.
//!
//! Everything about a page is settled here. Printing it asks no questions.

use super::face::Face;

/// Half the height of a capital, as a part of the letter size: it centres the
/// words within their line.
pub(super) const HALF_CAPITAL: f32 = 0.357;

/// A rectangle on the page, in points from the top left corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Area {
    pub(super) left: f32,
    pub(super) top: f32,
    pub(super) width: f32,
    pub(super) height: f32,
}

impl Area {
    pub(super) fn bottom(&self) -> f32 {
        self.top + self.height
    }
}

/// How dark or bright a mark is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Ink {
    /// Text.
    Black,
    /// Text that may be overlooked, such as page numbers.
    Grey,
    /// Rules.
    Line,
    /// Backgrounds.
    Band,
    /// The bar beside a caution.
    Warning,
    /// Places that stay cool.
    Cool,
    /// Places that get warm.
    Warm,
    /// Places that get hot.
    Hot,
    /// A first line to tell from others.
    Blue,
    /// A second line to tell from others.
    Red,
}

/// What is printed within an area.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Mark {
    /// Words on one line; the area is as high as the line.
    Words {
        words: String,
        face: Face,
        size: f32,
        ink: Ink,
    },
    /// The whole area in one ink.
    Fill(Ink),
    /// A box to be ticked by hand.
    TickBox { ticked: bool },
    /// A line from point to point, each given from the area's top left corner.
    Stroke {
        points: Vec<(f32, f32)>,
        ink: Ink,
        width: f32,
        dashed: bool,
    },
    /// A filled polygon, its corners given from the area's top left corner.
    Shade { points: Vec<(f32, f32)>, ink: Ink },
}

impl Mark {
    /// Whether a reader loses something when another mark covers it or a cut goes through it.
    pub(super) fn is_read(&self) -> bool {
        matches!(self, Self::Words { .. } | Self::TickBox { .. })
    }
}

/// A mark in its place.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Item {
    pub(super) area: Area,
    pub(super) mark: Mark,
}

impl Item {
    pub(super) fn fill(left: f32, top: f32, width: f32, height: f32, ink: Ink) -> Self {
        let area = Area {
            left,
            top,
            width,
            height,
        };
        let mark = Mark::Fill(ink);
        Self { area, mark }
    }

    /// The same mark further right and further down.
    pub(super) fn moved(mut self, right: f32, down: f32) -> Self {
        self.area.left += right;
        self.area.top += down;
        self
    }
}

/// A heading that can be jumped to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Bookmark {
    pub(super) title: String,
    pub(super) level: u8,
    /// Counted from 0.
    pub(super) page: usize,
}

/// A document laid out on pages of one size.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Pages {
    pub(super) width: f32,
    pub(super) height: f32,
    pub(super) pages: Vec<Vec<Item>>,
    pub(super) bookmarks: Vec<Bookmark>,
}
