//! Boxes of batteries.
#![allow(clippy::unwrap_used)]

use crate::catalog::PartKind;
use crate::check::{CheckRule, Verdict};
use crate::fittings::Amount;
use crate::fittings::fixture::{PICKUP, Text};
use crate::quantity::Length;

/// A box 300 x 200 x 220 mm inside, with hold-down and vent, and one without either.
const BOXES: &str = "[[enclosure]]\nid = 'box-own'\ndescription = 'box'\nsource = 'invented'\n\
    inner_length = '300 mm'\ninner_width = '200 mm'\ninner_height = '220 mm'\n\
    vented = true\nvent_bore = '13 mm'\nhold_down = true\n\
    [[enclosure]]\nid = 'box-bare'\ndescription = 'box'\nsource = 'invented'\n\
    inner_length = '300 mm'\ninner_width = '200 mm'\ninner_height = '220 mm'\n\
    vented = false\nhold_down = false\n";

fn boxed(battery: &'static str) -> Text {
    Text {
        battery,
        catalog: BOXES,
        ..PICKUP
    }
}

/// The setting asks for 20 mm over the terminals; the box leaves 10 mm.
#[test]
fn a_battery_taller_than_its_box_with_the_terminals_on_fails() {
    let (_, fittings) = boxed(
        "enclosure = 'box-own'\nvent_hose = '1 m'\n\
         length = '280 mm'\nwidth = '175 mm'\nheight = '210 mm'",
    )
    .fit();
    assert_eq!(
        fittings.verdict(CheckRule::Enclosure, "main"),
        Verdict::Fail
    );
    let checks = fittings.about(CheckRule::Enclosure, "main");
    let failing: Vec<_> = checks
        .iter()
        .filter(|check| check.verdict == Verdict::Fail)
        .collect();
    assert_eq!(failing.len(), 1);
    assert!((failing[0].value.unwrap() - 10.0).abs() < 1e-6);
    assert_eq!(failing[0].limit, Some(20.0));
    assert!(failing[0].note.contains("take a higher box"));
}

#[test]
fn a_battery_fits_its_box_either_way_round() {
    let (_, fittings) = boxed(
        "enclosure = 'box-own'\nvent_hose = '1.5 m'\n\
         length = '190 mm'\nwidth = '290 mm'\nheight = '190 mm'",
    )
    .fit();
    assert_eq!(
        fittings.verdict(CheckRule::Enclosure, "main"),
        Verdict::Pass
    );
    assert_eq!(fittings.enclosures[0].vent.as_deref(), Some("vent-hose-13"));
    let hose = fittings
        .needs
        .iter()
        .find(|need| need.kind == PartKind::Vent);
    assert_eq!(hose.unwrap().amount, Amount::Length(Length::from_m(1.5)));
}

#[test]
fn a_box_without_hold_down_and_vent_fails_on_both() {
    let (_, fittings) =
        boxed("enclosure = 'box-bare'\nlength = '280 mm'\nwidth = '175 mm'\nheight = '190 mm'")
            .fit();
    let checks = fittings.about(CheckRule::Enclosure, "main");
    let failing = checks.iter().filter(|check| check.verdict == Verdict::Fail);
    let notes: Vec<&str> = failing.map(|check| check.note.as_str()).collect();
    assert_eq!(notes.len(), 2);
    assert!(notes[0].contains("hold-down") && notes[1].contains("vent"));
}

#[test]
fn lithium_in_a_box_needs_no_vent() {
    let mut bench =
        boxed("enclosure = 'box-own'\nlength = '280 mm'\nwidth = '175 mm'\nheight = '190 mm'")
            .bench();
    bench.job.batteries[0].given.chemistry = crate::job::Chemistry::LithiumIronPhosphate;
    let fittings = bench.fit();
    assert_eq!(
        fittings.verdict(CheckRule::Enclosure, "main"),
        Verdict::Pass
    );
    assert!(fittings.enclosures[0].vent.is_none());
}

#[test]
fn a_box_is_left_open_until_battery_and_hose_are_measured() {
    let (_, unmeasured) = boxed("enclosure = 'auto'").fit();
    assert_eq!(
        unmeasured.verdict(CheckRule::Enclosure, "main"),
        Verdict::Open
    );
    assert!(unmeasured.enclosures[0].part.is_none());
    let (_, no_hose) =
        boxed("enclosure = 'box-own'\nlength = '280 mm'\nwidth = '175 mm'\nheight = '190 mm'")
            .fit();
    assert_eq!(no_hose.verdict(CheckRule::Enclosure, "main"), Verdict::Open);
}

#[test]
fn the_smallest_box_that_fits_is_chosen_and_a_giant_battery_gets_none() {
    let size = "enclosure = 'auto'\nvent_hose = '1 m'\n\
                length = '280 mm'\nwidth = '175 mm'\nheight = '190 mm'";
    let (bench, fittings) = boxed(size).fit();
    let volume = |row: &crate::catalog::Enclosure| {
        row.inner_length.m() * row.inner_width.m() * row.inner_height.m()
    };
    let id = fittings.enclosures[0].part.as_deref();
    let rows = &bench.catalog.enclosures;
    let chosen = rows.iter().find(|row| Some(row.id.as_str()) == id).unwrap();
    let own = rows.iter().find(|row| *row.id == "box-own").unwrap();
    assert!(chosen.hold_down && chosen.vented && volume(chosen) <= volume(own));
    let (_, giant) =
        boxed("enclosure = 'auto'\nlength = '2 m'\nwidth = '1 m'\nheight = '1 m'").fit();
    assert_eq!(giant.verdict(CheckRule::Enclosure, "main"), Verdict::Fail);
    assert!(giant.misfits[0].wanted.starts_with("a box for `main`"));
}
