//! Clamps, sleeving, bends and labels.
#![allow(clippy::unwrap_used)]

use crate::catalog::{PartKind, SleevingKind};
use crate::check::{CheckRule, Verdict};
use crate::fittings::Amount;
use crate::fittings::fixture::{PICKUP, Text};
use crate::job::Access;
use crate::quantity::Length;

#[test]
fn each_support_has_one_clamp_that_grips_its_cable_and_stands_the_heat() {
    let (bench, fittings) = PICKUP.fit();
    assert_eq!(fittings.clamps.len(), bench.route.supports.len());
    for clamp in &fittings.clamps {
        let rows = bench.catalog.clamps.iter();
        let part = rows
            .clone()
            .find(|row| Some(&row.id.value) == clamp.part.as_ref())
            .unwrap();
        assert!(part.grips(clamp.diameter) && part.rating.c() >= 70.0);
        let hole = bench.catalog.thread(part.bolt).unwrap().hole;
        assert_eq!(clamp.hole, Some(hole));
        assert_eq!(clamp.leads, ["main feed"]);
    }
}

/// Two cables lie side by side; more by 1.2 times the root of the sum of squares.
#[test]
fn cables_on_one_leg_are_bundled_and_split_only_where_no_clamp_is_wide_enough() {
    let leads = "[[lead]]\nname = 'a'\nfrom = 'main +'\nto = 'front bus'\n\
        [[lead]]\nname = 'b'\nfrom = 'main +'\nto = 'front bus'\n\
        [[lead]]\nname = 'heater feed'\nfrom = 'front bus'\nto = 'heater +'\n\
        [[lead]]\nname = 'earth'\nfrom = 'main -'\nto = 'earth bed'\n";
    let mut bench = Text { leads, ..PICKUP }.bench();
    let diameters = ["a", "b"].map(|name| bench.sizing.leads[bench.lead(name).0].outer_diameter);
    let fittings = bench.fit();
    let clamp = &fittings.clamps[0];
    assert!((clamp.diameter.mm() - (diameters[0] + diameters[1]).mm()).abs() < 1e-9);
    assert_eq!(clamp.leads.len(), 2);

    let most = diameters[0].max(diameters[1]);
    bench
        .catalog
        .clamps
        .retain(|row| row.max_diameter.mm() < most.mm() * 1.5);
    let fittings = bench.fit();
    assert_eq!(fittings.clamps.len(), 2 * bench.route.supports.len());
    assert_eq!(
        fittings.verdict(CheckRule::Clamp, "tray to block"),
        Verdict::Pass
    );

    bench.catalog.clamps.clear();
    let fittings = bench.fit();
    assert_eq!(
        fittings.verdict(CheckRule::Clamp, "tray to block"),
        Verdict::Fail
    );
    assert!(
        fittings
            .misfits
            .iter()
            .any(|misfit| misfit.wanted.starts_with("a clamp for"))
    );
}

#[test]
fn a_leg_that_no_hand_gets_behind_takes_rivet_nuts_and_their_hole() {
    let mut bench = PICKUP.bench();
    bench.job.legs[0].access = Access::Hard;
    let fittings = bench.fit();
    let ids = |needs: &str| {
        fittings
            .needs
            .iter()
            .any(|need| need.part.starts_with(needs))
    };
    assert!(ids("rivet-nut"));
    assert!(fittings.tools.iter().any(|tool| tool == "rivet-nut-setter"));
    let clamp = &fittings.clamps[0];
    let rows = &bench.catalog.clamps;
    let part = rows
        .iter()
        .find(|row| Some(&row.id.value) == clamp.part.as_ref())
        .unwrap();
    assert!(clamp.hole.unwrap() > bench.catalog.thread(part.bolt).unwrap().hole);
}

const HURTS: &str = "hazard = [{ kind = 'chafe' }, { kind = 'road debris' }, \
                     { kind = 'hot surface', gap = '300 mm' }]";

/// 33 CFR 183.445(a): protect conductors against abrasion.
#[test]
fn sleeving_guards_against_edges_and_heat_with_a_tenth_to_spare() {
    let (bench, fittings) = Text {
        leg: HURTS,
        ..PICKUP
    }
    .fit();
    let kinds: Vec<SleevingKind> = fittings
        .sleevings
        .iter()
        .map(|sleeving| {
            let rows = bench.catalog.sleevings.iter();
            let mut found = rows.filter(|row| Some(&row.id.value) == sleeving.part.as_ref());
            found.next().unwrap().kind
        })
        .collect();
    assert_eq!(kinds, [SleevingKind::Abrasion, SleevingKind::Heat]);
    assert_eq!(fittings.sleevings[0].against, "chafe, road debris");
    assert!((fittings.sleevings[0].length.m() - 2.2).abs() < 1e-9);
    assert_eq!(
        fittings.verdict(CheckRule::Sleeving, "main feed"),
        Verdict::Pass
    );
}

#[test]
fn a_sheathed_leg_needs_no_sleeving_and_a_missing_sleeving_fails() {
    let mut bench = Text {
        leg: HURTS,
        ..PICKUP
    }
    .bench();
    bench.job.legs[0].sheathed = true;
    assert!(bench.fit().sleevings.is_empty());
    bench.job.legs[0].sheathed = false;
    bench
        .catalog
        .sleevings
        .retain(|row| row.kind == SleevingKind::Abrasion);
    let fittings = bench.fit();
    assert_eq!(
        fittings.verdict(CheckRule::Sleeving, "main feed"),
        Verdict::Fail
    );
    assert!(fittings.sleevings[1].part.is_none());
}

#[test]
fn a_bend_tighter_than_the_cable_allows_fails_and_an_unmeasured_one_says_the_limit() {
    let mut bench = PICKUP.bench();
    let id = bench.lead("main feed");
    bench.route.leads[id.0].tightest_bend = Some(Length::from_mm(5.0));
    let fittings = bench.fit();
    assert_eq!(
        fittings.verdict(CheckRule::BendRadius, "main feed"),
        Verdict::Fail
    );
    let earth = fittings.about(CheckRule::BendRadius, "earth")[0];
    assert!(earth.verdict == Verdict::Pass);
    assert!(earth.note.starts_with("make no bend tighter than"));
}

/// The gap is measured to the cable; a clamp for thicker ones stands out from it.
#[test]
fn a_clamp_wider_than_its_cable_takes_its_room_from_the_gap() {
    let leg = "hazard = [{ kind = 'fuel line', gap = '400 mm' }]";
    let mut bench = Text { leg, ..PICKUP }.bench();
    let limit = bench.job.rules.gap_fuel_line.value;
    let mut at = |gap| {
        bench.job.legs[0].hazards[0].gap = Some(gap);
        let fittings = bench.fit();
        fittings.verdict(CheckRule::Clearance, "clamps at tray to block")
    };
    assert_eq!(at(limit), Verdict::Fail);
    assert_eq!(at(limit + Length::from_mm(30.0)), Verdict::Pass);
}

#[test]
fn each_cable_gets_two_labels_that_fit_it() {
    let (bench, fittings) = PICKUP.fit();
    let labels = fittings
        .needs
        .iter()
        .filter(|need| need.kind == PartKind::Label);
    let labels: Vec<_> = labels.collect();
    assert_eq!(labels.len(), bench.job.leads.len());
    for (label, way) in labels.iter().zip(&bench.route.leads) {
        let both_ends = 2 * way.sections.len() as u32;
        assert_eq!(label.amount, Amount::Pieces(both_ends), "{}", label.purpose);
    }
}
