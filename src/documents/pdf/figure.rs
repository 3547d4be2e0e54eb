//! Sets a drawing on the page.

use super::compose::Measure;
use super::face::{Face, Faces};
use super::flow::Piece;
use super::page::{Area, HALF_CAPITAL, Ink, Item, Mark};
use crate::documents::escape;
use crate::drawings::{self, Anchor, Dash, Drawing, Point, Shape};

const POINTS_PER_MM: f64 = 72.0 / 25.4;
/// Room over and under a drawing.
const GAP: f32 = 8.0;
/// The highest that a drawing may be: a page with its head and foot, and a heading over it.
const HIGHEST: f64 = 660.0;
/// Corners of a polygon that reads as a circle.
const CORNERS: u32 = 72;
/// Height of a line of words, in terms of the letters.
const LINE: f32 = 1.3;

/// A drawing as one piece; smaller than it is where it would not fit, unless its size matters.
pub(super) fn piece(drawing: &Drawing, measure: Measure, faces: &Faces) -> Piece {
    let scale = scale(drawing, measure);
    let pen = Pen {
        scale,
        left: measure.left,
        faces,
    };
    Piece {
        items: drawing.shapes.iter().map(|shape| pen.item(shape)).collect(),
        height: (drawing.height * scale) as f32,
        gap: GAP,
        ..Piece::default()
    }
}

/// Points for a millimetre.
fn scale(drawing: &Drawing, measure: Measure) -> f64 {
    if drawing.true_size {
        return POINTS_PER_MM;
    }
    let wide = f64::from(measure.width) / drawing.width;
    let high = HIGHEST / drawing.height;
    POINTS_PER_MM.min(wide).min(high)
}

struct Pen<'a> {
    scale: f64,
    left: f32,
    faces: &'a Faces,
}

impl Pen<'_> {
    fn item(&self, shape: &Shape) -> Item {
        match shape {
            Shape::Line {
                points,
                ink,
                width,
                dash,
            } => self.stroke(points, *ink, *width, *dash == Dash::Dashed),
            Shape::Area { points, ink } => {
                let (area, points) = self.outline(points);
                let mark = Mark::Shade {
                    points,
                    ink: (*ink).into(),
                };
                Item { area, mark }
            }
            Shape::Circle {
                centre,
                radius,
                ink,
                width,
            } => self.stroke(&circle(*centre, *radius), *ink, *width, false),
            Shape::Words {
                at,
                words,
                size,
                anchor,
                ink,
                bold,
            } => {
                let face = if *bold { Face::Bold } else { Face::Regular };
                self.words(*at, words, *size, *anchor, (*ink).into(), face)
            }
        }
    }

    fn stroke(&self, points: &[Point], ink: drawings::Ink, width: f64, dashed: bool) -> Item {
        let (area, points) = self.outline(points);
        let mark = Mark::Stroke {
            points,
            ink: ink.into(),
            width: (width * self.scale) as f32,
            dashed,
        };
        Item { area, mark }
    }

    fn words(
        &self,
        at: Point,
        words: &str,
        size: f64,
        anchor: Anchor,
        ink: Ink,
        face: Face,
    ) -> Item {
        let size = (size * self.scale) as f32;
        let words = self.faces.printable(&escape::clean(words), face);
        let width = self.faces.width(&words, face, size);
        let (x, foot) = self.placed(at);
        let left = match anchor {
            Anchor::Start => x,
            Anchor::Middle => x - width / 2.0,
            Anchor::End => x - width,
        };
        let area = Area {
            left,
            top: foot - size * (LINE / 2.0 + HALF_CAPITAL),
            width,
            height: size * LINE,
        };
        let mark = Mark::Words {
            words,
            face,
            size,
            ink,
        };
        Item { area, mark }
    }

    fn placed(&self, point: Point) -> (f32, f32) {
        let x = self.left + (point.x * self.scale) as f32;
        (x, (point.y * self.scale) as f32)
    }

    /// What holds all points, and the points from its top left corner.
    fn outline(&self, points: &[Point]) -> (Area, Vec<(f32, f32)>) {
        let placed: Vec<(f32, f32)> = points.iter().map(|point| self.placed(*point)).collect();
        let least =
            |pick: fn(&(f32, f32)) -> f32| placed.iter().map(pick).fold(f32::INFINITY, f32::min);
        let most = |pick: fn(&(f32, f32)) -> f32| {
            placed.iter().map(pick).fold(f32::NEG_INFINITY, f32::max)
        };
        let (left, top) = match placed.is_empty() {
            true => (self.left, 0.0),
            false => (least(|point| point.0), least(|point| point.1)),
        };
        let area = Area {
            left,
            top,
            width: (most(|point| point.0) - left).max(0.0),
            height: (most(|point| point.1) - top).max(0.0),
        };
        let inner = placed.iter().map(|(x, y)| (x - left, y - top));
        (area, inner.collect())
    }
}

fn circle(centre: Point, radius: f64) -> Vec<Point> {
    let corner = |index: u32| {
        let angle = std::f64::consts::TAU * f64::from(index) / f64::from(CORNERS);
        Point {
            x: centre.x + radius * angle.cos(),
            y: centre.y + radius * angle.sin(),
        }
    };
    (0..=CORNERS).map(corner).collect()
}

impl From<drawings::Ink> for Ink {
    fn from(ink: drawings::Ink) -> Self {
        match ink {
            drawings::Ink::Black => Self::Black,
            drawings::Ink::Grey => Self::Grey,
            drawings::Ink::Line => Self::Line,
            drawings::Ink::Pale => Self::Band,
            drawings::Ink::Cool => Self::Cool,
            drawings::Ink::Warm => Self::Warm,
            drawings::Ink::Hot => Self::Hot,
            drawings::Ink::Blue => Self::Blue,
            drawings::Ink::Red => Self::Red,
        }
    }
}
