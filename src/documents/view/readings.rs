//! The readings sheet, and what a record's readings say, as readers see them.

use serde::Serialize;

use super::build::Context;
use crate::job::{Engine, Units};
use crate::quantity::Length;
use crate::readings::{
    Ageing, Agreement, DayVerdict, Explained, LeftOut, PointKind, Row, Sheet, SheetState, Verdict,
    Wrong,
};

/// The readings sheet.
#[derive(Debug, Clone, Serialize)]
pub struct ReadingsView {
    /// Temperature of the air that it supposes.
    pub air_c: f64,
    /// The states.
    pub states: Vec<ReadingsStateView>,
    /// States and points that are not on it, and why.
    pub left_out: Vec<LeftOut>,
}

/// What to read in one state.
#[derive(Debug, Clone, Serialize)]
pub struct ReadingsStateView {
    /// Its name.
    pub name: String,
    /// How to bring it about.
    pub told: String,
    /// Whether somebody else has to hold the key.
    pub second_person: bool,
    /// How long it may last in one go; nothing where nothing limits it.
    pub longest: Option<String>,
    /// What to read first.
    pub rows: Vec<ReadingRowView>,
    /// Crimps, to be read where the cable between them is out of its band.
    pub crimps: Vec<ReadingRowView>,
}

/// One reading to take.
#[derive(Debug, Clone, Serialize)]
pub struct ReadingRowView {
    /// The reading as data.
    #[serde(flatten)]
    pub row: Row,
    /// Where the probes go, red first; without the name of the point where both are on it.
    pub probes: String,
    /// What the meter should show, such as `52.3 mV`.
    pub shows: String,
    /// The least of its band.
    pub least: String,
    /// The most of its band.
    pub most: String,
    /// How long the meter's lead must be, where the probes are far apart.
    pub meter_lead: Option<String>,
}

/// Probes that are farther apart need a long lead on the meter.
const ARMS_LENGTH: Length = Length::from_mm(1500.0);

/// The sheet of a plan.
pub fn view(context: Context<'_>) -> Option<ReadingsView> {
    let sheet = context.plan.readings.as_ref()?;
    Some(of_sheet(sheet, context.job.units))
}

fn of_sheet(sheet: &Sheet, units: Units) -> ReadingsView {
    ReadingsView {
        air_c: sheet.air.c(),
        states: sheet
            .states
            .iter()
            .map(|state| of_state(state, units))
            .collect(),
        left_out: sheet.left_out.clone(),
    }
}

fn of_state(state: &SheetState, units: Units) -> ReadingsStateView {
    let rows = state.rows.iter().map(|row| of_row(row, units));
    let (crimps, rows) = rows.partition(|view| view.row.kind == PointKind::Joint);
    ReadingsStateView {
        name: state.name.clone(),
        told: told(state),
        second_person: state.engine == Engine::Cranking,
        longest: state.longest.map(|longest| format!("{:.0} s", longest.s())),
        rows,
        crimps,
    }
}

/// How to bring a state about, in a sentence.
fn told(state: &SheetState) -> String {
    let engine = match state.engine {
        Engine::Off => "Engine off",
        Engine::Running => "Engine running",
        Engine::Cranking | Engine::Locked => "Engine cranked, kept from starting",
    };
    match state.on.is_empty() {
        true => format!("{engine}; no load is on."),
        false => format!("{engine}; on: {}.", state.on.join(", ")),
    }
}

fn of_row(row: &Row, units: Units) -> ReadingRowView {
    let finest = row.most_v.abs().max(row.least_v.abs());
    let far = row.apart > ARMS_LENGTH;
    let on_point = format!("{}, ", row.point);
    let side = |probe: &'_ str| probe.strip_prefix(&on_point).unwrap_or(probe).to_owned();
    ReadingRowView {
        probes: format!("{} to {}", side(&row.red), side(&row.black)),
        shows: volts(row.volts, finest),
        least: volts(row.least_v, finest),
        most: volts(row.most_v, finest),
        meter_lead: far.then(|| units.shown(row.apart)),
        row: row.clone(),
    }
}

/// A voltage in the range of a meter that shows the largest of some: `12.63 V`, `52.3 mV`.
fn volts(volts: f64, largest: f64) -> String {
    match largest {
        large if large >= 1.0 => format!("{volts:.2} V"),
        large if large >= 0.1 => format!("{:.0} mV", volts * 1e3),
        _ => format!("{:.1} mV", volts * 1e3),
    }
}

/// What a record's readings say.
#[derive(Debug, Clone, Serialize)]
pub struct VerdictView {
    /// What the job is.
    pub title: String,
    /// What tells the vehicle from others.
    pub vehicle: Option<String>,
    /// Day by day, the last first.
    pub days: Vec<VerdictDayView>,
    /// Parts that got worse from day to day.
    pub ageing: Vec<AgeingView>,
}

/// What the readings of one day say.
#[derive(Debug, Clone, Serialize)]
pub struct VerdictDayView {
    /// The day.
    pub date: String,
    /// Temperature of the air.
    pub air_c: f64,
    /// Whose meter, or what else matters.
    pub note: Option<String>,
    /// All that in a sentence.
    pub told: String,
    /// What is at fault.
    pub suspects: Vec<SuspectView>,
    /// Readings that do not agree.
    pub off: Vec<ReadView>,
    /// Readings that agree.
    pub agree: Vec<ReadView>,
    /// Readings that are not taken yet.
    pub not_taken: usize,
}

/// Something at fault.
#[derive(Debug, Clone, Serialize)]
pub struct SuspectView {
    /// What it is.
    pub what: String,
    /// What of it is wrong, in words.
    pub told: String,
    /// What explains the readings nearly as well.
    pub or: Vec<String>,
    /// Test points that would tell them apart.
    pub next: Vec<String>,
    /// The figures behind it.
    pub figure: Wrong,
}

/// One reading that was taken.
#[derive(Debug, Clone, Serialize)]
pub struct ReadView {
    /// The state.
    pub state: String,
    /// The point, with what it should show.
    #[serde(flatten)]
    pub row: ReadingRowView,
    /// What the meter showed.
    pub read: String,
    /// The same in volts.
    pub read_v: f64,
    /// `agrees`, `doubtful` or `wrong`.
    pub agreement: &'static str,
    /// What it would show with the suspects as they were found.
    pub explained: String,
}

/// A part that got worse.
#[derive(Debug, Clone, Serialize)]
pub struct AgeingView {
    /// What it is.
    pub what: String,
    /// What it has on which day, in words.
    pub told: String,
    /// The figures.
    #[serde(flatten)]
    pub ageing: Ageing,
}

impl VerdictView {
    /// The view of a verdict.
    pub fn of(verdict: &Verdict, title: &str, vehicle: Option<&str>, units: Units) -> Self {
        let days = verdict.days.iter().rev();
        let ageing = verdict.ageing.iter();
        Self {
            title: title.to_owned(),
            vehicle: vehicle.map(str::to_owned),
            days: days.map(|day| of_day(day, units)).collect(),
            ageing: ageing.map(of_ageing).collect(),
        }
    }
}

fn of_day(day: &DayVerdict, units: Units) -> VerdictDayView {
    let reads = day.readings.iter().map(|reading| ReadView {
        state: reading.state.clone(),
        row: of_row(&reading.row, units),
        read: volts(reading.read_v, reading.read_v.abs()),
        read_v: reading.read_v,
        agreement: reading.agreement.as_str(),
        explained: volts(reading.explained_v, reading.explained_v.abs()),
    });
    let agrees = |read: &ReadView| read.agreement == Agreement::Agrees.as_str();
    let (agree, off): (Vec<ReadView>, Vec<ReadView>) = reads.partition(agrees);
    VerdictDayView {
        date: day.date.to_string(),
        air_c: day.air.c(),
        note: day.note.clone(),
        told: day_told(day, &off, agree.len()),
        suspects: day.suspects.iter().map(of_suspect).collect(),
        off,
        agree,
        not_taken: day.not_taken,
    }
}

fn day_told(day: &DayVerdict, off: &[ReadView], agree: usize) -> String {
    let wrong = off
        .iter()
        .filter(|read| read.agreement == Agreement::Wrong.as_str());
    let wrong = wrong.count();
    let counts = format!(
        "{agree} readings agree, {} are doubtful, {wrong} are wrong",
        off.len() - wrong
    );
    match day.suspects.as_slice() {
        [] if agree + off.len() == 0 => "Nothing was read.".to_owned(),
        [] if wrong == 0 => format!("{counts}. Nothing is at fault."),
        [] => format!(
            "{counts}. No single part explains what is wrong: take the wrong readings again, and \
             read more points round them."
        ),
        [one] => format!("{counts}. One thing explains them best: {}.", one.what),
        several => format!("{counts}. {} things explain them best.", several.len()),
    }
}

fn of_suspect(suspect: &Explained) -> SuspectView {
    SuspectView {
        what: suspect.what.clone(),
        told: figure_told(suspect.figure),
        or: suspect.or.clone(),
        next: suspect.next.clone(),
        figure: suspect.figure,
    }
}

fn figure_told(figure: Wrong) -> String {
    match figure {
        Wrong::Milliohm {
            planned,
            found,
            give_or_take,
        } => format!(
            "{found:.2} mΩ (give or take {give_or_take:.2}) in the place of {planned:.2} mΩ"
        ),
        Wrong::Volts {
            planned,
            found,
            give_or_take,
        } => {
            format!("{found:.2} V (give or take {give_or_take:.2}) in the place of {planned:.2} V")
        }
        Wrong::Times {
            found,
            give_or_take,
        } => format!("{found:.2} times (give or take {give_or_take:.2}) what the job file says"),
        Wrong::Reading { should, read } => format!(
            "{} where all others make it {}; take it again",
            volts(read, read.abs()),
            volts(should, should.abs())
        ),
    }
}

fn of_ageing(ageing: &Ageing) -> AgeingView {
    let days = ageing.days.iter();
    let days: Vec<String> = days
        .map(|day| format!("{:.2} mΩ on {}", day.milliohm, day.date))
        .collect();
    AgeingView {
        what: ageing.what.clone(),
        told: format!(
            "{}; that is {:.2} mΩ a year",
            days.join(", "),
            ageing.milliohm_a_year
        ),
        ageing: ageing.clone(),
    }
}
