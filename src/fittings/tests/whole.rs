//! The whole stage on a plain pickup.
#![allow(clippy::unwrap_used)]

use crate::catalog::PartKind;
use crate::check::{Check, CheckRule, Verdict};
use crate::fittings::Amount;
use crate::fittings::fixture::PICKUP;

#[test]
fn a_plain_pickup_is_fitted_without_misfit_or_failing_check() {
    let (bench, fittings) = PICKUP.fit();
    assert!(fittings.misfits.is_empty(), "{:#?}", fittings.misfits);
    let bad: Vec<&Check> = fittings
        .checks
        .iter()
        .filter(|check| check.verdict != Verdict::Pass)
        .collect();
    assert!(bad.is_empty(), "{bad:#?}");
    let sections: usize = bench
        .route
        .leads
        .iter()
        .map(|lead| lead.sections.len())
        .sum();
    assert_eq!(fittings.ends.len(), 2 * sections);
    for end in &fittings.ends {
        assert!(
            end.lug.is_some() && end.die.is_some() && end.sleeve.is_some(),
            "{end:?}"
        );
        assert!(end.crimps > 0 && end.strip.is_some());
    }
    for joint in &fittings.joints {
        assert!(
            joint.torque.value.is_some() && joint.wrench.is_some(),
            "{joint:?}"
        );
    }
}

#[test]
fn the_same_job_gives_the_same_bytes() {
    let once = serde_json::to_string(&PICKUP.fit().1).unwrap();
    let again = serde_json::to_string(&PICKUP.fit().1).unwrap();
    assert_eq!(once, again);
}

#[test]
fn every_need_and_tool_is_in_the_catalog_with_its_kind_and_colour() {
    let (bench, fittings) = PICKUP.fit();
    for need in &fittings.needs {
        let part = bench.catalog.part(&need.part).unwrap();
        assert_eq!(part.kind(), need.kind, "{need:?}");
        let coloured = [PartKind::Cable, PartKind::Sleeve, PartKind::Boot];
        assert_eq!(
            need.colour.is_some(),
            coloured.contains(&need.kind),
            "{need:?}"
        );
        assert!(!need.purpose.is_empty());
    }
    let mut once = fittings.tools.clone();
    once.dedup();
    assert_eq!(once, fittings.tools);
    for id in &fittings.tools {
        let kind = bench.catalog.part(id).unwrap().kind();
        assert!(matches!(kind, PartKind::Tool | PartKind::Die), "{id}");
    }
    for id in [
        "press-hydraulic",
        "drill-cordless",
        "multimeter",
        "safety-glasses",
    ] {
        assert!(fittings.tools.iter().any(|tool| tool == id), "{id}");
    }
}

#[test]
fn cable_is_taken_in_one_length_for_each_section() {
    let (bench, fittings) = PICKUP.fit();
    let cables = fittings
        .needs
        .iter()
        .filter(|need| need.kind == PartKind::Cable);
    let lengths: Vec<Amount> = cables.map(|need| need.amount).collect();
    let ways = bench.route.leads.iter();
    let cuts: Vec<Amount> = ways
        .flat_map(|lead| &lead.sections)
        .map(|section| Amount::Length(section.cut))
        .collect();
    assert_eq!(lengths, cuts);
}

#[test]
fn leads_without_a_cable_and_states_without_a_flow_leave_open_checks_and_no_panic() {
    let mut bench = PICKUP.bench();
    bench.sizing.leads.clear();
    bench.operation.states.clear();
    bench.protection.guards.clear();
    let fittings = bench.fit();
    assert_eq!(
        fittings.verdict(CheckRule::Termination, "main feed"),
        Verdict::Open
    );
    assert!(fittings.ends.iter().all(|end| end.lug.is_none()));
}
