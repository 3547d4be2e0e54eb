//! Buses, studs, stacks and torques.
#![allow(clippy::unwrap_used)]

use crate::catalog::FastenerKind;
use crate::check::{CheckRule, Verdict};
use crate::fittings::fixture::{PICKUP, Text};
use crate::fittings::{Amount, TorqueStanding};
use crate::quantity::{Current, Thread};

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
        .filter(|row| row.rating < part.rating && row.stud.to_string().starts_with('M'))
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
            smaller.studs >= 3 && smaller.rating.a() >= 63.0 && stud.current.a() >= 63.0 && lugs;
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
    family.sort_by_key(|cable| cable.size);
    let thick = family.last().unwrap().id.value.clone();
    let thin = family[0].id.value.clone();
    bench.recable("thick earth", &thick);
    bench.recable("thin earth", &thin);
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
    let pieces = |purpose: &str, kind: FastenerKind| -> u32 {
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
    use FastenerKind::{Bolt, Nut, PlainWasher, SpringWasher};
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
    assert_eq!(bus.torque.value.unwrap().nm(), 6.0);
    assert_eq!(bus.torque.standing, TorqueStanding::Table);
    assert_eq!(bus.wrench.as_deref(), Some("13 mm"));
    assert_eq!(joint("heater +").torque.standing, TorqueStanding::Guidance);
}

#[test]
fn a_stud_that_no_table_knows_has_no_torque_and_says_so() {
    let mut bench = PICKUP.bench();
    bench.catalog.studs.retain(|row| row.thread != Thread::M10);
    let fittings = bench.fit();
    let joint = fittings
        .joints
        .iter()
        .find(|joint| joint.name == "earth bed")
        .unwrap();
    assert!(joint.torque.value.is_none());
    assert_eq!(joint.torque.standing, TorqueStanding::Open);
    assert_eq!(
        fittings.verdict(CheckRule::StudCurrent, "earth bed"),
        Verdict::Open
    );
}
