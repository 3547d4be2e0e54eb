//! What the readings of a record say: each on its own, all of a day together, and over the days.

use serde::Serialize;

use super::ageing::{Ageing, Estimates, ageing};
use super::day::{Occasion, hindrance, on_the_day};
use super::expected::expected;
use super::explain::{Explained, explained};
use super::fit::Local;
use super::meter::Meter;
use super::model::Model;
use super::points::{Point, points};
use super::round::{Round, Taken};
use super::sheet::{Row, WORKSHOP_AIR, row};
use super::suspects::{Accused, Findings, find};
use super::unknowns::Unknowns;
use crate::circuit::Wiring;
use crate::diagnostic::{Diagnostic, Problem, Subject};
use crate::file::words;
use crate::quantity::{Date, Temperature};
use crate::record::{DayFile, RecordFile};

words! {
    /// What a reading says on its own and beside the others.
    pub enum Agreement as "a verdict on a reading" {
        /// Within its band.
        Agrees = "agrees",
        /// Just outside its band, or within it but not where the other readings have it.
        Doubtful = "doubtful",
        /// Outside its band.
        Wrong = "wrong",
    }
}

/// What the readings of a record say.
#[derive(Debug, Serialize)]
pub struct Verdict {
    /// Day by day.
    pub days: Vec<DayVerdict>,
    /// Parts that got worse from day to day.
    pub ageing: Vec<Ageing>,
}

/// What the readings of one day say.
#[derive(Debug, Serialize)]
pub struct DayVerdict {
    /// The day.
    pub date: Date,
    /// Temperature of the air.
    #[serde(skip)]
    pub air: Temperature,
    /// Whose meter, or what else matters.
    pub note: Option<String>,
    /// The readings, in the order of the file.
    pub readings: Vec<ReadingVerdict>,
    /// What is at fault, the worst first.
    pub suspects: Vec<Explained>,
    /// Readings of the file that are not taken yet.
    pub not_taken: usize,
}

/// What one reading says.
#[derive(Debug, Serialize)]
pub struct ReadingVerdict {
    /// The state.
    pub state: String,
    /// The test point, with what it should show.
    #[serde(flatten)]
    pub row: Row,
    /// What the meter showed, red probe against black, in volts.
    pub read_v: f64,
    /// The verdict.
    #[serde(serialize_with = "as_word")]
    pub agreement: Agreement,
    /// What it would show with the suspects as they were found, in volts.
    pub explained_v: f64,
}

fn as_word<S: serde::Serializer>(word: &Agreement, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.collect_str(word)
}

impl Verdict {
    /// Whether nothing is at fault and no reading is wrong, on the last day.
    pub fn is_sound(&self) -> bool {
        self.days.last().is_none_or(|day| {
            let wrong = |reading: &ReadingVerdict| reading.agreement == Agreement::Wrong;
            day.suspects.is_empty() && !day.readings.iter().any(wrong)
        })
    }
}

/// Judges the readings of a record of a job as wired.
///
/// # Errors
/// Test points that the job does not have, and states in which nobody can hold a meter.
pub fn verify(wiring: &Wiring<'_>, record: &RecordFile) -> Result<Verdict, Vec<Diagnostic>> {
    let meter = Meter {
        error: record.meter_error.value,
        step: record.meter_step.value,
    };
    let points = points(wiring);
    let mistakes = mistakes(wiring, &points, record);
    if !mistakes.is_empty() {
        return Err(mistakes);
    }
    let mut files: Vec<&DayFile> = record.day.iter().collect();
    files.sort_by_key(|day| day.date.value);
    let mut days = Vec::new();
    let mut history = Vec::new();
    for file in files {
        let (day, estimates) = judged(wiring, &points, file, meter);
        days.push(day);
        history.push((file.date.value, estimates));
    }
    Ok(Verdict {
        days,
        ageing: ageing(wiring, &history),
    })
}

fn mistakes(wiring: &Wiring<'_>, points: &[Point], record: &RecordFile) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    let known = || points.iter().map(|point| point.name.as_str());
    for file in record.day.iter().flat_map(|day| &day.state) {
        let mut states = wiring.job.states.iter();
        let state = states.find(|state| state.name == file.name.value);
        if let Some(why) = state.and_then(hindrance) {
            let reason = format!("in `{}` nobody can take a reading: {why}", file.name.value);
            found.push(Diagnostic::new(
                Problem::contradiction(reason),
                file.name.span,
            ));
        }
        for reading in &file.reading {
            if known().all(|name| name != reading.point.value) {
                let problem = Problem::unknown_name(Subject::TestPoint, &reading.point, known());
                found.push(Diagnostic::new(problem, reading.point.span));
            }
        }
    }
    found
}

/// A reading of the file beside what it should be.
struct Noted {
    state: String,
    row: Row,
    swapped: bool,
    volts: f64,
}

fn judged(
    wiring: &Wiring<'_>,
    points: &[Point],
    file: &DayFile,
    meter: Meter,
) -> (DayVerdict, Estimates) {
    let usual = on_the_day(wiring.job, WORKSHOP_AIR);
    let usual = Wiring {
        job: &usual,
        ..wiring.clone()
    };
    let day = on_the_day(wiring.job, file.air);
    let wiring = Wiring {
        job: &day,
        ..wiring.clone()
    };
    let mut notes = Vec::new();
    let mut rounds = Vec::new();
    let mut not_taken = 0;
    for state in &file.state {
        let mut states = day.states.iter();
        let Some(index) = states.position(|known| known.name == state.name.value) else {
            continue;
        };
        let mut occasion = Occasion::of(&wiring, index);
        let mut on_the_sheet = Occasion::of(&usual, index);
        let mut taken = Vec::new();
        for reading in &state.reading {
            let at = points
                .iter()
                .position(|point| point.name == reading.point.value);
            let (Some(at), Some(volts)) = (at, reading.reads.value.0) else {
                not_taken += 1;
                continue;
            };
            // The probes are held as the sheet says, whatever the weather.
            let swapped = expected(&usual, &mut on_the_sheet, &points[at]).volts < 0.0;
            let shown = expected(&wiring, &mut occasion, &points[at]);
            let sign = if swapped { -1.0 } else { 1.0 };
            taken.push(Taken::at(
                points,
                at,
                sign * volts.v(),
                meter.spread_v(volts.v()),
            ));
            notes.push(Noted {
                state: state.name.value.clone(),
                row: row(&day, &points[at], shown, swapped, meter),
                swapped,
                volts: volts.v(),
            });
        }
        rounds.push(Round::of(&wiring, occasion, taken));
    }
    let model = Model {
        unknowns: Unknowns::of(&wiring, &rounds),
        rounds,
    };
    let findings = find(&model);
    let verdict = DayVerdict {
        date: file.date.value,
        air: file.air,
        note: file.note.clone(),
        readings: readings(&model, &findings, notes, meter),
        suspects: explained(&wiring, points, &model, &findings),
        not_taken,
    };
    (verdict, Estimates::of(&model, &findings))
}

/// How many spreads a reading may be from where the others have it. Judgement: one of some hundred
/// thousand is farther.
const FAR: f64 = 4.5;

fn readings(
    model: &Model,
    findings: &Findings,
    notes: Vec<Noted>,
    meter: Meter,
) -> Vec<ReadingVerdict> {
    let off = model.off(&findings.fit.figures);
    let local = Local::at(model, &findings.freedom, &findings.fit.figures);
    let gains = local.map(|local| local.gains_of_readings());
    let given_up = |at: usize| {
        let mut suspects = findings.suspects.iter();
        suspects.any(|suspect| suspect.accused == Accused::Reading(at))
    };
    let spreads = model.rounds.iter().flat_map(|round| &round.taken);
    let numbered = notes.into_iter().zip(spreads).enumerate();
    numbered
        .map(|(at, (note, taken))| {
            let lone = gains.as_ref().is_some_and(|gains| gains[at] > FAR * FAR);
            let sign = if note.swapped { -1.0 } else { 1.0 };
            ReadingVerdict {
                agreement: agreement(&note, meter, lone || given_up(at)),
                explained_v: sign * (taken.volts - off[at] * taken.spread_v),
                state: note.state,
                row: note.row,
                read_v: note.volts,
            }
        })
        .collect()
}

fn agreement(note: &Noted, meter: Meter, lone: bool) -> Agreement {
    let off = meter.off_v(note.volts);
    let beyond = (note.row.least_v - note.volts).max(note.volts - note.row.most_v);
    if beyond > 2.0 * off {
        Agreement::Wrong
    } else if beyond > 0.0 || lone {
        Agreement::Doubtful
    } else {
        Agreement::Agrees
    }
}
