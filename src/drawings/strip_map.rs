//! Strip maps: a lead drawn straight, from its start at the top to its end at the bottom.
//!
//! Spaces are bands, darker where they are hotter. At the left stand the clamps with their distance
//! along the lead, at the right what it meets on its way.

use super::lettering::broken;
use super::shape::{at, block, bold, dashed, line, words};
use super::spread::spread;
use super::{Anchor, Drawing, Ink, Scene, Shape, file_name};
use crate::job::{Job, LeadId, Leg, Units};
use crate::quantity::{Length, Temperature};
use crate::route::{EndPoint, LeadRoute};

const WIDTH: f64 = 170.0;
/// Left edge, width and middle of the strip.
const STRIP: f64 = 36.0;
const STRIP_WIDTH: f64 = 12.0;
const MIDDLE: f64 = STRIP + STRIP_WIDTH / 2.0;
/// Where the labels at the right start.
const LABELS: f64 = 58.0;
/// Height of a line of a label.
const PITCH: f64 = 4.4;
/// Letters of a line of a label.
const LETTERS_A_LINE: usize = 62;
/// Room over the strip and under it.
const EDGE: f64 = 6.0;
/// A short lead is drawn at least this long.
const SHORTEST: f64 = 40.0;
/// Spaces hotter than this count as warm, and as hot; for the shade alone.
const WARM: Temperature = Temperature::from_c(45.0);
const HOT: Temperature = Temperature::from_c(70.0);

/// What a lead meets, and where along it.
struct Event {
    metres: f64,
    lines: Vec<String>,
    sign: Sign,
}

/// How an event is marked on the strip.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Sign {
    /// The conductor ends or is cut.
    Cut,
    /// A panel is passed.
    Panel,
    /// A place on the way.
    Place,
    /// Something that holds for a stretch.
    Stretch,
    /// Something that can harm the cable.
    Danger,
}

/// The name of the strip map of a lead.
pub fn strip_map_name(job: &Job, lead: LeadId) -> String {
    format!(
        "strip-map-{}-{}",
        lead.0 + 1,
        file_name(&job.lead(lead).name)
    )
}

/// The strip map of a lead.
pub fn strip_map(scene: Scene<'_>, lead: LeadId) -> Drawing {
    let way = &scene.plan.route.leads[lead.0];
    let name = &scene.job.lead(lead).name;
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
    Drawing {
        name: strip_map_name(scene.job, lead),
        title: format!("Strip map of {name}"),
        told: told(scene.job, &events, &clamps),
        width: WIDTH,
        height: strip.height + 2.0 * EDGE,
        true_size: false,
        shapes,
    }
}

/// The same in words, from the start to the end.
fn told(job: &Job, events: &[Event], clamps: &[f64]) -> String {
    let met = events.iter().map(|event| {
        let distance = length(event.metres, job.units);
        format!("at {distance} {}", event.lines.join(" "))
    });
    let met: Vec<String> = met.collect();
    let held = clamps.iter().map(|metres| length(*metres, job.units));
    let held: Vec<String> = held.collect();
    format!("{}. Clamps at {}.", met.join("; "), held.join(", "))
}

fn length(metres: f64, units: Units) -> String {
    let length = Length::from_m(metres);
    match units {
        Units::Metric => length.metric(),
        Units::Imperial => length.imperial(),
    }
}

/// The legs of a way with the distance at which each starts and whether it is gone along backwards.
fn legs<'a>(job: &'a Job, way: &'a LeadRoute) -> impl Iterator<Item = (&'a Leg, f64, bool)> + 'a {
    let pairs = way.way.legs.iter().zip(&way.way.places);
    pairs.scan(0.0, |start, (leg, place)| {
        let leg = job.leg(*leg);
        let from = *start;
        *start += leg.length.m();
        Some((leg, from, leg.from != *place))
    })
}

/// Distances of the clamps along a lead.
fn clamps(scene: Scene<'_>, way: &LeadRoute, name: &str) -> Vec<f64> {
    let mut distances = Vec::new();
    let numbered = legs(scene.job, way).zip(&way.way.legs);
    for ((leg, start, backwards), id) in numbered {
        let clamps = scene.plan.fittings.clamps.iter();
        let here =
            clamps.filter(|clamp| clamp.leg == *id && clamp.leads.iter().any(|held| held == name));
        distances.extend(here.map(|clamp| {
            let from_start = if backwards {
                leg.length - clamp.at
            } else {
                clamp.at
            };
            start + from_start.m()
        }));
    }
    distances.sort_by(f64::total_cmp);
    distances
}

fn events(scene: Scene<'_>, way: &LeadRoute) -> Vec<Event> {
    let mut events = ends(scene, way);
    events.extend(places(scene.job, way));
    events.extend(stretches(scene.job, way));
    events.extend(panels(scene, way));
    events.sort_by(|one, other| one.metres.total_cmp(&other.metres));
    events
}

fn event(metres: f64, text: &str, sign: Sign) -> Event {
    Event {
        metres,
        lines: broken(text, LETTERS_A_LINE),
        sign,
    }
}

/// Start, end and protection.
fn ends(scene: Scene<'_>, way: &LeadRoute) -> Vec<Event> {
    let job = scene.job;
    let lead = job.lead(way.lead);
    let place = |place: Option<&crate::job::PlaceId>| {
        place.map_or("", |place| job.place(*place).name.as_str())
    };
    let (from, to) = (&job.terminal(lead.from).name, &job.terminal(lead.to).name);
    let first = format!("start: {from}, at {}", place(way.way.places.first()));
    let last = format!("end: {to}, at {}", place(way.way.places.last()));
    let mut events = vec![event(0.0, &first, Sign::Cut)];
    let guard = scene.plan.protection.guard(way.lead);
    let guarded = way
        .sections
        .iter()
        .find(|section| matches!(section.from, EndPoint::ProtectionOut(_)));
    if let (Some(guard), Some(section)) = (guard, guarded) {
        let text = format!(
            "{} {:.0} A, at {}; cable ends on both sides",
            guard.kind,
            guard.rating.a(),
            job.place(guard.place).name
        );
        events.push(event(section.start.m(), &text, Sign::Cut));
    }
    events.push(event(way.routed().m(), &last, Sign::Cut));
    events
}

/// Places between the first and the last.
fn places(job: &Job, way: &LeadRoute) -> Vec<Event> {
    let later = legs(job, way).zip(&way.way.places).skip(1);
    later
        .map(|((_, start, _), place)| event(start, &job.place(*place).name, Sign::Place))
        .collect()
}

/// What holds for a leg as a whole.
fn stretches(job: &Job, way: &LeadRoute) -> Vec<Event> {
    let each = legs(job, way);
    each.map(|(leg, start, _)| {
        let space = job.space(leg.space);
        let mut words = vec![format!("{}, {:.0} °C", space.name, space.temperature.c())];
        if space.wet {
            words.push("wet".to_owned());
        }
        if leg.sheathed {
            words.push("in a duct".to_owned());
        }
        words.push(format!("access {}", leg.access));
        match (leg.bends, leg.bend_radius) {
            (0, _) => {}
            (bends, radius) => {
                let plural = if bends == 1 { "bend" } else { "bends" };
                let tightest = radius.map_or(String::new(), |radius| {
                    format!(" of {} or more", length(radius.m(), job.units))
                });
                words.push(format!("{bends} {plural}{tightest}"));
            }
        }
        let dangers = leg.hazards.iter().map(|hazard| {
            let gap = hazard.gap.map_or(String::new(), |gap| {
                format!(" at {}", length(gap.m(), job.units))
            });
            format!("{}{gap}", hazard.kind)
        });
        let dangers: Vec<String> = dangers.collect();
        let sign = if dangers.is_empty() {
            Sign::Stretch
        } else {
            Sign::Danger
        };
        if !dangers.is_empty() {
            words.push(format!("MIND: {}", dangers.join(", ")));
        }
        event(start + leg.length.m() / 2.0, &words.join("; "), sign)
    })
    .collect()
}

/// Panels passed.
fn panels(scene: Scene<'_>, way: &LeadRoute) -> Vec<Event> {
    let crossings = way.crossings.iter();
    crossings
        .map(|crossing| {
            let mut passages = scene.plan.fittings.passages.iter();
            let fitted = passages
                .find(|passage| passage.lead == way.lead && passage.panel == crossing.panel);
            let panel = &scene.job.panel(crossing.panel).name;
            let fitting = fitted.map_or(String::new(), |passage| {
                let hole = passage.hole.map_or(String::new(), |hole| {
                    format!(", hole {}", length(hole.m(), scene.job.units))
                });
                format!(": {}{hole}", passage.kind)
            });
            event(
                crossing.at.m(),
                &format!("through {panel}{fitting}"),
                Sign::Panel,
            )
        })
        .collect()
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
                    length(*metres, units),
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
