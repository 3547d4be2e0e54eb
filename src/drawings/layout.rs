//! The layout: the vehicle from above and from the side, to scale, with every leg that leads take.
//!
//! Places bear numbers, which stand in rows over and under the views with a thin line to each, so
//! that none hides another; a table beside the drawing tells their names.

use super::shape::{at, block, dashed, line, words};
use super::{Anchor, Drawing, Ink, Point, Scene, Shape};
use crate::catalog::Polarity;
use crate::job::{LegId, PlaceId, Position, Units};
use crate::quantity::Length;

/// The name of the drawing.
pub const LAYOUT: &str = "layout";

const WIDTH: f64 = 170.0;
/// Left and right of the views.
const MARGIN: f64 = 8.0;
/// Most height of both views together.
const VIEWS: f64 = 120.0;
/// Room of a row of numbers, with the lines that lead to it.
const NUMBERS: f64 = 11.0;
/// Width of a number.
const SLOT: f64 = 6.2;
/// Between the two views.
const BETWEEN: f64 = 7.0;
/// Lines of leads that share a leg lie so far apart.
const APART: f64 = 0.9;

/// Places with a position, in the order of the job; the first is number one.
pub fn placed(scene: Scene<'_>) -> Vec<(PlaceId, Position)> {
    let places = scene.job.places.iter().enumerate();
    let placed = places.filter_map(|(index, place)| Some((PlaceId(index), place.position?)));
    placed.collect()
}

/// Both views; nothing where fewer than two places have a position.
pub fn layout(scene: Scene<'_>) -> Option<Drawing> {
    let placed = placed(scene);
    let frame = Frame::of(&placed)?;
    let mut shapes = frame.grounds();
    for view in [View::Above, View::Side] {
        shapes.extend(legs(scene, &frame, view));
        shapes.extend(dots(&placed, &frame, view));
        shapes.extend(numbers(&placed, &frame, view));
    }
    let units = scene.job.units;
    shapes.extend(frame.scale_bar(units));
    let named = placed.iter().enumerate();
    let told = named.map(|(index, (place, position))| {
        format!(
            "{} {}: {} from the back, {} from the left, {} high",
            index + 1,
            scene.job.place(*place).name,
            units.shown(position.from_back),
            units.shown(position.from_left),
            units.shown(position.height)
        )
    });
    Some(Drawing {
        name: LAYOUT.to_owned(),
        title: "Layout from above and from the side".to_owned(),
        told: told.collect::<Vec<_>>().join("; "),
        width: WIDTH,
        height: frame.height,
        true_size: false,
        shapes,
    })
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum View {
    /// From above, the front at the right, the left side at the top.
    Above,
    /// From the side, the front at the right as well.
    Side,
}

/// Millimetres of paper for metres of vehicle.
struct Frame {
    scale: f64,
    least: Position,
    most: Position,
    /// Top of the view from above.
    above: f64,
    /// Top of the view from the side.
    side: f64,
    height: f64,
}

impl Frame {
    fn of(placed: &[(PlaceId, Position)]) -> Option<Self> {
        let (first, rest) = placed.split_first()?;
        if rest.is_empty() {
            return None;
        }
        let (mut least, mut most) = (first.1, first.1);
        for (_, position) in rest {
            least = each(least, *position, Length::min);
            most = each(most, *position, Length::max);
        }
        // Heights count from the ground, so that the side shows it.
        least.height = Length::ZERO;
        let extent = each(most, least, |most, least| most - least);
        let long = extent.from_back.m().max(0.1);
        let high = (extent.from_left + extent.height).m().max(0.1);
        let scale = ((WIDTH - 2.0 * MARGIN) / long).min(VIEWS / high);
        let above = NUMBERS;
        let side = above + extent.from_left.m() * scale + BETWEEN;
        let foot = side + extent.height.m() * scale;
        Some(Self {
            scale,
            least,
            most,
            above,
            side,
            height: foot + NUMBERS + 8.0,
        })
    }

    /// Where a position is in a view.
    fn at(&self, position: Position, view: View) -> Point {
        let along = (position.from_back - self.least.from_back).m() * self.scale;
        let (top, down) = match view {
            View::Above => (self.above, position.from_left - self.least.from_left),
            View::Side => (self.side, self.most.height - position.height),
        };
        at(MARGIN + along, top + down.m() * self.scale)
    }

    /// The ground under the side view, and which way the vehicle looks.
    fn grounds(&self) -> Vec<Shape> {
        let ground = self.at(self.least, View::Side).y;
        vec![
            line(
                vec![at(MARGIN / 2.0, ground), at(WIDTH - MARGIN / 2.0, ground)],
                Ink::Line,
                0.5,
            ),
            dashed(
                vec![
                    at(0.0, self.side - BETWEEN / 2.0),
                    at(WIDTH, self.side - BETWEEN / 2.0),
                ],
                Ink::Line,
                0.2,
            ),
        ]
    }

    /// A bar of about a metre, or of a tenth where the vehicle is small, and the words at the foot.
    fn scale_bar(&self, units: Units) -> Vec<Shape> {
        let whole = self.scale < 60.0;
        let (metres, told) = match (units, whole) {
            (Units::Metric, true) => (1.0, "1 m"),
            (Units::Metric, false) => (0.1, "100 mm"),
            (Units::Imperial, true) => (0.9144, "3 ft"),
            (Units::Imperial, false) => (0.1016, "4 in"),
        };
        let foot = self.height - 1.5;
        let right = MARGIN + metres * self.scale;
        vec![
            block(MARGIN, foot - 1.6, metres * self.scale, 1.2, Ink::Black),
            words(
                at(right + 2.0, foot),
                format!(
                    "{told}; above: from above, below: from the side; the front is at the right"
                ),
                Anchor::Start,
                Ink::Grey,
            ),
        ]
    }
}

fn each(one: Position, other: Position, of: impl Fn(Length, Length) -> Length) -> Position {
    Position {
        from_back: of(one.from_back, other.from_back),
        from_left: of(one.from_left, other.from_left),
        height: of(one.height, other.height),
    }
}

/// Every leg between two places with positions: positive leads red, others black, legs that no lead
/// takes broken and grey; panels as bars across, hazards as points of warning.
fn legs(scene: Scene<'_>, frame: &Frame, view: View) -> Vec<Shape> {
    let mut shapes = Vec::new();
    for (id, leg) in scene.job.legs() {
        let position = |place: PlaceId| scene.job.place(place).position;
        let (Some(from), Some(to)) = (position(leg.from), position(leg.to)) else {
            continue;
        };
        let ends = [frame.at(from, view), frame.at(to, view)];
        let inks = inks(scene, id);
        if inks.is_empty() {
            shapes.push(dashed(ends.to_vec(), Ink::Line, 0.3));
        }
        for (index, ink) in inks.iter().enumerate() {
            let off = APART * (index as f64 - (inks.len() as f64 - 1.0) / 2.0);
            shapes.push(line(aside(ends, off).to_vec(), *ink, 0.7));
        }
        if let Some((_, distance)) = leg.crossing {
            let part = (distance / leg.length).clamp(0.0, 1.0);
            shapes.push(bar_across(ends, part));
        }
        if !leg.hazards.is_empty() && !inks.is_empty() {
            shapes.extend(warning(along(ends, 0.5)));
        }
    }
    shapes
}

/// What colours the leads of a leg have.
fn inks(scene: Scene<'_>, leg: LegId) -> Vec<Ink> {
    let ways = scene.plan.route.leads.iter();
    let own = ways.filter(|way| way.way.legs.contains(&leg));
    let polarities: Vec<Polarity> = own.map(|way| scene.job.lead(way.lead).polarity).collect();
    let mut inks = Vec::new();
    if polarities.contains(&Polarity::Positive) {
        inks.push(Ink::Red);
    }
    if polarities.contains(&Polarity::Negative) {
        inks.push(Ink::Black);
    }
    inks
}

/// A unit step from one end to the other; to the right where both are the same.
fn direction([from, to]: [Point; 2]) -> (f64, f64) {
    let (x, y) = (to.x - from.x, to.y - from.y);
    let length = x.hypot(y);
    if length > 0.0 {
        (x / length, y / length)
    } else {
        (1.0, 0.0)
    }
}

/// The same line, moved to its side.
fn aside(ends: [Point; 2], off: f64) -> [Point; 2] {
    let (x, y) = direction(ends);
    ends.map(|end| at(end.x - y * off, end.y + x * off))
}

fn along([from, to]: [Point; 2], part: f64) -> Point {
    at(
        from.x + (to.x - from.x) * part,
        from.y + (to.y - from.y) * part,
    )
}

fn bar_across(ends: [Point; 2], part: f64) -> Shape {
    const HALF: f64 = 1.8;
    let (x, y) = direction(ends);
    let centre = along(ends, part);
    let end = |off: f64| at(centre.x - y * off, centre.y + x * off);
    line(vec![end(-HALF), end(HALF)], Ink::Black, 0.5)
}

fn warning(centre: Point) -> [Shape; 2] {
    let corner = |x: f64, y: f64| at(centre.x + x, centre.y + y);
    let top = corner(0.0, -1.7);
    let corners = vec![top, corner(1.7, 1.2), corner(-1.7, 1.2)];
    let outline = corners.iter().copied().chain([top]).collect();
    [
        Shape::Area {
            points: corners,
            ink: Ink::Hot,
        },
        line(outline, Ink::Black, 0.3),
    ]
}

fn dots(placed: &[(PlaceId, Position)], frame: &Frame, view: View) -> Vec<Shape> {
    const HALF: f64 = 0.8;
    let points = placed.iter().map(|(_, position)| frame.at(*position, view));
    points
        .map(|point| {
            block(
                point.x - HALF,
                point.y - HALF,
                2.0 * HALF,
                2.0 * HALF,
                Ink::Black,
            )
        })
        .collect()
}

/// Numbers of the places, over the view from above and under that from the side, each with a thin
/// line to its place. More than fit in a row are told by the table alone.
fn numbers(placed: &[(PlaceId, Position)], frame: &Frame, view: View) -> Vec<Shape> {
    let slots = (WIDTH / SLOT).floor() as usize;
    let mut points: Vec<(usize, Point)> = placed
        .iter()
        .enumerate()
        .map(|(index, (_, position))| (index + 1, frame.at(*position, view)))
        .collect();
    points.sort_by(|a, b| a.1.x.total_cmp(&b.1.x).then(a.0.cmp(&b.0)));
    points.truncate(slots);
    let wanted: Vec<usize> = points
        .iter()
        .map(|(_, point)| (point.x / SLOT).floor().max(0.0) as usize)
        .collect();
    let (foot, end) = match view {
        View::Above => (3.6, 4.6),
        View::Side => {
            let ground = frame.at(frame.least, View::Side).y;
            (ground + NUMBERS - 1.0, ground + NUMBERS - 4.4)
        }
    };
    let chosen = in_slots(&wanted, slots);
    let labels = points.iter().zip(chosen);
    labels
        .flat_map(|((number, point), slot)| {
            let x = (slot as f64 + 0.5) * SLOT;
            [
                line(vec![at(x, end), *point], Ink::Line, 0.2),
                words(at(x, foot), number.to_string(), Anchor::Middle, Ink::Black),
            ]
        })
        .collect()
}

/// A slot for each of some that want one, in order, no two the same; there are at least as many
/// slots as are wanted.
fn in_slots(wanted: &[usize], slots: usize) -> Vec<usize> {
    let mut chosen = Vec::with_capacity(wanted.len());
    let mut free = 0;
    for want in wanted {
        let slot = free.max(*want);
        chosen.push(slot);
        free = slot + 1;
    }
    let mut most = slots;
    for slot in chosen.iter_mut().rev() {
        *slot = (*slot).min(most - 1);
        most = *slot;
    }
    chosen
}

#[cfg(test)]
mod tests {
    use super::in_slots;

    #[test]
    fn no_two_share_a_slot() {
        assert_eq!(in_slots(&[0, 4, 9], 10), [0, 4, 9]);
        assert_eq!(in_slots(&[3, 3, 3], 10), [3, 4, 5]);
        assert_eq!(in_slots(&[8, 9, 9, 9], 10), [6, 7, 8, 9]);
        assert_eq!(in_slots(&[5; 10], 10), [0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
    }
}
