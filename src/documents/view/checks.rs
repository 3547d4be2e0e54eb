//! Verdicts and misfits.

use std::collections::BTreeMap;

use serde::Serialize;

use super::build::Context;
use super::volts;
use crate::check::{Check, CheckRule, Verdict};

/// One verdict.
#[derive(Debug, Clone, Serialize)]
pub struct CheckView {
    /// As the stage made it.
    #[serde(flatten)]
    pub check: Check,
    /// The figure found, with its unit.
    pub value_shown: Option<String>,
    /// The same as planned.
    pub nominal_shown: Option<String>,
    /// The limit.
    pub limit_shown: Option<String>,
    /// How far the figure is from its limit, in percent of the limit; below nothing when it is
    /// past it.
    pub spare_percent: Option<f64>,
    /// The same in words; `ample` for more than ten times the limit.
    pub spare_shown: Option<String>,
    /// Number of its source among those of its rule, from one.
    pub source_number: usize,
    /// What would better it, worked out for this plan; for verdicts on volts that do not pass.
    pub cure: Option<String>,
}

/// All verdicts of one rule.
#[derive(Debug, Clone, Serialize)]
pub struct CheckGroupView {
    /// The rule.
    pub rule: CheckRule,
    /// How many pass.
    pub pass: usize,
    /// How many fail.
    pub fail: usize,
    /// How many are open.
    pub open: usize,
    /// The publications behind the limits, each with its basis.
    pub sources: Vec<String>,
    /// Whether any verdict that passes has a figure.
    pub has_figures: bool,
    /// Whether any figure of a verdict that passes differs at its worst corner.
    pub has_worst: bool,
    /// Whether it is known of any such figure what moves it most.
    pub has_moved: bool,
    /// Verdicts without a figure that pass, those with the same note together.
    pub kept: Vec<KeptView>,
}

/// Subjects of which the same can be said.
#[derive(Debug, Clone, Serialize)]
pub struct KeptView {
    /// What can be said.
    pub note: String,
    /// The subjects.
    pub subjects: Vec<String>,
}

/// Every verdict; failing ones first, then open ones, each group in the order of the stages.
pub fn views(context: Context<'_>) -> Vec<CheckView> {
    let checks = &context.plan.checks;
    let mut known: BTreeMap<CheckRule, Vec<String>> = BTreeMap::new();
    for check in checks {
        let sources = || sources(checks, check.rule);
        known.entry(check.rule).or_insert_with(sources);
    }
    let with = |verdict| checks.iter().filter(move |check| check.verdict == verdict);
    with(Verdict::Fail)
        .chain(with(Verdict::Open))
        .chain(with(Verdict::Pass))
        .map(|check| view(context, check, &known[&check.rule]))
        .collect()
}

/// A verdict; `sources` are the different ones of its rule.
fn view(context: Context<'_>, check: &Check, sources: &[String]) -> CheckView {
    let shown = |figure: Option<f64>| figure.map(|figure| shown(figure, check.unit));
    let own = source(check);
    CheckView {
        value_shown: shown(check.value),
        nominal_shown: shown(check.nominal),
        limit_shown: shown(check.limit),
        spare_percent: spare(check),
        spare_shown: spare(check).map(spare_in_words),
        source_number: sources.iter().position(|known| *known == own).unwrap_or(0) + 1,
        cure: cure(context, check),
        check: check.clone(),
    }
}

/// A figure with its unit: volts to the millivolt, counts without decimals.
fn shown(figure: f64, unit: &str) -> String {
    let whole = (figure - figure.round()).abs() < 1e-9;
    let text = match unit {
        "V" if whole => format!("{figure:.0}"),
        "V" => format!("{figure:.3}"),
        "mm²" if figure.abs() < 10.0 && !whole => format!("{figure:.2}"),
        "s" if figure.abs() < 10.0 => format!("{figure:.2}"),
        _ if whole || figure.abs() >= 1000.0 => format!("{figure:.0}"),
        _ => format!("{figure:.1}"),
    };
    format!("{text} {unit}").trim_end().to_owned()
}

fn spare(check: &Check) -> Option<f64> {
    let (value, limit) = (check.value?, check.limit?);
    let part = (value - limit).abs() / limit.abs();
    let percent = match check.verdict {
        Verdict::Fail => -part * 100.0,
        Verdict::Pass | Verdict::Open => part * 100.0,
    };
    percent.is_finite().then_some(percent)
}

fn spare_in_words(percent: f64) -> String {
    const AMPLE_PERCENT: f64 = 1000.0;
    if percent > AMPLE_PERCENT {
        return "ample".to_owned();
    }
    format!("{percent:.0} %")
}

fn source(check: &Check) -> String {
    if check.source.is_empty() {
        return check.basis.to_string();
    }
    format!("{} ({})", check.source, check.basis)
}

/// The different sources of a rule's verdicts.
fn sources(checks: &[Check], rule: CheckRule) -> Vec<String> {
    let mut sources: Vec<String> = Vec::new();
    for check in checks.iter().filter(|check| check.rule == rule) {
        let own = source(check);
        if !sources.contains(&own) {
            sources.push(own);
        }
    }
    sources
}

/// What the ledger of a load says of verdicts on its volts.
fn cure(context: Context<'_>, check: &Check) -> Option<String> {
    let of_volts = [
        CheckRule::VoltageDrop,
        CheckRule::LeastVoltage,
        CheckRule::CrankingDrop,
    ];
    if check.verdict == Verdict::Pass || !of_volts.contains(&check.rule) {
        return None;
    }
    let state = check.state.as_ref()?;
    let mut loads = context.job.loads.iter();
    let side = |load: &str| {
        let rest = check.subject.strip_prefix(load);
        rest.is_some_and(|rest| ["", ", positive side", ", return side"].contains(&rest))
    };
    let load = loads.find(|load| side(load.name()))?;
    volts::cure(context, state, load.name())
}

/// The verdicts by rule, in the order of the stages.
pub fn groups(checks: &[Check]) -> Vec<CheckGroupView> {
    let mut rules: Vec<CheckRule> = Vec::new();
    for check in checks {
        if !rules.contains(&check.rule) {
            rules.push(check.rule);
        }
    }
    rules.into_iter().map(|rule| group(checks, rule)).collect()
}

fn group(checks: &[Check], rule: CheckRule) -> CheckGroupView {
    let own: Vec<&Check> = checks.iter().filter(|check| check.rule == rule).collect();
    let count = |verdict| own.iter().filter(|check| check.verdict == verdict).count();
    let pass = || own.iter().filter(|check| check.verdict == Verdict::Pass);
    let mut kept: Vec<KeptView> = Vec::new();
    for check in pass().filter(|check| check.value.is_none()) {
        let subject = match &check.state {
            Some(state) if *state != check.subject => format!("{} ({state})", check.subject),
            _ => check.subject.clone(),
        };
        match kept.iter_mut().find(|known| known.note == check.note) {
            Some(known) => known.subjects.push(subject),
            None => kept.push(KeptView {
                note: check.note.clone(),
                subjects: vec![subject],
            }),
        }
    }
    CheckGroupView {
        rule,
        pass: count(Verdict::Pass),
        fail: count(Verdict::Fail),
        open: count(Verdict::Open),
        sources: sources(checks, rule),
        has_figures: pass().any(|check| check.value.is_some()),
        has_worst: pass().any(|check| check.nominal.is_some()),
        has_moved: pass().any(|check| check.moved_by.is_some()),
        kept,
    }
}

/// Something that nothing in the catalog fits.
#[derive(Debug, Clone, Serialize)]
pub struct MisfitView {
    /// What is needed.
    pub wanted: String,
    /// The parts that come nearest.
    pub nearest: Vec<NearMissView>,
}

/// A part that nearly fits.
#[derive(Debug, Clone, Serialize)]
pub struct NearMissView {
    /// Id of the part.
    pub part: String,
    /// The part in words.
    pub description: String,
    /// What it lacks.
    pub lacks: Vec<String>,
}

/// Every misfit.
pub fn misfits(context: Context<'_>) -> Vec<MisfitView> {
    let misfits = context.plan.fittings.misfits.iter();
    misfits
        .map(|misfit| MisfitView {
            wanted: misfit.wanted.clone(),
            nearest: misfit
                .nearest
                .iter()
                .map(|miss| NearMissView {
                    part: miss.part.clone(),
                    description: context.described(&miss.part),
                    lacks: miss.lacks.clone(),
                })
                .collect(),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_have_the_decimals_that_their_unit_deserves() {
        assert_eq!(shown(12.0, "V"), "12 V");
        assert_eq!(shown(0.502_51, "V"), "0.503 V");
        assert_eq!(shown(0.2, "s"), "0.20 s");
        assert_eq!(shown(0.742_5, "mm²"), "0.74 mm²");
        assert_eq!(shown(1234.56, "A"), "1235 A");
        assert_eq!(shown(4.0, ""), "4");
    }

    #[test]
    fn spare_beyond_ten_times_the_limit_is_ample() {
        assert_eq!(spare_in_words(12.4), "12 %");
        assert_eq!(spare_in_words(12_695.0), "ample");
        assert_eq!(spare_in_words(-5.2), "-5 %");
    }

    #[test]
    fn subjects_of_which_the_same_is_said_stand_together() {
        let check = |subject: &str, note: &str| {
            let source = crate::catalog::Cited {
                value: (),
                citation: "a source".to_owned(),
                basis: crate::catalog::Basis::Published,
            };
            Check::holds(CheckRule::Protected, subject, true, &source).with_note(note)
        };
        let checks = [check("a", "one"), check("b", "two"), check("c", "one")];
        let groups = groups(&checks);
        assert_eq!(groups.len(), 1);
        assert_eq!(groups[0].pass, 3);
        assert_eq!(groups[0].sources, ["a source (published)"]);
        assert_eq!(groups[0].kept[0].subjects, ["a", "c"]);
        assert_eq!(groups[0].kept[1].subjects, ["b"]);
    }
}
