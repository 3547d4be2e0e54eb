//! Symbols for diagrams after IEC 60617 (their shapes from memory), each round a point; lines come in
//! from the left and go out below.

use super::tree::{Item, Protector};
use crate::drawings::shape::{Anchor, Ink, Point, Shape, at, block, line, words};

/// Half the width and height that a symbol takes, in millimetres.
pub const HALF: f64 = 3.4;

/// Width of the lines of symbols.
const STROKE: f64 = 0.35;

/// The symbol of an item.
pub fn item(item: Item, centre: Point, ink: Ink) -> Vec<Shape> {
    let stroke = |points: Vec<Point>| line(shifted(points, centre), ink, STROKE);
    match item {
        Item::Battery => vec![
            stroke(vec![at(-HALF, 0.0), at(-0.7, 0.0)]),
            stroke(vec![at(-0.7, -3.0), at(-0.7, 3.0)]),
            block(centre.x + 0.3, centre.y - 1.6, 0.9, 3.2, ink),
        ],
        Item::Generator => lettered("G", centre, ink),
        Item::Motor => lettered("M", centre, ink),
        Item::Load => vec![stroke(rectangle(HALF, 1.8))],
        Item::Bus => vec![
            stroke(vec![at(-HALF, 0.0), at(0.0, 0.0)]),
            block(centre.x - 0.7, centre.y - 3.2, 1.4, 6.4, ink),
        ],
        Item::Switch => contact(centre, ink),
        Item::Contactor => {
            let mut shapes = contact(centre, ink);
            // The half round of a contact that makes and breaks the load's current.
            shapes.push(stroke(half_round(-1.6)));
            shapes
        }
        Item::Connector => vec![
            stroke(vec![at(-HALF, 0.0), at(-0.4, 0.0)]),
            stroke(socket()),
            block(centre.x - 0.2, centre.y - 0.9, 2.6, 1.8, ink),
        ],
        Item::Converter => vec![
            stroke(rectangle(3.0, 3.0)),
            stroke(vec![at(-3.0, 3.0), at(3.0, -3.0)]),
            stroke(vec![at(-HALF, 0.0), at(-3.0, 0.0)]),
        ],
        Item::Frame => vec![
            stroke(vec![at(-HALF, 0.0), at(0.0, 0.0)]),
            stroke(vec![at(0.0, 0.0), at(0.0, 1.0)]),
            stroke(vec![at(-2.6, 1.0), at(2.6, 1.0)]),
            stroke(vec![at(-2.6, 1.0), at(-3.4, 3.0)]),
            stroke(vec![at(0.0, 1.0), at(-0.8, 3.0)]),
            stroke(vec![at(2.6, 1.0), at(1.8, 3.0)]),
        ],
    }
}

/// The symbol of a fuse or breaker on a level line.
pub fn protector(protector: Protector, centre: Point, ink: Ink) -> Vec<Shape> {
    let stroke = |points: Vec<Point>| line(shifted(points, centre), ink, STROKE);
    match protector {
        Protector::Fuse => vec![stroke(rectangle(2.4, 0.95))],
        Protector::Breaker => vec![
            stroke(vec![at(-2.4, 0.0), at(2.0, -1.9)]),
            stroke(vec![at(1.6, -0.8), at(3.2, 0.8)]),
            stroke(vec![at(1.6, 0.8), at(3.2, -0.8)]),
        ],
    }
}

/// Where the line is broken for a protector: to the left and right of its centre.
pub const fn gap(protector: Protector) -> (f64, f64) {
    match protector {
        // The line runs through a fuse.
        Protector::Fuse => (0.0, 0.0),
        Protector::Breaker => (2.4, 2.4),
    }
}

fn lettered(letter: &str, centre: Point, ink: Ink) -> Vec<Shape> {
    vec![
        Shape::Circle {
            centre,
            radius: HALF,
            ink,
            width: STROKE,
        },
        words(at(centre.x, centre.y + 1.1), letter, Anchor::Middle, ink),
    ]
}

fn contact(centre: Point, ink: Ink) -> Vec<Shape> {
    let stroke = |points: Vec<Point>| line(shifted(points, centre), ink, STROKE);
    vec![
        stroke(vec![at(-HALF, 0.0), at(-1.8, 0.0)]),
        stroke(vec![at(-1.8, 0.0), at(2.4, -2.4)]),
        stroke(vec![at(1.8, 0.0), at(HALF, 0.0)]),
    ]
}

fn rectangle(wide: f64, high: f64) -> Vec<Point> {
    vec![
        at(-wide, -high),
        at(wide, -high),
        at(wide, high),
        at(-wide, high),
        at(-wide, -high),
    ]
}

fn half_round(x: f64) -> Vec<Point> {
    let corner = |step: u32| {
        let angle = std::f64::consts::PI * f64::from(step) / 8.0;
        at(x + angle.cos() * 0.9, angle.sin() * 0.9)
    };
    (0..=8).map(corner).collect()
}

fn socket() -> Vec<Point> {
    let corner = |step: u32| {
        let angle = std::f64::consts::FRAC_PI_2 * (1.0 + f64::from(step) / 6.0);
        at(0.8 + angle.cos() * 1.8, -angle.sin() * 1.8)
    };
    (0..=12).map(corner).collect()
}

fn shifted(points: Vec<Point>, by: Point) -> Vec<Point> {
    let points = points.into_iter();
    points
        .map(|point| at(point.x + by.x, point.y + by.y))
        .collect()
}
