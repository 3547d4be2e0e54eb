//! Where the volts go, as bars: each part of the way starts where the one before it ended.

use super::shape::{at, block, bold, dashed, line, words};
use super::{Anchor, Drawing, Ink, Scene, Shape, file_name};
use crate::circuit::{LedgerLine, LoadLedger, SourceVolts, StateResult};
use crate::job::Job;

const WIDTH: f64 = 170.0;
/// The bars lie between these; names at their left, figures at their right.
const LEFT: f64 = 62.0;
const RIGHT: f64 = 148.0;
const PITCH: f64 = 6.0;
const BAR: f64 = 3.8;
const TOP: f64 = 12.0;
/// Letters of a name.
const LETTERS: usize = 30;

/// The name of the drawing of a state.
pub fn volt_ledger_name(job: &Job, state: usize) -> String {
    let name = job
        .states
        .get(state)
        .map_or("", |state| state.name.as_str());
    format!("volt-ledger-{}-{}", state + 1, file_name(name))
}

/// The bars of the load that is closest to a limit in a state; nothing where no load has a source.
pub fn volt_ledger(scene: Scene<'_>, state: usize) -> Option<Drawing> {
    let result = scene.plan.operation.states.get(state)?;
    let load = closest(result)?;
    let source = load.source.as_ref()?;
    let mut sources = result.ledger.sources.iter();
    let source = sources.find(|known| known.name == *source)?;
    let rows = rows(load, source);
    let scale = Scale::of(load, source);
    let mut shapes = scale.frame(rows.len());
    shapes.extend(scale.limit(load, rows.len()));
    for (index, row) in rows.iter().enumerate() {
        shapes.extend(scale.row(row, TOP + PITCH * index as f64));
    }
    let told = rows
        .iter()
        .map(|row| format!("{} {:.2} V", row.name, row.lost));
    Some(Drawing {
        name: volt_ledger_name(scene.job, state),
        title: format!("Where the volts of {} go, {}", load.load, result.name),
        told: format!(
            "{}. {:.2} V are left for {}.",
            told.collect::<Vec<_>>().join("; "),
            load.volts,
            load.load
        ),
        width: WIDTH,
        height: TOP + PITCH * (rows.len() as f64 + 1.0) + 6.0,
        true_size: false,
        shapes,
    })
}

/// The load that has least to spare.
fn closest(result: &StateResult) -> Option<&LoadLedger> {
    let fed = result
        .ledger
        .loads
        .iter()
        .filter(|load| load.source.is_some());
    fed.min_by(|one, other| {
        let spare = |load: &LoadLedger| load.spare.unwrap_or(f64::INFINITY);
        spare(one).total_cmp(&spare(other))
    })
}

/// One bar.
struct Row {
    name: String,
    /// Volts at its start.
    from: f64,
    /// Volts that are lost in it; below zero where they rise.
    lost: f64,
    ink: Ink,
}

/// Source, way out, way back, and what is left.
fn rows(load: &LoadLedger, source: &SourceVolts) -> Vec<Row> {
    let mut rows = Vec::new();
    let mut left = source.open_v;
    let mut push = |name: String, lost: f64, ink: Ink| {
        rows.push(Row {
            name,
            from: left,
            lost,
            ink,
        });
        left -= lost;
    };
    let inside = format!("inside {}", source.name);
    push(inside, source.open_v - source.terminals_v, Ink::Warm);
    for (of, volts) in together(&load.out) {
        push(of, volts, Ink::Hot);
    }
    for (of, volts) in together(&load.back) {
        push(format!("back: {of}"), volts, Ink::Cool);
    }
    rows
}

/// The parts of one lead, device or stretch of body that follow each other, as one.
fn together(lines: &[LedgerLine]) -> Vec<(String, f64)> {
    let mut sums: Vec<(String, f64)> = Vec::new();
    for line in lines {
        let volts = line.millivolt / 1e3;
        match sums.last_mut() {
            Some((of, sum)) if *of == line.of => *sum += volts,
            _ => sums.push((line.of.clone(), volts)),
        }
    }
    sums
}

struct Scale {
    least: f64,
    most: f64,
}

impl Scale {
    /// From a whole volt under everything to a whole volt over it.
    fn of(load: &LoadLedger, source: &SourceVolts) -> Self {
        let lowest = load.least_v.unwrap_or(load.volts).min(load.volts);
        let highest = source.open_v.max(source.terminals_v).max(load.volts);
        Self {
            least: (lowest - 0.25).floor(),
            most: (highest + 0.05).ceil(),
        }
    }

    fn across(&self, volts: f64) -> f64 {
        LEFT + (RIGHT - LEFT) * (volts - self.least) / (self.most - self.least)
    }

    /// A line for each volt, or fewer where that would be too many.
    fn frame(&self, rows: usize) -> Vec<Shape> {
        let foot = TOP + PITCH * (rows as f64 + 1.0);
        let step = ((self.most - self.least) / 8.0).ceil().max(1.0);
        let count = ((self.most - self.least) / step).floor() as u32;
        let volts = (0..=count).map(|index| self.least + step * f64::from(index));
        volts
            .flat_map(|volts| {
                let x = self.across(volts);
                [
                    line(vec![at(x, TOP - 2.0), at(x, foot)], Ink::Line, 0.2),
                    words(
                        at(x, TOP - 3.5),
                        format!("{volts:.0} V"),
                        Anchor::Middle,
                        Ink::Grey,
                    ),
                ]
            })
            .chain([bold(
                at(LEFT - 2.0, foot - PITCH + 2.9),
                "left for the load",
                Anchor::End,
            )])
            .collect()
    }

    /// What the load needs, and what is left.
    fn limit(&self, load: &LoadLedger, rows: usize) -> Vec<Shape> {
        let top = TOP + PITCH * rows as f64;
        let x = self.across(load.volts);
        let mut shapes = vec![
            block(LEFT, top, x - LEFT, BAR, Ink::Pale),
            bold(
                at(RIGHT + 2.0, top + 2.9),
                format!("{:.2} V", load.volts),
                Anchor::Start,
            ),
        ];
        if let Some(least) = load.least_v {
            let x = self.across(least);
            let foot = top + PITCH;
            shapes.push(dashed(vec![at(x, TOP - 2.0), at(x, foot)], Ink::Red, 0.5));
            let text = format!("needs {least:.2} V; {:.2} V at worst", load.worst_v);
            shapes.push(words(at(LEFT, foot + 3.5), text, Anchor::Start, Ink::Red));
        }
        shapes
    }

    fn row(&self, row: &Row, top: f64) -> Vec<Shape> {
        let (one, other) = (self.across(row.from), self.across(row.from - row.lost));
        let (left, right) = (one.min(other), one.max(other));
        // A loss too small to see still has its place.
        let width = (right - left).max(0.4);
        let foot = top + 2.9;
        vec![
            words(
                at(LEFT - 2.0, foot),
                shortened(&row.name),
                Anchor::End,
                Ink::Black,
            ),
            block(left, top, width, BAR, row.ink),
            words(
                at(RIGHT + 2.0, foot),
                format!("{:.3} V", row.lost),
                Anchor::Start,
                Ink::Black,
            ),
        ]
    }
}

fn shortened(name: &str) -> String {
    if name.chars().count() <= LETTERS {
        return name.to_owned();
    }
    let kept: String = name.chars().take(LETTERS - 1).collect();
    format!("{}…", kept.trim_end())
}
