//! What a lead meets on its way: places, panels, spaces, dangers, clamps and cut ends.

use super::Scene;
use super::lettering::broken;
use crate::job::{Job, Leg};
use crate::route::{EndPoint, LeadRoute};

/// Letters of a line of a label.
const LETTERS_A_LINE: usize = 62;

/// What a lead meets, and where along it.
pub(super) struct Event {
    /// Distance along the lead.
    pub metres: f64,
    /// What it is, in lines short enough for a label.
    pub lines: Vec<String>,
    /// How it is marked.
    pub sign: Sign,
}

/// How an event is marked on the strip.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Sign {
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

/// The legs of a way with the distance at which each starts and whether it is gone along backwards.
pub(super) fn legs<'a>(
    job: &'a Job,
    way: &'a LeadRoute,
) -> impl Iterator<Item = (&'a Leg, f64, bool)> + 'a {
    let pairs = way.way.legs.iter().zip(&way.way.places);
    pairs.scan(0.0, |start, (leg, place)| {
        let leg = job.leg(*leg);
        let from = *start;
        *start += leg.length.m();
        Some((leg, from, leg.from != *place))
    })
}

/// Distances of the clamps along a lead.
pub(super) fn clamps(scene: Scene<'_>, way: &LeadRoute, name: &str) -> Vec<f64> {
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

/// Everything that a lead meets, from its start to its end.
pub(super) fn events(scene: Scene<'_>, way: &LeadRoute) -> Vec<Event> {
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
        let mut words = vec![format!(
            "{}, {}",
            space.name,
            job.units.temperature(space.temperature)
        )];
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
                    format!(" of {} or more", job.units.shown(radius))
                });
                words.push(format!("{bends} {plural}{tightest}"));
            }
        }
        let dangers = leg.hazards.iter().map(|hazard| {
            let gap = hazard
                .gap
                .map_or(String::new(), |gap| format!(" at {}", job.units.shown(gap)));
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
                    format!(", hole {}", scene.job.units.drill(hole))
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
