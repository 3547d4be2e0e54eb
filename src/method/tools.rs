//! The tools of a step by what they do and what size they are for: those that the fittings stage
//! chose, and where it chose none that suits, those of the catalog.

use std::cmp::Ordering;

use super::library::StepFile;
use super::subject::Measure;
use super::work::Work;
use crate::catalog::{Tool, ToolUse};
use crate::quantity::Length;

/// A tool of a step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Named {
    /// In words.
    pub words: String,
    /// Its id, where the catalog has one that suits.
    pub id: Option<String>,
}

impl Named {
    fn tool(row: &Tool) -> Self {
        Self {
            words: row.description.clone(),
            id: Some(row.id.value.clone()),
        }
    }

    fn thing(words: impl Into<String>) -> Self {
        Self {
            words: words.into(),
            id: None,
        }
    }
}

/// The tools of a step, each once: those of the catalog, then other things to have at hand.
pub fn of_step(work: &Work, step: &StepFile, measure: &Measure) -> Vec<Named> {
    let mut tools: Vec<Named> = Vec::new();
    let purposes = step.tools.iter();
    let named = purposes.flat_map(|purpose| of(work, *purpose, measure));
    for tool in named.chain(step.aids.iter().map(Named::thing)) {
        if !tools.contains(&tool) {
            tools.push(tool);
        }
    }
    tools
}

fn of(work: &Work, purpose: ToolUse, measure: &Measure) -> Vec<Named> {
    match purpose {
        ToolUse::DrillBit => bits(work, measure),
        ToolUse::Wrench if measure.screws => Vec::new(),
        ToolUse::Wrench => wrenches(work, measure),
        ToolUse::Press => presses(work, measure),
        ToolUse::Cutter | ToolUse::Stripper => in_range(work, purpose, |tool| {
            within(measure.cable, tool.least_cable, tool.most_cable)
        }),
        ToolUse::TorqueWrench => in_range(work, purpose, |tool| {
            within(measure.torque, tool.least_torque, tool.most_torque)
        }),
        // What is not needed by any part is not there to be set.
        ToolUse::RivetNutSetter => chosen(work, purpose).map(Named::tool).collect(),
        other => plain(work, other),
    }
}

/// Tools of the catalog for a purpose: those that the fittings chose, then all others.
fn for_purpose<'a>(work: &Work<'a>, purpose: ToolUse) -> impl Iterator<Item = &'a Tool> {
    let fittings = work.fittings;
    let is_chosen = move |row: &&Tool| fittings.tools.contains(&row.id.value);
    let rows = work
        .catalog
        .tools
        .iter()
        .filter(move |row| row.purpose == purpose);
    rows.clone()
        .filter(is_chosen)
        .chain(rows.filter(move |row| !is_chosen(row)))
}

fn chosen<'a>(work: &Work<'a>, purpose: ToolUse) -> impl Iterator<Item = &'a Tool> {
    let fittings = work.fittings;
    for_purpose(work, purpose).filter(move |row| fittings.tools.contains(&row.id.value))
}

/// All that were chosen for the purpose; else the first of the catalog, and the purpose itself
/// where it has none.
fn plain(work: &Work, purpose: ToolUse) -> Vec<Named> {
    let tools: Vec<Named> = chosen(work, purpose).map(Named::tool).collect();
    if !tools.is_empty() {
        return tools;
    }
    let first = for_purpose(work, purpose).next();
    vec![first.map_or_else(|| Named::thing(purpose.to_string()), Named::tool)]
}

/// The first that suits; all that were chosen where none is known to.
fn in_range(work: &Work, purpose: ToolUse, suits: impl Fn(&Tool) -> bool) -> Vec<Named> {
    let first = for_purpose(work, purpose).find(|tool| suits(tool));
    match first {
        Some(tool) => vec![Named::tool(tool)],
        None => plain(work, purpose),
    }
}

/// Whether a known value lies in a range; a missing end is no limit.
fn within<T: PartialOrd>(value: Option<T>, least: Option<T>, most: Option<T>) -> bool {
    value.is_some_and(|value| {
        least.is_none_or(|least| value >= least) && most.is_none_or(|most| value <= most)
    })
}

/// The tool of a size, or the words where the catalog has none.
fn of_size(work: &Work, purpose: ToolUse, size: Length, words: String) -> Named {
    /// Sizes that differ by less are the same, in millimetres and inches alike.
    const SAME_MM: f64 = 0.05;
    let apart = |tool: &Tool| tool.size.map(|own| (own - size).mm().abs());
    let near = for_purpose(work, purpose).filter(|tool| apart(tool).is_some_and(|mm| mm < SAME_MM));
    let nearest = near.min_by(|a, b| apart(a).partial_cmp(&apart(b)).unwrap_or(Ordering::Equal));
    nearest.map_or_else(|| Named::thing(words), Named::tool)
}

fn bits(work: &Work, measure: &Measure) -> Vec<Named> {
    let units = work.job.units;
    let bit = |hole: &Length| {
        let words = format!("drill bit or hole saw, {}", units.drill(*hole));
        of_size(work, ToolUse::DrillBit, *hole, words)
    };
    if measure.holes.is_empty() {
        return vec![Named::thing(ToolUse::DrillBit.to_string())];
    }
    measure.holes.iter().map(bit).collect()
}

fn wrenches(work: &Work, measure: &Measure) -> Vec<Named> {
    let rows = measure.threads.iter();
    let rows = rows.filter_map(|thread| work.catalog.thread(*thread));
    let mut tools: Vec<Named> = rows
        .map(|row| {
            let words = format!("wrench {}", row.wrench);
            of_size(work, ToolUse::Wrench, row.across_flats, words)
        })
        .collect();
    if tools.is_empty() {
        let named = measure.wrench.iter();
        tools.extend(named.map(|name| Named::thing(format!("wrench {name}"))));
    }
    if tools.is_empty() {
        tools.push(Named::thing(ToolUse::Wrench.to_string()));
    }
    tools
}

/// The die of each lug and the press that takes it.
fn presses(work: &Work, measure: &Measure) -> Vec<Named> {
    let mut tools = Vec::new();
    for id in &measure.lugs {
        let lug = work.catalog.lugs.iter().find(|row| *row.id == *id);
        let mut dies = work.catalog.dies.iter();
        let die = lug.and_then(|lug| dies.find(|row| *row.id == lug.die));
        for part in die.into_iter().flat_map(|die| [&die.press, &die.id.value]) {
            tools.push(Named {
                words: work.describe(part),
                id: Some(part.clone()),
            });
        }
    }
    if tools.is_empty() {
        return plain(work, ToolUse::Press);
    }
    tools
}
