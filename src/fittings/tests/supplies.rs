//! Consumables and tools.
#![allow(clippy::unwrap_used)]

use crate::catalog::{PartKind, ToolUse};
use crate::check::{CheckRule, Verdict};
use crate::fittings::Amount;
use crate::fittings::fixture::PICKUP;

#[test]
fn consumables_are_bought_by_the_container_and_cover_every_use() {
    let (bench, mut_fittings) = PICKUP.fit();
    let needs = mut_fittings.needs.iter();
    let consumables: Vec<_> = needs
        .filter(|need| need.kind == PartKind::Consumable)
        .collect();
    assert_eq!(consumables.len(), 4);
    for need in consumables {
        let rows = &bench.catalog.consumables;
        let row = rows.iter().find(|row| *row.id == need.part).unwrap();
        let Amount::Pieces(pieces) = need.amount else {
            unreachable!("a consumable is counted");
        };
        let words: Vec<&str> = need.purpose.split(' ').collect();
        let uses: u32 = words.iter().find_map(|word| word.parse().ok()).unwrap();
        assert!(
            pieces * row.uses >= uses && (pieces - 1) * row.uses < uses,
            "{need:?}"
        );
    }
}

#[test]
fn every_nut_has_its_wrench_and_every_hole_its_drill() {
    let (bench, fittings) = PICKUP.fit();
    let sizes = |purpose: ToolUse| -> Vec<f64> {
        let tools = bench.catalog.tools.iter();
        tools
            .filter(|tool| tool.purpose == purpose && fittings.tools.contains(&tool.id.value))
            .filter_map(|tool| tool.size.map(|size| size.mm()))
            .collect()
    };
    let (wrenches, bits) = (sizes(ToolUse::Wrench), sizes(ToolUse::DrillBit));
    let has = |sizes: &[f64], wanted: f64| sizes.iter().any(|size| (size - wanted).abs() < 0.05);
    for joint in &fittings.joints {
        let row = bench.catalog.thread(joint.thread).unwrap();
        assert!(has(&wrenches, row.across_flats.mm()), "{joint:?}");
    }
    let clamps = fittings.clamps.iter().filter_map(|clamp| clamp.hole);
    let passages = fittings.passages.iter().filter_map(|passage| passage.hole);
    for hole in clamps.chain(passages) {
        assert!(has(&bits, hole.mm()), "{hole:?}");
    }
}

#[test]
fn torque_wrenches_cover_every_torque_and_a_gap_is_open() {
    let mut bench = PICKUP.bench();
    assert!(
        bench
            .fit()
            .tools
            .iter()
            .any(|tool| tool == "torque-wrench-25")
    );
    bench
        .catalog
        .tools
        .retain(|tool| tool.id.value == "torque-driver-5" || tool.purpose != ToolUse::TorqueWrench);
    let fittings = bench.fit();
    assert_eq!(
        fittings.verdict(CheckRule::Supply, "torque wrench for 6 N·m"),
        Verdict::Open
    );
}

#[test]
fn a_missing_drill_is_open() {
    let mut bench = PICKUP.bench();
    bench
        .catalog
        .tools
        .retain(|tool| tool.purpose != ToolUse::DrillBit);
    assert_eq!(
        bench.fit().verdict(CheckRule::Supply, "drill bit"),
        Verdict::Open
    );
}

#[test]
fn a_job_without_leads_takes_nothing() {
    let mut bench = PICKUP.bench();
    bench.job.leads.clear();
    bench.job.buses.clear();
    bench.route.leads.clear();
    bench.route.supports.clear();
    bench.route.bundles.clear();
    bench.protection.guards.clear();
    let fittings = bench.fit();
    assert!(fittings.needs.is_empty() && fittings.tools.is_empty() && fittings.checks.is_empty());
}
