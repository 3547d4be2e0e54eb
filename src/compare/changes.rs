//! Two plans of one job line by line: what is replaced, added and dropped, and what that changes in
//! the work.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use super::parts::{self, PartChange};
use super::{Column, Comparison};
use crate::catalog::{Catalog, PartKind};
use crate::check::{Check, Verdict};
use crate::fittings::{Amount, End, Joint};
use crate::job::Job;
use crate::plan::Plan;

/// A job with its plan.
#[derive(Debug, Clone, Copy)]
pub struct Planned<'a> {
    /// The job.
    pub job: &'a Job,
    /// The plan made for it.
    pub plan: &'a Plan,
}

/// What differs between two plans.
#[derive(Debug, Clone, Serialize)]
pub struct Changes {
    /// What the job is.
    pub title: String,
    /// What the changes come from, in words.
    pub what: String,
    /// What comes of it, in a sentence.
    pub answer: String,
    /// The figures of both.
    pub figures: Comparison,
    /// Parts replaced, added, dropped or taken in another number.
    pub parts: Vec<PartChange>,
    /// Cut lengths.
    pub cuts: Vec<Difference>,
    /// Dies, numbers of crimps and lengths to strip.
    pub crimps: Vec<Difference>,
    /// Torques and wrenches.
    pub torques: Vec<Difference>,
    /// Holes in panels, and those for clamps.
    pub holes: Vec<Difference>,
    /// Tools and dies that only one of the plans takes.
    pub tools: Vec<Difference>,
    /// Checks that end otherwise.
    pub checks: Vec<CheckChange>,
}

/// One thing that differs.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Difference {
    /// What it is about.
    pub at: String,
    /// How it was; empty where it is new.
    pub before: String,
    /// How it is now; empty where it is gone.
    pub after: String,
}

/// A check that ends otherwise.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CheckChange {
    /// The check as it is now, or as it was where it is gone.
    pub check: Check,
    /// How it ended; nothing where it is new.
    pub before: Option<Verdict>,
    /// How it ends now; nothing where it is gone.
    pub after: Option<Verdict>,
}

impl Changes {
    /// What differs from the first plan to the second.
    pub fn between(title: &str, what: &str, plans: [Planned<'_>; 2], catalog: &Catalog) -> Self {
        let [before, after] = plans;
        let column = |name: &str, planned: Planned<'_>| {
            Column::of(name, None, planned.job, planned.plan, catalog)
        };
        let columns = vec![column("before", before), column("after", after)];
        let parts = parts::changes(before.plan, after.plan, catalog, after.job.units);
        let mut changes = Self {
            title: title.to_owned(),
            what: what.to_owned(),
            answer: String::new(),
            figures: Comparison::of(title, columns),
            parts,
            cuts: differences(cuts(before), cuts(after)),
            crimps: differences(crimps(before), crimps(after)),
            torques: differences(torques(before), torques(after)),
            holes: differences(holes(before), holes(after)),
            tools: differences(tools(before, catalog), tools(after, catalog)),
            checks: checks(&before.plan.checks, &after.plan.checks),
        };
        changes.answer = answer(&changes);
        changes
    }
}

/// What comes of it.
fn answer(changes: &Changes) -> String {
    let ready = |index: usize| {
        let column: Option<&Column> = changes.figures.columns.get(index);
        column.is_some_and(|column| column.ready)
    };
    let count = changes.parts.len();
    let parts = match count {
        0 => "No part changes".to_owned(),
        1 => "One part changes".to_owned(),
        _ => format!("{count} parts change"),
    };
    let ends = match (ready(0), ready(1)) {
        (true, true) => "the plan is still READY TO BUILD",
        (false, true) => "the plan is READY TO BUILD now",
        (true, false) => "the plan is NOT READY TO BUILD any more",
        (false, false) => "the plan is NOT READY TO BUILD, as before",
    };
    format!("{parts}, and {ends}.")
}

/// Things by what they are about; of several with one name the first.
type Told = BTreeMap<String, String>;

fn differences(before: Told, after: Told) -> Vec<Difference> {
    let names: BTreeSet<&String> = before.keys().chain(after.keys()).collect();
    let of = |told: &Told, name: &str| told.get(name).cloned().unwrap_or_default();
    let rows = names.into_iter().map(|name| Difference {
        at: name.clone(),
        before: of(&before, name),
        after: of(&after, name),
    });
    rows.filter(|row| row.before != row.after).collect()
}

fn cuts(planned: Planned<'_>) -> Told {
    let needs = planned.plan.fittings.needs.iter();
    let cables = needs.filter(|need| need.kind == PartKind::Cable);
    let lengths = cables.filter_map(|need| match need.amount {
        Amount::Length(length) => Some((need.purpose.clone(), planned.job.units.shown(length))),
        Amount::Pieces(_) => None,
    });
    lengths.collect()
}

fn crimps(planned: Planned<'_>) -> Told {
    let units = planned.job.units;
    let told = |end: &End| {
        let lead = &planned.job.lead(end.lead).name;
        let die = end
            .die
            .as_ref()
            .map_or("no die".to_owned(), |die| format!("die {die}"));
        let strip = end.strip.map_or(String::new(), |strip| {
            format!(", strip {}", units.on_tape(strip))
        });
        let at = format!("{lead} at {}", end.terminal);
        (at, format!("{die}, {} crimps{strip}", end.crimps))
    };
    planned.plan.fittings.ends.iter().map(told).collect()
}

fn torques(planned: Planned<'_>) -> Told {
    let told = |joint: &Joint| {
        let torque = joint.torque.value;
        let torque = torque.map(|torque| format!("{:.1} N·m", torque.nm()));
        let wrench = joint
            .wrench
            .as_ref()
            .map(|wrench| format!("wrench {wrench}"));
        let both: Vec<String> = torque.into_iter().chain(wrench).collect();
        (
            joint.name.clone(),
            format!("{}, {}", joint.thread, both.join(", ")),
        )
    };
    planned.plan.fittings.joints.iter().map(told).collect()
}

fn holes(planned: Planned<'_>) -> Told {
    let job = planned.job;
    let passages = planned.plan.fittings.passages.iter().filter_map(|passage| {
        let at = format!(
            "{} through {}",
            job.lead(passage.lead).name,
            job.panel(passage.panel).name
        );
        Some((at, job.units.drill(passage.hole?)))
    });
    let clamps = planned.plan.fittings.clamps.iter().filter_map(|clamp| {
        let leg = job.leg(clamp.leg);
        let at = format!(
            "clamp {} from {} towards {}",
            job.units.shown(clamp.at),
            job.place(leg.from).name,
            job.place(leg.to).name
        );
        Some((at, job.units.drill(clamp.hole?)))
    });
    passages.chain(clamps).collect()
}

fn tools(planned: Planned<'_>, catalog: &Catalog) -> Told {
    let ids = planned.plan.method.tools.iter();
    let told = ids.map(|id| {
        let part = catalog.part(id);
        let description = part.map_or(id.as_str(), |part| part.description());
        let owned = planned.plan.purchase.tools_owned.iter();
        let owned = owned.into_iter().any(|own| own == description);
        let state = if owned { "owned" } else { "to buy" };
        (description.to_owned(), state.to_owned())
    });
    told.collect()
}

/// Checks that end otherwise; those that do not pass now come first.
fn checks(before: &[Check], after: &[Check]) -> Vec<CheckChange> {
    let same =
        |a: &Check, b: &Check| a.rule == b.rule && a.subject == b.subject && a.state == b.state;
    let now = after.iter().map(|check| CheckChange {
        before: before
            .iter()
            .find(|old| same(old, check))
            .map(|old| old.verdict),
        after: Some(check.verdict),
        check: check.clone(),
    });
    let gone = before
        .iter()
        .filter(|old| !after.iter().any(|check| same(old, check)));
    let gone = gone.map(|check| CheckChange {
        before: Some(check.verdict),
        after: None,
        check: check.clone(),
    });
    let passes = |verdict: Option<Verdict>| verdict.is_none_or(|verdict| verdict == Verdict::Pass);
    let mut told: Vec<CheckChange> = now
        .chain(gone)
        // A check of a part that is new, or gone, and passes says nothing.
        .filter(|row| row.before != row.after && !(passes(row.before) && passes(row.after)))
        .collect();
    told.sort_by_key(|row| passes(row.after));
    told
}
