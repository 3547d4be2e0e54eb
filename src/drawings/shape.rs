//! The shapes that every drawing is made of.

/// A finished drawing, in millimetres from its top left corner.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// Names its file: small letters, digits and dashes.
    pub name: String,
    /// What it is of.
    pub title: String,
    /// What it shows, for those who cannot see it.
    pub told: String,
    /// Width in millimetres.
    pub width: f64,
    /// Height in millimetres.
    pub height: f64,
    /// Whether it must be printed at its size, since people lay it on the work.
    pub true_size: bool,
    /// From the bottom up.
    pub shapes: Vec<Shape>,
}

/// A place on the drawing, in millimetres to the right and down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// To the right.
    pub x: f64,
    /// Down.
    pub y: f64,
}

/// Short for a point.
pub(super) const fn at(x: f64, y: f64) -> Point {
    Point { x, y }
}

/// One shape.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A line from point to point.
    Line {
        /// The points.
        points: Vec<Point>,
        /// Its colour.
        ink: Ink,
        /// Its width in millimetres.
        width: f64,
        /// How it is broken.
        dash: Dash,
    },
    /// A filled polygon.
    Area {
        /// Its corners.
        points: Vec<Point>,
        /// Its colour.
        ink: Ink,
    },
    /// The outline of a circle.
    Circle {
        /// Its centre.
        centre: Point,
        /// Its radius in millimetres.
        radius: f64,
        /// Its colour.
        ink: Ink,
        /// Width of the outline in millimetres.
        width: f64,
    },
    /// Words on one line.
    Words {
        /// Where the line of writing starts, or its middle or end, on the letters' foot.
        at: Point,
        /// The words.
        words: String,
        /// Size of the letters in millimetres.
        size: f64,
        /// Which part of the words stands at the point.
        anchor: Anchor,
        /// Their colour.
        ink: Ink,
        /// Whether they are bold.
        bold: bool,
    },
}

/// Which part of words stands at their point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// The first letter.
    Start,
    /// The middle.
    Middle,
    /// The last letter.
    End,
}

/// How a line is broken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dash {
    /// Not at all.
    Solid,
    /// Into strokes.
    Dashed,
}

/// What a shape is drawn with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ink {
    /// What matters.
    Black,
    /// What may be overlooked.
    Grey,
    /// Grids and edges.
    Line,
    /// Backgrounds.
    Pale,
    /// Places that stay cool.
    Cool,
    /// Places that get warm.
    Warm,
    /// Places that get hot, and dangers.
    Hot,
    /// A first thing to tell from others.
    Blue,
    /// A second thing to tell from others.
    Red,
}

/// Size of ordinary letters in millimetres: 9 points.
pub(super) const LETTERS: f64 = 3.175;

/// A thin solid line.
pub(super) fn line(points: Vec<Point>, ink: Ink, width: f64) -> Shape {
    Shape::Line {
        points,
        ink,
        width,
        dash: Dash::Solid,
    }
}

/// A broken line.
pub(super) fn dashed(points: Vec<Point>, ink: Ink, width: f64) -> Shape {
    Shape::Line {
        points,
        ink,
        width,
        dash: Dash::Dashed,
    }
}

/// A filled rectangle.
pub(super) fn block(left: f64, top: f64, width: f64, height: f64, ink: Ink) -> Shape {
    let (right, bottom) = (left + width, top + height);
    Shape::Area {
        points: vec![
            at(left, top),
            at(right, top),
            at(right, bottom),
            at(left, bottom),
        ],
        ink,
    }
}

/// Words of ordinary size.
pub(super) fn words(place: Point, words: impl Into<String>, anchor: Anchor, ink: Ink) -> Shape {
    Shape::Words {
        at: place,
        words: words.into(),
        size: LETTERS,
        anchor,
        ink,
        bold: false,
    }
}

/// Bold words of ordinary size.
pub(super) fn bold(place: Point, words: impl Into<String>, anchor: Anchor) -> Shape {
    Shape::Words {
        at: place,
        words: words.into(),
        size: LETTERS,
        anchor,
        ink: Ink::Black,
        bold: true,
    }
}
