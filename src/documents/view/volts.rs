//! Where the volts go, in words and in tables.

use serde::Serialize;

use super::build::Context;
use super::condensed::{self, RowView};
use super::headline;
use super::thicker;
use crate::circuit::{BondFlow, LoadLedger, OtherWay, PartKind, SourceVolts, StateResult};
use crate::drawings::volt_ledger_name;

/// Where the volts go in every state.
#[derive(Debug, Clone, Serialize)]
pub struct VoltsView {
    /// What matters most, in sentences.
    pub headline: Vec<String>,
    /// The states.
    pub states: Vec<VoltsStateView>,
}

/// Where the volts go in one state.
#[derive(Debug, Clone, Serialize)]
pub struct VoltsStateView {
    /// Its name.
    pub name: String,
    /// Whether all loads work as stated.
    pub operating_point: bool,
    /// Batteries and alternators.
    pub sources: Vec<SourceVolts>,
    /// Loads that are on.
    pub loads: Vec<LoadVoltsView>,
    /// Stretches of body that carry current.
    pub bonds: Vec<BondFlow>,
    /// Name of the drawing of the load that is closest to a limit; none where no load is fed.
    pub volt_ledger: Option<String>,
}

/// Where the volts of one load go.
#[derive(Debug, Clone, Serialize)]
pub struct LoadVoltsView {
    /// Every part on the way.
    #[serde(flatten)]
    pub ledger: LoadLedger,
    /// The way told in sentences: from the source's open circuit to the load.
    pub told: Option<String>,
    /// The way in rows, the joints of a lead taken together; empty for loads that are far from
    /// every limit.
    pub rows: Vec<RowView>,
    /// Where current also comes another way.
    pub also: Vec<String>,
    /// The ground of a sensitive load against the engine.
    pub ground_told: Option<String>,
    /// The largest single loss, and what would better it.
    pub next: Option<String>,
}

/// A quarter of the limit: loads that keep more are not told in rows.
const NEAR: f64 = 0.25;

/// Every state.
pub fn view(context: Context<'_>) -> VoltsView {
    let states = context.plan.operation.states.iter();
    VoltsView {
        headline: headline::volts(context),
        states: states
            .enumerate()
            .map(|(index, state)| state_view(context, index, state))
            .collect(),
    }
}

fn state_view(context: Context<'_>, index: usize, state: &StateResult) -> VoltsStateView {
    let ledger = &state.ledger;
    let loads = ledger.loads.iter();
    VoltsStateView {
        name: state.name.clone(),
        operating_point: state.operating_point,
        sources: ledger.sources.clone(),
        loads: loads.map(|load| load_view(context, state, load)).collect(),
        bonds: ledger.bonds.clone(),
        volt_ledger: ledger
            .loads
            .iter()
            .any(|load| load.source.is_some())
            .then(|| volt_ledger_name(context.job, index)),
    }
}

fn load_view(context: Context<'_>, state: &StateResult, load: &LoadLedger) -> LoadVoltsView {
    let near = load.spare.is_some_and(|spare| spare < NEAR);
    let rows = if load.sensitive || near {
        condensed::rows(context, load)
    } else {
        Vec::new()
    };
    LoadVoltsView {
        told: told(state, load),
        rows,
        also: load.other_ways.iter().map(other_way).collect(),
        ground_told: ground(load),
        next: next(context, load),
        ledger: load.clone(),
    }
}

/// From the source's open circuit to the load, in one sentence.
fn told(state: &StateResult, load: &LoadLedger) -> Option<String> {
    let name = load.source.as_ref()?;
    let source = state.ledger.sources.iter();
    let source = source.clone().find(|source| source.name == *name)?;
    let sum = |lines: &[crate::circuit::LedgerLine]| {
        lines.iter().map(|line| line.millivolt).sum::<f64>() / 1e3
    };
    Some(format!(
        "`{name}`: {:.2} V without current, {:.2} V {} it at {:.0} A, {:.2} V at its \
         terminals. On the way out {:.3} V are lost, on the way back {:.3} V; {:.2} V are left \
         for `{}`.",
        source.open_v,
        source.inside_v.abs(),
        if source.amps < 0.0 {
            "more while others charge"
        } else {
            "lost inside"
        },
        source.amps.abs(),
        source.terminals_v,
        sum(&load.out),
        sum(&load.back),
        load.volts,
        load.load,
    ))
}

fn other_way(way: &OtherWay) -> String {
    let does = if way.back { "go back" } else { "come" };
    format!(
        "At `{}` {:.1} A of it ({:.0} %) {does} another way, by `{}`.",
        way.at,
        way.amps,
        way.share * 100.0,
        way.by
    )
}

fn ground(load: &LoadLedger) -> Option<String> {
    let ground = load.ground.as_ref()?;
    let point = if ground.is_engine {
        format!("the engine (`{}`)", ground.against)
    } else {
        format!(
            "`{}`, as no starter or alternator is bolted to a named point of the engine",
            ground.against
        )
    };
    Some(format!(
        "Its ground stands {:.0} mV {} {point}, {:.0} mV at worst.",
        ground.millivolt.abs(),
        if ground.millivolt < 0.0 {
            "below"
        } else {
            "above"
        },
        ground.worst_millivolt.abs()
    ))
}

/// The largest single loss, and what the next thicker cable costs and brings.
fn next(context: Context<'_>, load: &LoadLedger) -> Option<String> {
    let rows = condensed::parts(context, load);
    let largest = rows
        .iter()
        .max_by(|a, b| a.millivolt.total_cmp(&b.millivolt))?;
    let cables = rows.iter().filter(|row| row.kind == PartKind::Cable);
    let cable = cables.max_by(|a, b| a.millivolt.total_cmp(&b.millivolt));
    let mut text = format!(
        "The largest single loss is {} of `{}`: {:.0} mV.",
        largest.part, largest.of, largest.millivolt
    );
    if largest.kind == PartKind::Joint {
        text.push_str(" Clean contact faces, full torque and good crimps keep it there.");
    }
    if let Some(cable) = cable {
        if largest.kind != PartKind::Cable {
            let more = format!(
                " Of the cables `{}` takes most, {:.0} mV.",
                cable.of, cable.millivolt
            );
            text.push_str(&more);
        }
        if let Some(lead) = cable.lead {
            text.push(' ');
            text.push_str(&thicker::told(context, lead));
        }
    }
    Some(text)
}

/// What would better a load's volts in a state, for its checks.
pub fn cure(context: Context<'_>, state: &str, load: &str) -> Option<String> {
    let mut states = context.plan.operation.states.iter();
    let state = states.find(|known| known.name == state)?;
    let mut loads = state.ledger.loads.iter();
    let load = loads.find(|known| known.load == load)?;
    let next = next(context, load)?;
    Some(inside(state, load).unwrap_or_default() + &next)
}

/// What to say where more is lost inside the source than on the way.
fn inside(state: &StateResult, load: &LoadLedger) -> Option<String> {
    let mut sources = state.ledger.sources.iter();
    let source = sources.find(|source| Some(&source.name) == load.source.as_ref())?;
    (source.inside_v > load.lost_v?).then(|| {
        format!(
            "More is lost inside `{}` ({:.2} V) than on the way: one with less resistance inside, \
             or fuller or warmer, brings more than any cable. ",
            source.name, source.inside_v
        )
    })
}
