//! The whole stage on a small pickup.
#![allow(clippy::unwrap_used)]

use super::fixture::{PICKUP, Text};
use super::*;
use crate::check::{CheckRule, Verdict};
use crate::quantity::Current;

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
            joint.torque.is_some() && joint.wrench.is_some(),
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

/// Positive ends are covered by red boots: 33 CFR 183.445(b), ABYC E-11 11.5.4.7.5.
#[test]
fn positive_ends_outside_covers_get_red_boots_and_negative_ends_none() {
    let (bench, fittings) = PICKUP.fit();
    assert!(fittings.end("main +").boot.is_some());
    assert!(fittings.end("heater +").boot.is_some());
    assert!(
        fittings.end("front bus").boot.is_none(),
        "the bus has a cover"
    );
    assert!(fittings.end("main -").boot.is_none());
    assert!(fittings.end("earth bed").boot.is_none());
    let boots = fittings
        .needs
        .iter()
        .filter(|need| need.kind == PartKind::Boot);
    for boot in boots {
        assert_eq!(boot.colour, Some(Colour::Red));
    }
    let feed = bench.lead("main feed");
    let check = fittings.about(CheckRule::Termination, "main +");
    assert!(
        check[0]
            .subject
            .starts_with(bench.job.lead(feed).name.as_str())
    );
}

#[test]
fn copper_clad_aluminium_has_no_lug_and_the_misses_say_why() {
    let mut bench = PICKUP.bench();
    let clad = bench
        .catalog
        .cables
        .iter()
        .find(|cable| cable.material == crate::catalog::ConductorMaterial::CladAluminium);
    let id = clad.unwrap().id.value.clone();
    bench.recable("earth", &id);
    let fittings = bench.fit();
    assert_eq!(
        fittings.verdict(CheckRule::Termination, "earth, section 1"),
        Verdict::Fail
    );
    assert!(fittings.end("earth bed").lug.is_none());
    let misfit = fittings
        .misfits
        .iter()
        .find(|misfit| misfit.wanted.contains("a lug"));
    let reasons = misfit.unwrap().nearest[0].lacks.join("; ");
    assert!(reasons.contains("copper-clad aluminium"), "{reasons}");
    // The battery terminal does not fail too: no stud would cure the cable.
    assert_eq!(
        fittings.end("main -").stud,
        Some(crate::quantity::Thread::M8)
    );
}

#[test]
fn a_lug_for_50_mm2_is_not_taken_for_1_0_awg() {
    let mut bench = PICKUP.bench();
    bench
        .catalog
        .lugs
        .retain(|lug| !lug.sizes.contains(&crate::quantity::ConductorSize::Awg(0)));
    let awg = bench.catalog.cables.iter().find(|cable| {
        cable.size == crate::quantity::ConductorSize::Awg(0)
            && cable.material == crate::catalog::ConductorMaterial::Copper
    });
    let id = awg.unwrap().id.value.clone();
    bench.recable("earth", &id);
    let fittings = bench.fit();
    assert_eq!(
        fittings.verdict(CheckRule::Termination, "earth, section 1"),
        Verdict::Fail
    );
    let misfit = fittings
        .misfits
        .iter()
        .find(|misfit| misfit.wanted.contains("1/0 AWG"));
    let lacks = &misfit.unwrap().nearest[0].lacks;
    assert!(
        lacks.iter().any(|reason| reason.contains("not 1/0 AWG")),
        "{lacks:?}"
    );
}

/// M8 brass carries 100 A: a terminal-bolt maker's table.
#[test]
fn a_small_brass_bus_in_the_path_of_300_a_fails() {
    let text = Text {
        parts: "part = 'bus-brass-4-m8'",
        ..PICKUP
    };
    let mut bench = text.bench();
    for lead in ["main feed", "heater feed"] {
        let id = bench.lead(lead);
        bench.sizing.leads[id.0].continuous = Current::from_a(300.0);
    }
    let fittings = bench.fit();
    assert_eq!(fittings.verdict(CheckRule::Bus, "front bus"), Verdict::Fail);
    assert_eq!(
        fittings.verdict(CheckRule::StudCurrent, "front bus"),
        Verdict::Fail
    );
    let check = fittings.about(CheckRule::StudCurrent, "front bus")[0];
    assert_eq!((check.value, check.limit), (Some(300.0), Some(100.0)));
    assert!(check.note.contains("larger stud"));
}

#[test]
fn the_smallest_bus_that_suffices_is_taken_and_keeps_a_stud_free() {
    let (bench, fittings) = PICKUP.fit();
    let bus = &fittings.buses[0];
    let part = bench
        .catalog
        .buses
        .iter()
        .find(|row| Some(&row.id.value) == bus.part.as_ref());
    let part = part.unwrap();
    let used = bus.studs.iter().filter(|stud| !stud.is_empty()).count();
    assert_eq!(used, 2);
    assert!(part.studs as usize >= used + bench.job.rules.spare_studs.value as usize);
    assert!(part.rating.a() >= 60.0);
    for smaller in bench
        .catalog
        .buses
        .iter()
        .filter(|row| row.rating < part.rating)
    {
        let stud = bench.catalog.stud(smaller.stud, smaller.material).unwrap();
        let lugs = ["main feed", "heater feed"].iter().all(|lead| {
            let id = &bench.sizing.leads[bench.lead(lead).0].cable;
            let cable = bench
                .catalog
                .cables
                .iter()
                .find(|row| *row.id == *id)
                .unwrap();
            let mut lugs = bench.catalog.lugs.iter();
            lugs.any(|lug| lug.fits(cable) && lug.stud == smaller.stud)
        });
        let suffices =
            smaller.studs >= 3 && smaller.rating.a() >= 60.1 && stud.current.a() >= 60.1 && lugs;
        assert!(!suffices, "{} is smaller", *smaller.id);
    }
}

#[test]
fn a_bus_that_none_is_large_enough_for_leaves_its_ends_open() {
    let mut bench = PICKUP.bench();
    let id = bench.lead("main feed");
    bench.sizing.leads[id.0].continuous = Current::from_a(5000.0);
    let fittings = bench.fit();
    assert_eq!(fittings.verdict(CheckRule::Bus, "front bus"), Verdict::Fail);
    assert!(fittings.buses[0].part.is_none() && fittings.buses[0].stud.is_none());
    assert_eq!(
        fittings.verdict(CheckRule::Termination, "at front bus"),
        Verdict::Open
    );
    assert!(
        fittings
            .misfits
            .iter()
            .any(|misfit| misfit.wanted.starts_with("a bus for 2 lugs"))
    );
}

#[test]
fn a_panel_too_thick_for_every_stud_names_the_thickness_in_the_nearest_miss() {
    let (_, fittings) = Text {
        panel: "thickness = '80 mm'\nmaterial = 'plywood'",
        ..PICKUP
    }
    .fit();
    assert_eq!(
        fittings.verdict(CheckRule::Crossing, "main feed through bulkhead"),
        Verdict::Fail
    );
    assert!(fittings.passages[0].part.is_none());
    let misfit = fittings
        .misfits
        .iter()
        .find(|misfit| misfit.wanted.contains("feed-through"));
    let lacks = &misfit.unwrap().nearest[0].lacks;
    assert_eq!(lacks.len(), 1, "{lacks:?}");
    assert!(lacks[0].starts_with("passes panels up to") && lacks[0].ends_with("this one is 80 mm"));
}

#[test]
fn a_grommet_is_fitted_where_the_user_insists_and_says_to_clamp_the_cable() {
    let (_, fittings) = Text {
        panel: "thickness = '1 mm'\nmaterial = 'steel'\npassage = 'grommet'",
        ..PICKUP
    }
    .fit();
    assert_eq!(fittings.passages[0].kind, PartKind::Grommet);
    assert!(fittings.passages[0].hole.is_some());
    let check = fittings.about(CheckRule::Crossing, "main feed")[0];
    assert!(check.verdict == Verdict::Pass && check.note.contains("clamp it on both sides"));
}

#[test]
fn a_fifth_lug_on_one_stud_fails_where_four_are_allowed() {
    let lead = |number: usize| {
        format!("[[lead]]\nname = 'earth {number}'\nfrom = 'main -'\nto = 'earth bed'\n")
    };
    let bench = |count: usize| {
        let earths: String = (0..count).map(lead).collect();
        let text = format!(
            "[[lead]]\nname = 'feed'\nfrom = 'main +'\nto = 'front bus'\n\
             [[lead]]\nname = 'heater feed'\nfrom = 'front bus'\nto = 'heater +'\n{earths}"
        );
        Text {
            leads: Box::leak(text.into_boxed_str()),
            ..PICKUP
        }
        .fit()
        .1
    };
    let (four, five) = (bench(4), bench(5));
    assert_eq!(
        four.verdict(CheckRule::LugsPerStud, "earth bed"),
        Verdict::Pass
    );
    assert_eq!(
        five.verdict(CheckRule::LugsPerStud, "earth bed"),
        Verdict::Fail
    );
    let joint = five
        .joints
        .iter()
        .find(|joint| joint.name == "earth bed")
        .unwrap();
    assert_eq!(joint.leads.len(), 5);
}

#[test]
fn the_widest_palm_lies_at_the_foot_of_the_stack() {
    let mut bench = Text {
        leads: "[[lead]]\nname = 'feed'\nfrom = 'main +'\nto = 'front bus'\n\
                [[lead]]\nname = 'heater feed'\nfrom = 'front bus'\nto = 'heater +'\n\
                [[lead]]\nname = 'thin earth'\nfrom = 'main -'\nto = 'earth bed'\n\
                [[lead]]\nname = 'thick earth'\nfrom = 'main -'\nto = 'earth bed'\n",
        ..PICKUP
    }
    .bench();
    let family = bench
        .catalog
        .cables
        .iter()
        .filter(|cable| cable.family == "thin-wall");
    let mut family: Vec<_> = family.collect();
    family.sort_by(|a, b| a.size.cmp(&b.size));
    let thick = family.last().unwrap().id.value.clone();
    bench.recable("thick earth", &thick);
    let fittings = bench.fit();
    let joint = fittings
        .joints
        .iter()
        .find(|joint| joint.name == "earth bed")
        .unwrap();
    assert_eq!(joint.leads, ["thick earth", "thin earth"]);
}

#[test]
fn a_chassis_point_gets_bolt_nut_and_washers_and_a_load_gets_none() {
    let (bench, fittings) = PICKUP.fit();
    let pieces = |purpose: &str, kind: crate::catalog::FastenerKind| -> u32 {
        let needs = fittings.needs.iter().filter(|need| {
            let fastener = bench
                .catalog
                .fasteners
                .iter()
                .find(|row| *row.id == need.part);
            need.purpose == purpose && fastener.is_some_and(|row| row.kind == kind)
        });
        needs
            .map(|need| match need.amount {
                Amount::Pieces(pieces) => pieces,
                Amount::Length(_) => 0,
            })
            .sum()
    };
    use crate::catalog::FastenerKind::{Bolt, Nut, PlainWasher, SpringWasher};
    let kinds = [Bolt, Nut, PlainWasher, SpringWasher];
    assert_eq!(kinds.map(|kind| pieces("`earth bed`", kind)), [1, 1, 2, 1]);
    assert_eq!(kinds.map(|kind| pieces("`heater +`", kind)), [0; 4]);
}

/// Brass M8: 6 N.m, a terminal-bolt maker's table; a load's own stud is its maker's affair.
#[test]
fn torque_comes_from_the_table_for_own_studs_and_is_guidance_for_others() {
    let (_, fittings) = Text {
        parts: "part = 'bus-brass-4-m8'",
        ..PICKUP
    }
    .fit();
    let joint = |name: &str| {
        let mut joints = fittings.joints.iter();
        joints.find(|joint| joint.name.starts_with(name)).unwrap()
    };
    let bus = joint("front bus, stud 1");
    assert_eq!(bus.torque.unwrap().nm(), 6.0);
    assert_eq!(bus.wrench.as_deref(), Some("13 mm"));
    assert!(
        joint("heater +")
            .torque_source
            .contains("the maker's figure decides")
    );
}

#[test]
fn a_stud_that_no_table_knows_has_no_torque_and_says_so() {
    let mut bench = PICKUP.bench();
    bench
        .catalog
        .studs
        .retain(|row| row.thread != crate::quantity::Thread::M10);
    let fittings = bench.fit();
    let joint = fittings
        .joints
        .iter()
        .find(|joint| joint.name == "earth bed")
        .unwrap();
    assert!(joint.torque.is_none());
    assert!(joint.torque_source.starts_with("open: "));
    assert_eq!(
        fittings.verdict(CheckRule::StudCurrent, "earth bed"),
        Verdict::Open
    );
}
