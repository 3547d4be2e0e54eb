//! What the work will give, in the figures that a customer asks for, each at its worst.

use serde::Serialize;

use super::Offered;
use crate::catalog::Catalog;
use crate::compare::Column;
use crate::job::Engine;
use crate::protection::Keep;
use crate::quantity::{Length, Temperature};

/// One figure.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Expected {
    /// What it is; the same words in every option.
    pub what: &'static str,
    /// The figure with its unit; nothing where the job has no such thing.
    pub figure: Option<String>,
}

/// The figures of a plan, always the same ones in the same order.
pub fn expected(offered: &Offered<'_>, catalog: &Catalog) -> Vec<Expected> {
    let column = Column::of(offered.name, None, offered.job, offered.plan, catalog);
    let units = offered.job.units;
    let hottest = column
        .hottest
        .as_ref()
        .map(|found| units.temperature(Temperature::from_c(found.value)));
    let figures: [(&'static str, Option<String>); 5] = [
        (
            "least volts at the starter while it cranks",
            cranking(offered),
        ),
        ("hottest cable", hottest),
        ("positive cable that nothing protects", unprotected(offered)),
        ("cable in all", cable(offered)),
        ("checks", Some(checks(offered, &column))),
    ];
    let figures = figures.into_iter();
    figures
        .map(|(what, figure)| Expected { what, figure })
        .collect()
}

/// Volts at a starter that turns; one that is stuck sees less, but starts nothing.
fn cranking(offered: &Offered<'_>) -> Option<String> {
    let job = offered.job;
    let starter = |name: &str| {
        let mut loads = job.loads.iter();
        loads.any(|load| load.is_starter() && load.name() == name)
    };
    let states = job.states.iter().zip(&offered.plan.operation.states);
    let turning = states.filter(|(state, _)| state.engine == Engine::Cranking);
    let loads = turning.flat_map(|(_, result)| &result.ledger.loads);
    let volts = loads
        .filter(|load| starter(&load.load))
        .map(|load| load.worst_v);
    let least = volts.min_by(f64::total_cmp)?;
    Some(format!("{least:.2} V"))
}

fn unprotected(offered: &Offered<'_>) -> Option<String> {
    let coverage = &offered.plan.protection.coverage;
    let bare = coverage.length(Keep::Bare);
    let all = bare + coverage.length(Keep::Protected) + coverage.length(Keep::Permitted);
    let units = offered.job.units;
    (all.m() > 0.0).then(|| match bare > Length::ZERO {
        true => format!("{} of {}", units.shown(bare), units.shown(all)),
        false => format!("none of {}", units.shown(all)),
    })
}

fn cable(offered: &Offered<'_>) -> Option<String> {
    let leads = offered.plan.route.leads.iter();
    let all: Length = leads.map(|lead| lead.cut()).sum();
    (all.m() > 0.0).then(|| offered.job.units.shown(all))
}

fn checks(offered: &Offered<'_>, column: &Column) -> String {
    let all = offered.plan.checks.len();
    match column.broken.len() {
        0 => format!("all {all} pass"),
        bad => format!("{bad} of {all} fail or are open"),
    }
}
