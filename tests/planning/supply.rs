//! What did not arrive: without any one of its parts a job is planned anew, or told what is missing.

use std::collections::BTreeMap;

use longlead::catalog::{Part, PartKind};
use longlead::check::{CheckRule, Verdict};
use longlead::diagnostic::Spanned;
use longlead::job::Job;
use longlead::plan::{self, Extras, Inputs, Plan, Status};
use longlead::shop::ShopFile;

use super::support::{Planned, WORKSHOP, files};

fn with_shop(job: &Job, shop: &ShopFile) -> Plan {
    let inputs = Inputs {
        job,
        shop,
        catalog: &WORKSHOP.catalog,
        library: &WORKSHOP.library,
    };
    plan::make(inputs, Extras::NONE)
}

fn named(id: &str) -> Spanned<String> {
    Spanned {
        value: id.to_owned(),
        span: WORKSHOP.shop.span,
    }
}

/// The workshop without a part: none to be had, and none on hand.
fn without(id: &str) -> ShopFile {
    let mut shop = WORKSHOP.shop.clone();
    shop.unavailable.push(named(id));
    shop.stock.retain(|stock| stock.part.value != id);
    shop.tools.retain(|tool| tool.value != id);
    shop
}

/// What comes of a plan for want of a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Outcome {
    /// Another does its work.
    Replaced,
    /// Nothing does, and the plan says so.
    Missing,
}

/// Kinds of part that stand in for each other.
fn family(kind: PartKind) -> PartKind {
    match kind {
        PartKind::Breaker | PartKind::Holder => PartKind::Fuse,
        PartKind::Grommet => PartKind::FeedThrough,
        // With a press or die its lugs go, and lugs for another press take their place.
        PartKind::Die | PartKind::Tool => PartKind::Lug,
        other => other,
    }
}

/// Pieces, or metres, of every part of a family.
fn amounts(plan: &Plan, kind: PartKind) -> BTreeMap<&str, f64> {
    let mut amounts = BTreeMap::new();
    let kind_of = |id: &str| WORKSHOP.catalog.part(id).map(|part| family(part.kind()));
    for need in &plan.fittings.needs {
        if family(need.kind) == kind {
            *amounts.entry(need.part.as_str()).or_insert(0.0) += match need.amount {
                longlead::fittings::Amount::Pieces(pieces) => f64::from(pieces),
                longlead::fittings::Amount::Length(length) => length.m(),
            };
        }
    }
    let needed: Vec<&str> = amounts.keys().copied().collect();
    let tools = plan.parts().into_iter().filter(|id| !needed.contains(id));
    amounts.extend(
        tools
            .filter(|id| kind_of(id) == Some(kind))
            .map(|id| (id, 1.0)),
    );
    amounts
}

/// Plans a job without a part, and holds that the plan hides nothing.
fn knock_out(job: &Job, base: &Plan, id: &str) -> Outcome {
    let plan = with_shop(job, &without(id));
    let part = WORKSHOP.catalog.part(id).unwrap();
    if plan.status() == Status::Ready {
        assert!(
            !plan.parts().contains(id),
            "{}: {id} is used all the same",
            job.title
        );
        let kind = family(part.kind());
        let (before, after) = (amounts(base, kind), amounts(&plan, kind));
        let more = after
            .iter()
            .any(|(id, amount)| *amount > before.get(id).copied().unwrap_or(0.0));
        assert!(more, "{}: nothing does the work of {id}", job.title);
        return Outcome::Replaced;
    }
    let mut told = plan.checks.iter();
    let told = told.any(|check| {
        let of_part = check.subject.contains(part.description()) || check.note.contains(id);
        check.rule == CheckRule::Supply && check.verdict != Verdict::Pass && of_part
    });
    let broken = plan
        .checks
        .iter()
        .filter(|check| check.verdict != Verdict::Pass);
    let broken: Vec<String> = broken
        .map(|check| format!("{} {}: {}", check.rule, check.subject, check.note))
        .collect();
    assert!(told, "{}: no check tells of {id}: {broken:#?}", job.title);
    Outcome::Missing
}

/// A few parts of every kind are left out; `-- --ignored` leaves out every part of every demo job.
#[test]
fn without_a_part_the_plan_is_ready_or_tells_of_it() {
    const EACH: usize = 23;
    sweep(|position| position % EACH == 0);
}

#[test]
#[ignore = "plans each demo job some hundred times"]
fn without_any_single_part_the_plan_is_ready_or_tells_of_it() {
    sweep(|_| true);
}

fn sweep(chosen: impl Fn(usize) -> bool) {
    for path in files("templates/jobs") {
        let base = Planned::of_file(&path);
        assert_eq!(base.plan.status(), Status::Ready);
        let mut missing = Vec::new();
        let mut tried = 0;
        for (position, id) in base.plan.parts().into_iter().enumerate() {
            if !chosen(position) {
                continue;
            }
            tried += 1;
            if knock_out(&base.job, &base.plan, id) == Outcome::Missing {
                missing.push(id);
            }
        }
        let replaced = tried - missing.len();
        println!(
            "{}: {tried} parts left out, {replaced} replaced",
            base.job.title
        );
        println!("  without a substitute: {}", missing.join(", "));
        assert!(replaced > 0);
    }
}

/// A part that the shop cannot buy but has enough of stays in the plan.
#[test]
fn what_is_on_hand_is_used_although_it_is_not_to_be_had() {
    let path = &files("templates/jobs")[0];
    let base = Planned::of_file(path);
    let label = amounts(&base.plan, PartKind::Label);
    let (id, count) = label.iter().next().unwrap();
    let stock = |pieces: u32| {
        let mut shop = without(id);
        let text = format!("name = \"Shed\"\nstock = [{{ part = \"{id}\", pieces = {pieces} }}]");
        shop.stock.extend(super::support::shop(&text).stock);
        shop
    };
    let enough = with_shop(&base.job, &stock(*count as u32));
    assert!(enough.parts().contains(id));
    assert_eq!(enough.status(), Status::Ready);
    let short = with_shop(&base.job, &stock(1));
    assert!(!short.parts().contains(id), "one label does not go round");
}

/// The job names its master switch: the program must not take another unasked.
#[test]
fn a_part_that_the_job_names_is_not_replaced_but_told_of() {
    let path = files("templates/jobs");
    let pickup = path
        .iter()
        .find(|path| path.ends_with("patrol-pickup.toml"));
    let base = Planned::of_file(pickup.unwrap());
    let id = base.job.devices[0].given.part.value.as_str();
    assert_eq!(knock_out(&base.job, &base.plan, id), Outcome::Missing);
    let plan = with_shop(&base.job, &without(id));
    assert!(plan.parts().contains(id));
}

#[test]
fn a_preferred_part_is_taken_wherever_it_fits() {
    let base = Planned::of_file(&files("templates/jobs")[0]);
    let used = base.plan.parts();
    let wider = |row: &&longlead::catalog::Sleeve| !used.contains(row.id());
    let mut taken = 0;
    for sleeve in WORKSHOP.catalog.sleeves.iter().filter(wider) {
        let mut shop = WORKSHOP.shop.clone();
        shop.preferred.push(named(sleeve.id()));
        let plan = with_shop(&base.job, &shop);
        assert_eq!(plan.status(), Status::Ready, "{}", sleeve.id());
        taken += usize::from(plan.parts().contains(sleeve.id()));
        if taken > 0 {
            break;
        }
    }
    assert_eq!(taken, 1, "no sleeve was taken for being preferred");
}
