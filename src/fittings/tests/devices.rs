//! Switches, contactors and connectors.
#![allow(clippy::unwrap_used)]

use crate::check::{CheckRule, Verdict};
use crate::fittings::fixture::{PICKUP, Text};
use crate::quantity::{ConductorSize, Current, Length};

/// A switch, a contactor with a 24 V coil and a connector, all of 100 A.
const DEVICES: &str = "[[switch]]\nid = 'own-switch'\ndescription = 's'\nsource = 'invented'\n\
    poles = 1\nignition_pole = false\nalternator_pole = false\nrating = '100 A'\n\
    intermittent = '300 A'\nvoltage = '12 V'\nstud = 'M8'\nresistance = '0.1 mohm'\n\
    ignition_protected = false\n\
    [[contactor]]\nid = 'own-contactor'\ndescription = 'c'\nsource = 'invented'\n\
    rating = '100 A'\nintermittent = '300 A'\nvoltage = '24 V'\nstud = 'M8'\n\
    resistance = '0.1 mohm'\n\
    [[connector]]\nid = 'own-connector'\ndescription = 'p'\nsource = 'invented'\ncontacts = 2\n\
    rating = '100 A'\nmax_size = '50 mm2'\nresistance = '0.1 mohm'\nvoltage = '48 V'\n\
    strip = '20 mm'\n";

const LEADS: &str = "[[lead]]\nname = 'first'\nfrom = 'main +'\nto = 'cut in'\n\
    [[lead]]\nname = 'second'\nfrom = 'cut out'\nto = 'front bus'\n\
    [[lead]]\nname = 'heater feed'\nfrom = 'front bus'\nto = 'heater +'\n\
    [[lead]]\nname = 'earth'\nfrom = 'main -'\nto = 'earth bed'\n";

fn with(parts: &'static str) -> Text {
    Text {
        parts,
        leads: LEADS,
        catalog: DEVICES,
        ..PICKUP
    }
}

const SWITCH: &str = "[[device]]\nname = 'cut'\nplace = 'block'\npart = 'own-switch'";
const CONTACTOR: &str = "[[device]]\nname = 'cut'\nplace = 'block'\npart = 'own-contactor'";
const CONNECTOR: &str = "[[device]]\nname = 'cut'\nplace = 'block'\npart = 'own-connector'";

#[test]
fn a_switch_is_judged_by_its_continuous_and_its_short_time_current() {
    let mut bench = with(SWITCH).bench();
    assert_eq!(
        bench.fit().verdict(CheckRule::DeviceRating, "cut"),
        Verdict::Pass
    );
    let id = bench.lead("first");
    bench.sizing.leads[id.0].continuous = Current::from_a(120.0);
    let fittings = bench.fit();
    let checks = fittings.about(CheckRule::DeviceRating, "cut");
    let failing: Vec<_> = checks
        .iter()
        .filter(|check| check.verdict == Verdict::Fail)
        .collect();
    assert_eq!(failing.len(), 1);
    assert_eq!(
        (failing[0].value, failing[0].limit),
        (Some(120.0), Some(100.0))
    );
}

#[test]
fn a_switch_that_is_not_ignition_protected_fails_where_vapour_gathers() {
    let mut bench = with(SWITCH).bench();
    for space in &mut bench.job.spaces {
        space.vapour = true;
    }
    assert_eq!(
        bench.fit().verdict(CheckRule::DeviceRating, "cut"),
        Verdict::Fail
    );
    let mut bench = with(CONNECTOR).bench();
    for space in &mut bench.job.spaces {
        space.vapour = true;
    }
    assert_eq!(
        bench.fit().verdict(CheckRule::DeviceRating, "cut"),
        Verdict::Open
    );
}

#[test]
fn a_coil_for_another_voltage_fails() {
    let (_, fittings) = with(CONTACTOR).fit();
    let checks = fittings.about(CheckRule::DeviceRating, "cut");
    let coil = checks
        .iter()
        .find(|check| check.note.contains("coil"))
        .unwrap();
    assert_eq!(coil.verdict, Verdict::Fail);
}

#[test]
fn a_connector_takes_contacts_and_no_lugs_up_to_its_largest_conductor() {
    let mut bench = with(CONNECTOR).bench();
    let fittings = bench.fit();
    let end = fittings.end("cut in");
    assert!(end.lug.is_none() && end.stud.is_none() && end.boot.is_none());
    assert_eq!((end.crimps, end.strip), (1, Some(Length::from_mm(20.0))));
    assert_eq!(
        fittings.verdict(CheckRule::Termination, "at cut"),
        Verdict::Pass
    );
    assert!(
        !fittings
            .joints
            .iter()
            .any(|joint| joint.name.starts_with("cut"))
    );
    bench.catalog.connectors.iter_mut().for_each(|row| {
        row.max_size = ConductorSize::Metric(100);
    });
    assert_eq!(
        bench.fit().verdict(CheckRule::Termination, "at cut"),
        Verdict::Fail
    );
}

/// The winch of an intermittent state may bring more than the contact's continuous rating.
#[test]
fn a_connector_without_a_short_time_rating_is_open_when_more_passes_for_a_while() {
    let mut bench = with(CONNECTOR).bench();
    let first = bench.lead("first");
    for state in &mut bench.operation.states {
        state.leads[first.0].amps = 150.0;
    }
    for load in &mut bench.job.loads {
        load.given.duty = crate::job::Duty::Intermittent;
        load.given.longest = Some(crate::quantity::Duration::from_s(60.0));
    }
    assert_eq!(
        bench.fit().verdict(CheckRule::DeviceRating, "cut"),
        Verdict::Open
    );
}
