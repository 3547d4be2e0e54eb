//! The readings sheet: which points are read in which state, and what the meter should show.

use serde::Serialize;

use super::day::{Occasion, hindrance, lasts, on_the_day};
use super::expected::{Expected, expected, lead_amps};
use super::meter::Meter;
use super::points::{Measured, Point, PointKind, points};
use crate::circuit::{BranchOwner, Network, Wiring};
use crate::job::{Engine, Job, PlaceId, TerminalId};
use crate::method::Walk;
use crate::quantity::{Duration, Length, Temperature};

/// The air in which the sheet supposes that somebody measures. Judgement: a workshop.
pub const WORKSHOP_AIR: Temperature = Temperature::from_c(20.0);

/// Test points by state, in the order in which one walks.
#[derive(Debug, Clone, Serialize)]
pub struct Sheet {
    /// Temperature of the air.
    #[serde(skip)]
    pub air: Temperature,
    /// The states.
    pub states: Vec<SheetState>,
    /// States and points that are not on it, and why.
    pub left_out: Vec<LeftOut>,
}

/// What to read in one state.
#[derive(Debug, Clone, Serialize)]
pub struct SheetState {
    /// Its name.
    pub name: String,
    /// What the engine does.
    #[serde(serialize_with = "as_word")]
    pub engine: Engine,
    /// Loads that are on, in order.
    pub on: Vec<String>,
    /// How long it may last in one go; as long as one likes where nothing limits it.
    #[serde(skip)]
    pub longest: Option<Duration>,
    /// What to read.
    pub rows: Vec<Row>,
}

fn as_word<S: serde::Serializer>(engine: &Engine, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.collect_str(engine)
}

/// One reading to take. The red probe is on the side that should be higher.
#[derive(Debug, Clone, Serialize)]
pub struct Row {
    /// The test point.
    pub point: String,
    /// What it is.
    #[serde(serialize_with = "kind_as_word")]
    pub kind: PointKind,
    /// The place to stand at.
    pub place: String,
    /// Where the red probe goes.
    pub red: String,
    /// Where the black probe goes.
    pub black: String,
    /// How far apart they are along the cable.
    #[serde(skip)]
    pub apart: Length,
    /// The cable whose crimp it is.
    pub of_cable: Option<String>,
    /// What the meter should show, in volts.
    pub volts: f64,
    /// The least that a sound vehicle shows, the meter's own error included, in volts.
    pub least_v: f64,
    /// The most, likewise.
    pub most_v: f64,
}

fn kind_as_word<S: serde::Serializer>(kind: &PointKind, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.collect_str(kind)
}

/// A state or a point that is not on the sheet.
#[derive(Debug, Clone, Serialize)]
pub struct LeftOut {
    /// Its name.
    pub name: String,
    /// Why it is not.
    pub why: String,
}

/// Below this current a milliohm is less than a few steps of the meter.
const LEAST_A: f64 = 0.5;

/// From this current on a lasting state shows a milliohm well enough, and no short run is needed.
const PLENTY_A: f64 = 5.0;

/// The sheet of a job as wired, in air of a temperature.
pub fn sheet(wiring: &Wiring<'_>, air: Temperature, meter: Meter) -> Sheet {
    let day = on_the_day(wiring.job, air);
    let wiring = Wiring {
        job: &day,
        ..wiring.clone()
    };
    let mut left_out = Vec::new();
    let mut occasions = occasions(&wiring, &mut left_out);
    let points = points(&wiring);
    let mut wanted: Vec<Vec<&Point>> = vec![Vec::new(); occasions.len()];
    for point in &points {
        let taken = taken_in(&wiring, &occasions, point);
        if taken.is_empty() && point.kind != PointKind::Joint {
            left_out.push(LeftOut {
                name: point.name.clone(),
                why: "no state that can be measured sends enough current through it".to_owned(),
            });
        }
        for occasion in taken {
            wanted[occasion].push(point);
        }
    }
    let walk = Walk::new(&day);
    let states = occasions.iter_mut().zip(wanted);
    let states = states.map(|(occasion, points)| {
        let points = walked(&day, &walk, points);
        of_state(&wiring, occasion, &points, meter)
    });
    Sheet {
        air,
        states: states.filter(|state| !state.rows.is_empty()).collect(),
        left_out,
    }
}

/// Every state in which somebody can hold a meter, solved.
fn occasions(wiring: &Wiring<'_>, left_out: &mut Vec<LeftOut>) -> Vec<Occasion> {
    let mut found = Vec::new();
    for (index, state) in wiring.job.states.iter().enumerate() {
        let occasion = Occasion::of(wiring, index);
        let why = hindrance(state).or_else(|| {
            let works = occasion.works();
            (!works).then_some("the supply collapses in it, and nothing can be foretold")
        });
        match why {
            None => found.push(occasion),
            Some(why) => left_out.push(LeftOut {
                name: state.name.clone(),
                why: why.to_owned(),
            }),
        }
    }
    found
}

/// The occasions in which a point is read: volts of sources and loads in every state in which they
/// take part, all else in the one that shows a milliohm best.
fn taken_in(wiring: &Wiring<'_>, occasions: &[Occasion], point: &Point) -> Vec<usize> {
    let numbered = occasions.iter().enumerate();
    if matches!(point.kind, PointKind::Source | PointKind::Load) {
        let part = numbered.filter(|(_, occasion)| takes_part(network(occasion), point));
        return part.map(|(index, _)| index).collect();
    }
    let flows = numbered.map(|(index, occasion)| (index, amps(occasion, point).abs()));
    let largest = |lasting_only: bool| {
        let flows = flows.clone().filter(|(index, _)| {
            let state = &wiring.job.states[occasions[*index].state];
            !lasting_only || lasts(wiring.job, state)
        });
        // The first of equals.
        flows.reduce(|best, other| if other.1 > best.1 { other } else { best })
    };
    let lasting = largest(true).filter(|(_, amps)| *amps >= PLENTY_A);
    let best = lasting.or_else(|| largest(false).filter(|(_, amps)| *amps >= LEAST_A));
    best.map(|(index, _)| index).into_iter().collect()
}

fn network(occasion: &Occasion) -> &Network {
    &occasion.corners.solved.network
}

/// Whether a source or load is on.
fn takes_part(network: &Network, point: &Point) -> bool {
    let Measured::Between(TerminalId(first), TerminalId(second)) = point.measured else {
        return false;
    };
    let converters = network.converters.iter();
    let poles = converters.flat_map(|converter| [converter.input, converter.output]);
    let draws = network.draws.iter();
    let mut poles = poles
        .chain(draws.map(|draw| (draw.positive, draw.negative)))
        .chain(network.source_pairs());
    poles.any(|poles| poles == (first, second))
}

/// Amperes through what is measured, as planned.
fn amps(occasion: &Occasion, point: &Point) -> f64 {
    let solved = &occasion.corners.solved;
    match point.measured {
        Measured::Elements { lead, .. } => lead_amps(&solved.network, &solved.solution.volts, lead),
        Measured::Between(first, second) => {
            let mut branches = solved.network.branches.iter();
            let own = branches.position(|branch| {
                let metal = !matches!(branch.owner, BranchOwner::Lead(_));
                metal && (branch.from, branch.to) == (first.0, second.0)
            });
            own.map_or(0.0, |own| solved.branch_amps(own))
        }
    }
}

/// The points in the order of a walk that always goes on to the nearest place, from the first
/// battery on.
fn walked<'a>(job: &Job, walk: &Walk, points: Vec<&'a Point>) -> Vec<&'a Point> {
    let start = job.batteries.first().map(|battery| battery.place);
    let mut stand = start.or(points.first().map(|point| point.first.1));
    let mut left = points;
    let mut order = Vec::new();
    while let Some(next) = nearest(walk, stand, &left) {
        let (here, there): (Vec<&Point>, Vec<&Point>) =
            left.into_iter().partition(|point| point.first.1 == next);
        order.extend(here);
        (left, stand) = (there, Some(next));
    }
    order
}

fn nearest(walk: &Walk, stand: Option<PlaceId>, points: &[&Point]) -> Option<PlaceId> {
    let places = points.iter().map(|point| point.first.1);
    let far = |place: &PlaceId| walk.between(stand, Some(*place));
    places.min_by(|a, b| far(a).total_cmp(&far(b)).then(a.0.cmp(&b.0)))
}

fn of_state(
    wiring: &Wiring<'_>,
    occasion: &mut Occasion,
    points: &[&Point],
    meter: Meter,
) -> SheetState {
    let job = wiring.job;
    let state = &job.states[occasion.state];
    let loads = state.loads.iter().map(|load| job.load(*load));
    let starters = job.loads.iter().filter(|load| load.is_starter());
    let starters = starters.filter(|_| state.engine == Engine::Cranking);
    let short = loads.clone().chain(starters);
    let longest = short.filter_map(|load| load.given.longest);
    let rows = points.iter().map(|point| {
        let shown = expected(wiring, occasion, point);
        row(job, point, shown, shown.volts < 0.0, meter)
    });
    SheetState {
        rows: rows.collect(),
        name: state.name.clone(),
        engine: state.engine,
        on: loads.map(|load| load.name().to_owned()).collect(),
        longest: longest.reduce(|a, b| if b < a { b } else { a }),
    }
}

/// A reading to take, with the probes swapped or not.
pub fn row(job: &Job, point: &Point, shown: Expected, swapped: bool, meter: Meter) -> Row {
    let (red, black, shown) = match swapped {
        true => (&point.second, &point.first, shown.reversed()),
        false => (&point.first, &point.second, shown),
    };
    Row {
        point: point.name.clone(),
        kind: point.kind,
        place: job.place(point.first.1).name.clone(),
        red: red.0.clone(),
        black: black.0.clone(),
        apart: point.apart,
        of_cable: point.of_cable.clone(),
        volts: shown.volts,
        least_v: shown.least_v - meter.off_v(shown.least_v),
        most_v: shown.most_v + meter.off_v(shown.most_v),
    }
}
