//! What the work will give, in the figures that a customer asks for, each at its worst.

use serde::Serialize;

use super::Offered;
use crate::check::{CheckRule, Verdict};
use crate::job::Engine;
use crate::protection::Keep;

/// One figure.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Expected {
    /// What it is; the same words in every option.
    pub what: &'static str,
    /// The figure with its unit; nothing where the job has no such thing.
    pub figure: Option<String>,
}

/// The figures of a plan, always the same ones in the same order.
pub fn expected(offered: &Offered<'_>) -> Vec<Expected> {
    let figures: [(&'static str, Option<String>); 5] = [
        ("Volts at the starter while it cranks, at worst", cranking(offered)),
        ("Hottest cable, of what it may have", hottest(offered)),
        ("Positive cable that nothing protects", unprotected(offered)),
        ("Cable in all", cable(offered)),
        ("Checks", checks(offered)),
    ];
    let figures = figures.into_iter();
    figures.map(|(what, figure)| Expected { what, figure }).collect()
}

fn cranking(offered: &Offered<'_>) -> Option<String> {
    let job = offered.job;
    let starter = |name: &str| {
        let mut loads = job.loads.iter();
        loads.any(|load| load.is_starter() && load.name() == name)
    };
    let states = job.states.iter().zip(&offered.plan.operation.states);
    let cranking = states.filter(|(state, _)| state.engine == Engine::Cranking);
    let loads = cranking.flat_map(|(_, result)| &result.ledger.loads);
    let volts = loads.filter(|load| starter(&load.load)).map(|load| load.worst_v);
    let least = volts.min_by(f64::total_cmp)?;
    Some(format!("{least:.2} V"))
}

fn hottest(offered: &Offered<'_>) -> Option<String> {
    let checks = offered.plan.checks.iter();
    let heat = checks.filter(|check| check.rule == CheckRule::Heat);
    let figures = heat.filter_map(|check| check.value.zip(check.limit));
    let (found, limit) = figures.max_by(|a, b| a.0.total_cmp(&b.0))?;
    Some(format!("{found:.0} of {limit:.0} °C"))
}

fn unprotected(offered: &Offered<'_>) -> Option<String> {
    let coverage = &offered.plan.protection.coverage;
    let bare = coverage.length(Keep::Bare);
    let all = bare + coverage.length(Keep::Protected) + coverage.length(Keep::Permitted);
    (all.m() > 0.0).then(|| format!("{:.1} of {:.1} m", bare.m(), all.m()))
}

fn cable(offered: &Offered<'_>) -> Option<String> {
    let leads = offered.plan.route.leads.iter();
    let metres: f64 = leads.map(|lead| lead.cut().m()).sum();
    (metres > 0.0).then(|| format!("{metres:.1} m"))
}

fn checks(offered: &Offered<'_>) -> Option<String> {
    let checks = &offered.plan.checks;
    let bad = checks.iter().filter(|check| check.verdict != Verdict::Pass).count();
    Some(match bad {
        0 => format!("all {} pass", checks.len()),
        bad => format!("{bad} of {} fail or are open", checks.len()),
    })
}
