//! Time-current plots: how long a device holds and how soon it opens, beside what its cable stands.
//!
//! Both axes are logarithmic, as such curves are drawn. Where the band lies over a pulse the device
//! holds it; where it lies under the cable's line it opens in time.

use super::shape::{at, dashed, line, words};
use super::{Anchor, Drawing, Ink, Point, Scene, Shape, file_name};
use crate::catalog::Protective;
use crate::job::{Job, LeadId};
use crate::protection::Guard;
use crate::quantity::Current;

const WIDTH: f64 = 170.0;
const HEIGHT: f64 = 108.0;
/// The frame of the plot.
const LEFT: f64 = 20.0;
const RIGHT: f64 = 118.0;
const TOP: f64 = 18.0;
const BOTTOM: f64 = 95.0;
/// Where the words beside the frame start.
const KEY: f64 = 123.0;
const PITCH: f64 = 4.4;
/// Shortest and longest time shown.
const SHORTEST_S: f64 = 1e-3;
const LONGEST_S: f64 = 1e4;
/// Times up to which the adiabatic formula holds (IEC 60949, 1.1).
const ADIABATIC_S: f64 = 5.0;
/// Points of a curve.
const POINTS: u32 = 120;

/// The name of the plot of a lead's device.
pub fn time_current_name(job: &Job, lead: LeadId) -> String {
    format!(
        "time-current-{}-{}",
        lead.0 + 1,
        file_name(&job.lead(lead).name)
    )
}

/// The plot of a device; nothing where it is none of `devices`, those of the catalog.
pub fn time_current(
    scene: Scene<'_>,
    devices: &[Protective<'_>],
    guard: &Guard,
) -> Option<Drawing> {
    let device = devices.iter().find(|device| device.part == guard.part)?;
    let lead = &scene.job.lead(guard.lead).name;
    let plot = Plot::of(guard);
    // As the plan judges: it holds least long when hot, and opens latest when cold.
    let air = scene
        .job
        .space(scene.job.place(guard.place).space)
        .temperature;
    let (hot, cold) = (device.in_air(air), device.in_air(scene.job.cold));
    let holds = |amps: f64| {
        let of_rating = hot.of_rating(Current::from_a(amps));
        Some(hot.curve.holds_for(of_rating).s())
    };
    let opens = |amps: f64| {
        cold.opens_within(Current::from_a(amps))
            .map(|time| time.s())
    };
    let withstand_a2s = guard.withstands_s * guard.fault_far.a().powi(2);
    let stands =
        |amps: f64| Some(withstand_a2s / (amps * amps)).filter(|time| *time <= ADIABATIC_S);
    let mut shapes = plot.frame();
    shapes.push(plot.band(&holds, &opens));
    shapes.push(line(plot.curve(&holds), Ink::Blue, 0.5));
    shapes.push(line(plot.curve(&opens), Ink::Blue, 0.9));
    if withstand_a2s.is_finite() {
        shapes.push(line(plot.curve(&stands), Ink::Red, 0.9));
    }
    shapes.extend(plot.pulses(guard));
    shapes.extend(plot.marks(guard));
    shapes.extend(key(guard, withstand_a2s.is_finite()));
    Some(Drawing {
        name: time_current_name(scene.job, guard.lead),
        title: format!(
            "Time and current: {} {:.0} A of {lead}",
            guard.kind,
            guard.rating.a()
        ),
        told: told(guard),
        width: WIDTH,
        height: HEIGHT,
        true_size: false,
        shapes,
    })
}

fn told(guard: &Guard) -> String {
    let opens = guard.opens_within_s.map_or_else(
        || "it need not open".to_owned(),
        |seconds| format!("it opens within {seconds:.2} s"),
    );
    format!(
        "At the smallest fault of {:.0} A {opens}, and the cable stands that for {:.2} s. At its own \
         terminals a fault reaches {:.0} A.",
        guard.fault_far.a(),
        guard.withstands_s,
        guard.fault_near.a()
    )
}

/// The scale of both axes.
struct Plot {
    least_a: f64,
    most_a: f64,
}

impl Plot {
    /// Whole decades that hold everything of interest.
    fn of(guard: &Guard) -> Self {
        let pulses = guard.pulses.iter().map(|pulse| pulse.current);
        let least = pulses.fold(guard.rating.min(guard.fault_far), Current::min);
        let least = least.a().max(1.0);
        let most = guard.fault_near.max(guard.rating * 10.0).a().max(10.0);
        Self {
            least_a: 10f64.powf((least * 0.7).log10().floor()),
            most_a: 10f64.powf((most * 1.05).log10().ceil()),
        }
    }

    fn across(&self, amps: f64) -> f64 {
        let part = (amps / self.least_a).ln() / (self.most_a / self.least_a).ln();
        LEFT + (RIGHT - LEFT) * part
    }

    fn point(&self, amps: f64, seconds: f64) -> Point {
        let seconds = seconds.clamp(SHORTEST_S, LONGEST_S);
        let part = (seconds / SHORTEST_S).ln() / (LONGEST_S / SHORTEST_S).ln();
        at(self.across(amps), BOTTOM - (BOTTOM - TOP) * part)
    }

    /// Currents from the left edge to the right one, evenly on their scale.
    fn currents(&self) -> impl DoubleEndedIterator<Item = f64> {
        let (least, ratio) = (self.least_a, self.most_a / self.least_a);
        (0..=POINTS).map(move |index| least * ratio.powf(f64::from(index) / f64::from(POINTS)))
    }

    /// A curve where it is on the paper.
    fn curve(&self, seconds: &dyn Fn(f64) -> Option<f64>) -> Vec<Point> {
        let shown = self
            .currents()
            .filter_map(|amps| Some((amps, seconds(amps)?)));
        shown
            .filter(|(_, seconds)| (SHORTEST_S..=LONGEST_S).contains(seconds))
            .map(|(amps, seconds)| self.point(amps, seconds))
            .collect()
    }

    /// Between the time that the device holds for sure and that within which it opens for sure.
    fn band(
        &self,
        holds: &dyn Fn(f64) -> Option<f64>,
        opens: &dyn Fn(f64) -> Option<f64>,
    ) -> Shape {
        let edge = |time: &dyn Fn(f64) -> Option<f64>, amps: f64| {
            self.point(amps, time(amps).unwrap_or(f64::INFINITY))
        };
        let slow = self.currents().map(|amps| edge(opens, amps));
        let fast = self.currents().rev().map(|amps| edge(holds, amps));
        Shape::Area {
            points: slow.chain(fast).collect(),
            ink: Ink::Cool,
        }
    }

    fn frame(&self) -> Vec<Shape> {
        let mut shapes = Vec::new();
        for decade in decades(self.least_a, self.most_a) {
            let x = self.across(decade);
            shapes.push(line(vec![at(x, TOP), at(x, BOTTOM)], Ink::Line, 0.2));
            shapes.push(words(
                at(x, BOTTOM + 4.5),
                figure(decade),
                Anchor::Middle,
                Ink::Black,
            ));
            for step in 2..10 {
                let amps = decade * f64::from(step);
                if amps < self.most_a {
                    let x = self.across(amps);
                    shapes.push(line(
                        vec![at(x, BOTTOM), at(x, BOTTOM - 1.5)],
                        Ink::Grey,
                        0.2,
                    ));
                }
            }
        }
        for decade in decades(SHORTEST_S, LONGEST_S) {
            let y = self.point(self.least_a, decade).y;
            shapes.push(line(vec![at(LEFT, y), at(RIGHT, y)], Ink::Line, 0.2));
            shapes.push(words(
                at(LEFT - 1.5, y + 1.1),
                figure(decade),
                Anchor::End,
                Ink::Black,
            ));
        }
        shapes.push(words(
            at(LEFT - 1.5, TOP - 2.0),
            "seconds",
            Anchor::End,
            Ink::Grey,
        ));
        shapes.push(words(
            at(RIGHT, BOTTOM + 9.0),
            "amperes",
            Anchor::End,
            Ink::Grey,
        ));
        shapes
    }

    /// Cranking and other currents that flow for a time: the device must hold them.
    fn pulses(&self, guard: &Guard) -> Vec<Shape> {
        let shown = guard.pulses.iter();
        let shown = shown.filter(|pulse| (self.least_a..=self.most_a).contains(&pulse.current.a()));
        let crosses = shown.flat_map(|pulse| {
            let Point { x, y } = self.point(pulse.current.a(), pulse.time.s());
            [
                line(
                    vec![at(x - 1.4, y - 1.4), at(x + 1.4, y + 1.4)],
                    Ink::Black,
                    0.5,
                ),
                line(
                    vec![at(x - 1.4, y + 1.4), at(x + 1.4, y - 1.4)],
                    Ink::Black,
                    0.5,
                ),
            ]
        });
        crosses.collect()
    }

    /// The largest and the smallest fault and the current that flows for hours.
    fn marks(&self, guard: &Guard) -> Vec<Shape> {
        let marks = [
            (guard.continuous, "hours"),
            (guard.fault_far, "least fault"),
            (guard.fault_near, "largest fault"),
        ];
        let shown = marks
            .into_iter()
            .filter(|(amps, _)| (self.least_a..=self.most_a).contains(&amps.a()));
        let mut shown: Vec<_> = shown.collect();
        shown.sort_by(|one, other| one.0.a().total_cmp(&other.0.a()));
        let mut shapes = Vec::new();
        // The words stand over the frame, those of the leftmost line highest: no other line is
        // drawn so high that it would cross them.
        for (row, (current, name)) in shown.into_iter().enumerate() {
            let (x, foot) = (self.across(current.a()), 4.0 + PITCH * row as f64);
            shapes.push(dashed(
                vec![at(x, foot - 3.0), at(x, BOTTOM)],
                Ink::Black,
                0.3,
            ));
            let text = format!("{name} {:.0} A", current.a());
            shapes.push(words(at(x + 1.0, foot), text, Anchor::Start, Ink::Black));
        }
        shapes
    }
}

/// What the lines mean.
fn key(guard: &Guard, withstand: bool) -> Vec<Shape> {
    let mut rows: Vec<(Vec<Shape>, &str)> = vec![
        (
            vec![line(vec![at(KEY, 0.0), at(KEY + 7.0, 0.0)], Ink::Blue, 0.5)],
            "holds when hot",
        ),
        (
            vec![line(vec![at(KEY, 0.0), at(KEY + 7.0, 0.0)], Ink::Blue, 0.9)],
            "opens when cold",
        ),
    ];
    if withstand {
        rows.push((
            vec![line(vec![at(KEY, 0.0), at(KEY + 7.0, 0.0)], Ink::Red, 0.9)],
            "cable stands it",
        ));
    }
    if !guard.pulses.is_empty() {
        let cross = vec![
            line(
                vec![at(KEY + 2.1, -1.4), at(KEY + 4.9, 1.4)],
                Ink::Black,
                0.5,
            ),
            line(
                vec![at(KEY + 2.1, 1.4), at(KEY + 4.9, -1.4)],
                Ink::Black,
                0.5,
            ),
        ];
        rows.push((cross, "must be held"));
    }
    let mut shapes = Vec::new();
    for (index, (signs, text)) in rows.into_iter().enumerate() {
        let y = TOP + 5.0 + 6.0 * index as f64;
        shapes.extend(signs.into_iter().map(|sign| lowered(sign, y)));
        shapes.push(words(
            at(KEY + 9.0, y + 1.1),
            text,
            Anchor::Start,
            Ink::Black,
        ));
    }
    shapes
}

fn lowered(shape: Shape, by: f64) -> Shape {
    match shape {
        Shape::Line {
            points,
            ink,
            width,
            dash,
        } => Shape::Line {
            points: points
                .into_iter()
                .map(|point| at(point.x, point.y + by))
                .collect(),
            ink,
            width,
            dash,
        },
        other => other,
    }
}

/// Powers of ten from one to the other, both included.
fn decades(least: f64, most: f64) -> impl Iterator<Item = f64> {
    let (first, last) = (least.log10().round() as i32, most.log10().round() as i32);
    (first..=last).map(|power| 10f64.powi(power))
}

fn figure(value: f64) -> String {
    if value >= 1.0 {
        format!("{value:.0}")
    } else {
        format!("{value}")
    }
}
