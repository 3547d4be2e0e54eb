//! The tools of a step: those that the fittings stage chose, by what they do and what size they are for.

use super::library::StepFile;
use super::subject::Measure;
use super::wording::length;
use super::work::Work;
use crate::catalog::{Tool, ToolUse};
use crate::quantity::Length;

/// Tools in words, each once: those of the catalog, then other things to have at hand.
pub fn in_words(work: &Work, step: &StepFile, measure: &Measure) -> Vec<String> {
    let mut tools: Vec<String> = Vec::new();
    let mut add = |tool: String| {
        if !tools.contains(&tool) {
            tools.push(tool);
        }
    };
    for purpose in &step.tools {
        for tool in of(work, *purpose, measure) {
            add(tool);
        }
    }
    for aid in &step.aids {
        add(aid.clone());
    }
    tools
}

fn of(work: &Work, purpose: ToolUse, measure: &Measure) -> Vec<String> {
    match purpose {
        ToolUse::DrillBit => bits(work, measure),
        ToolUse::Wrench => wrenches(work, measure),
        ToolUse::Press => presses(work, measure),
        ToolUse::Cutter | ToolUse::Stripper => in_range(work, purpose, |tool| {
            within(measure.cable, tool.least_cable, tool.most_cable)
        }),
        ToolUse::TorqueWrench => in_range(work, purpose, |tool| {
            within(measure.torque, tool.least_torque, tool.most_torque)
        }),
        other => plain(work, other),
    }
}

fn chosen<'a>(work: &Work<'a>, purpose: ToolUse) -> impl Iterator<Item = &'a Tool> {
    let fittings = work.fittings;
    let rows = work.catalog.tools.iter();
    rows.filter(move |row| row.purpose == purpose && fittings.tools.contains(&row.id.value))
}

/// All that were chosen for the purpose; the purpose itself where none was.
fn plain(work: &Work, purpose: ToolUse) -> Vec<String> {
    let mut tools: Vec<String> = chosen(work, purpose)
        .map(|row| row.description.clone())
        .collect();
    if tools.is_empty() {
        tools.push(purpose.to_string());
    }
    tools
}

/// The first that suits; all where none is known to.
fn in_range(work: &Work, purpose: ToolUse, suits: impl Fn(&Tool) -> bool) -> Vec<String> {
    let first = chosen(work, purpose).find(|tool| suits(tool));
    match first {
        Some(tool) => vec![tool.description.clone()],
        None => plain(work, purpose),
    }
}

/// Whether a known value lies in a range; a missing end is no limit.
fn within<T: PartialOrd>(value: Option<T>, least: Option<T>, most: Option<T>) -> bool {
    value.is_some_and(|value| {
        least.is_none_or(|least| value >= least) && most.is_none_or(|most| value <= most)
    })
}

fn of_size(work: &Work, purpose: ToolUse, size: Length) -> Option<String> {
    /// Sizes in tables are stated to a hundredth of a millimetre at the finest.
    const HAIR_MM: f64 = 0.005;
    let mut rows = chosen(work, purpose);
    let row = rows.find(|row| {
        row.size
            .is_some_and(|own| (own - size).mm().abs() < HAIR_MM)
    });
    row.map(|row| row.description.clone())
}

fn bits(work: &Work, measure: &Measure) -> Vec<String> {
    let units = work.job.units;
    let bit = |hole: &Length| {
        let found = of_size(work, ToolUse::DrillBit, *hole);
        found.unwrap_or_else(|| format!("drill bit or hole saw, {}", length(units, *hole)))
    };
    if measure.holes.is_empty() {
        return vec![ToolUse::DrillBit.to_string()];
    }
    measure.holes.iter().map(bit).collect()
}

fn wrenches(work: &Work, measure: &Measure) -> Vec<String> {
    let rows = measure.threads.iter();
    let rows = rows.filter_map(|thread| work.catalog.thread(*thread));
    let mut tools: Vec<String> = rows
        .map(|row| {
            let found = of_size(work, ToolUse::Wrench, row.across_flats);
            found.unwrap_or_else(|| format!("wrench {}", row.wrench))
        })
        .collect();
    if tools.is_empty() {
        let named = measure.wrench.iter().map(|name| format!("wrench {name}"));
        tools.extend(named);
    }
    if tools.is_empty() {
        tools.push(ToolUse::Wrench.to_string());
    }
    tools
}

/// The die of each lug and the press that takes it.
fn presses(work: &Work, measure: &Measure) -> Vec<String> {
    let mut tools = Vec::new();
    for id in &measure.lugs {
        let lug = work.catalog.lugs.iter().find(|row| *row.id == *id);
        let mut dies = work.catalog.dies.iter();
        let die = lug.and_then(|lug| dies.find(|row| *row.id == lug.die));
        if let Some(die) = die {
            tools.push(work.describe(&die.press));
            tools.push(die.description.clone());
        }
    }
    if tools.is_empty() {
        return plain(work, ToolUse::Press);
    }
    tools
}
