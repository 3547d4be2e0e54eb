//! Strip maps: a lead drawn straight, from its start at the top to its end at the bottom.
//!
//! Spaces are bands, darker where they are hotter. At the left stand the clamps with their distance
//! along the lead, at the right what it meets on its way.

use super::along_lead::{Event, Sign, clamps, events, legs};
use super::shape::{at, block, bold, dashed, line, words};
use super::spread::spread;
use super::{Anchor, Drawing, Ink, Scene, Shape, file_name};
use crate::job::{Job, Units};
use crate::quantity::{Length, Temperature};
use crate::route::LeadRoute;

const WIDTH: f64 = 170.0;
/// Left edge, width and middle of the strip.
const STRIP: f64 = 36.0;
const STRIP_WIDTH: f64 = 12.0;
const MIDDLE: f64 = STRIP + STRIP_WIDTH / 2.0;
/// Where the labels at the right start.
const LABELS: f64 = 58.0;
/// Height of a line of a label.
const PITCH: f64 = 4.4;
/// Room over the strip and under it.
const EDGE: f64 = 6.0;
/// A short lead is drawn at least this long.
const SHORTEST: f64 = 40.0;
/// Spaces hotter than this count as warm, and as hot; for the shade alone.
const WARM: Temperature = Temperature::from_c(45.0);
const HOT: Temperature = Temperature::from_c(70.0);

/// The name of the strip map of a lead; nothing where both its ends are at one place.
pub fn strip_map_name(job: &Job, way: &LeadRoute) -> Option<String> {
    let number = way.lead.0 + 1;
    let name = file_name(&job.lead(way.lead).name);
    (!way.way.legs.is_empty()).then(|| format!("strip-map-{number}-{name}"))
}

/// The strip map of a lead; nothing where both its ends are at one place.
pub fn strip_map(scene: Scene<'_>, way: &LeadRoute) -> Option<Drawing> {
    let file = strip_map_name(scene.job, way)?;
    let name = &scene.job.lead(way.lead).name;
    let events = events(scene, way);
    let clamps = clamps(scene, way, name);
    let heights: Vec<f64> = events
        .iter()
        .map(|event| PITCH * event.lines.len() as f64)
        .collect();
    let needed = heights.iter().sum::<f64>().max(PITCH * clamps.len() as f64);
    let strip = Strip {
        metres: way.routed().m().max(1e-3),
        height: needed.max(SHORTEST),
    };
    let mut shapes = strip.bands(scene.job, way);
    shapes.extend(strip.clamps(&clamps, scene.job.units));
    shapes.extend(strip.events(&events, &heights));
    Some(Drawing {
        name: file,
        title: format!("Strip map of {name}"),
        told: told(scene.job, &events, &clamps),
        width: WIDTH,
        height: strip.height + 2.0 * EDGE,
        true_size: false,
        shapes,
    })
}

/// The same in words, from the start to the end.
fn told(job: &Job, events: &[Event], clamps: &[f64]) -> String {
    let met = events.iter().map(|event| {
        let distance = job.units.shown(Length::from_m(event.metres));
        format!("at {distance} {}", event.lines.join(" "))
    });
    let met: Vec<String> = met.collect();
    let held = clamps
        .iter()
        .map(|metres| job.units.shown(Length::from_m(*metres)));
    let held: Vec<String> = held.collect();
    format!("{}. Clamps at {}.", met.join("; "), held.join(", "))
}

/// The scale of the strip.
struct Strip {
    metres: f64,
    height: f64,
}

impl Strip {
    fn down(&self, metres: f64) -> f64 {
        EDGE + self.height * metres / self.metres
    }

    /// Where labels go, kept between the upper and the lower edge.
    fn label_tops(&self, metres: impl Iterator<Item = f64>, heights: &[f64]) -> Vec<f64> {
        let all: f64 = heights.iter().sum();
        let mut above = 0.0;
        let wanted: Vec<f64> = metres
            .zip(heights)
            .map(|(metres, height)| {
                let least = EDGE + above;
                let most = EDGE + self.height - (all - above);
                above += height;
                (self.down(metres) - height / 2.0)
                    .max(least)
                    .min(most.max(least))
            })
            .collect();
        spread(&wanted, heights)
    }

    fn bands(&self, job: &Job, way: &LeadRoute) -> Vec<Shape> {
        let mut shapes = Vec::new();
        for (leg, start, _) in legs(job, way) {
            let (top, bottom) = (self.down(start), self.down(start + leg.length.m()));
            let ink = shade(job.space(leg.space).temperature);
            shapes.push(block(STRIP, top, STRIP_WIDTH, bottom - top, ink));
        }
        let (top, bottom) = (self.down(0.0), self.down(self.metres));
        shapes.push(line(
            vec![at(MIDDLE, top), at(MIDDLE, bottom)],
            Ink::Black,
            1.2,
        ));
        shapes
    }

    fn clamps(&self, clamps: &[f64], units: Units) -> Vec<Shape> {
        let heights = vec![PITCH; clamps.len()];
        let tops = self.label_tops(clamps.iter().copied(), &heights);
        let each = clamps.iter().zip(tops);
        each.flat_map(|(metres, top)| {
            let (place, foot) = (self.down(*metres), top + PITCH * 0.75);
            [
                line(
                    vec![at(MIDDLE - 2.2, place), at(MIDDLE + 2.2, place)],
                    Ink::Black,
                    0.7,
                ),
                line(
                    vec![
                        at(STRIP - 4.0, top + PITCH / 2.0),
                        at(STRIP - 1.0, place),
                        at(MIDDLE - 2.2, place),
                    ],
                    Ink::Line,
                    0.2,
                ),
                words(
                    at(STRIP - 4.5, foot),
                    units.shown(Length::from_m(*metres)),
                    Anchor::End,
                    Ink::Black,
                ),
            ]
        })
        .collect()
    }

    fn events(&self, events: &[Event], heights: &[f64]) -> Vec<Shape> {
        let tops = self.label_tops(events.iter().map(|event| event.metres), heights);
        let right = STRIP + STRIP_WIDTH;
        let mut shapes = Vec::new();
        for ((event, top), height) in events.iter().zip(tops).zip(heights) {
            let place = self.down(event.metres);
            let centre = top + height / 2.0;
            shapes.push(line(
                vec![
                    at(MIDDLE + 1.0, place),
                    at(right + 1.0, place),
                    at(LABELS - 1.5, centre),
                ],
                Ink::Line,
                0.2,
            ));
            shapes.extend(sign(event.sign, place));
            for (index, text) in event.lines.iter().enumerate() {
                let foot = at(LABELS, top + PITCH * (index as f64 + 0.75));
                shapes.push(match event.sign {
                    Sign::Cut => bold(foot, text, Anchor::Start),
                    Sign::Stretch => words(foot, text, Anchor::Start, Ink::Grey),
                    _ => words(foot, text, Anchor::Start, Ink::Black),
                });
            }
        }
        shapes
    }
}

/// How an event is marked on the strip.
fn sign(sign: Sign, place: f64) -> Vec<Shape> {
    match sign {
        Sign::Cut => vec![block(MIDDLE - 1.6, place - 1.6, 3.2, 3.2, Ink::Black)],
        Sign::Panel => vec![dashed(
            vec![at(STRIP - 1.5, place), at(STRIP + STRIP_WIDTH + 1.5, place)],
            Ink::Black,
            0.9,
        )],
        Sign::Place => vec![Shape::Circle {
            centre: at(MIDDLE, place),
            radius: 1.4,
            ink: Ink::Black,
            width: 0.5,
        }],
        Sign::Stretch => Vec::new(),
        Sign::Danger => vec![Shape::Area {
            points: vec![
                at(STRIP + STRIP_WIDTH - 3.6, place + 1.5),
                at(STRIP + STRIP_WIDTH - 1.8, place - 1.6),
                at(STRIP + STRIP_WIDTH, place + 1.5),
            ],
            ink: Ink::Red,
        }],
    }
}

fn shade(temperature: Temperature) -> Ink {
    if temperature > HOT {
        Ink::Hot
    } else if temperature > WARM {
        Ink::Warm
    } else {
        Ink::Cool
    }
}
