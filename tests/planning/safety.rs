//! Faults that a plan must not hide.

use std::fs;

use super::support::{Planned, root};

fn trailer() -> String {
    fs::read_to_string(root().join("tests/jobs/odd/camping-trailer.toml")).unwrap()
}

fn lead(planned: &Planned, name: &str) -> (f64, f64) {
    let index = planned
        .job
        .leads
        .iter()
        .position(|lead| lead.name == name)
        .unwrap();
    let sized = &planned.plan.sizing.leads[index];
    (sized.continuous.a(), sized.area_mm2)
}

/// The pump runs for minutes beside an inverter that runs for hours: the inverter's current still
/// counts for hours.
#[test]
fn a_load_of_short_runs_does_not_hide_what_runs_beside_it() {
    let planned = Planned::of_text(&trailer());
    let (hours, _) = lead(&planned, "inverter positive");
    assert!(hours > 100.0, "{hours}");
}

/// A positive lead that chafes on the frame sends its fault through the bond, which carries nothing
/// on other days.
#[test]
fn a_bond_to_the_body_stands_the_fault_that_goes_through_it() {
    let planned = Planned::of_text(&trailer());
    let (hours, area) = lead(&planned, "frame bond");
    assert!(hours < 1.0 && area > 10.0, "{hours} A, {area} mm2");
}

/// A long cable that throttles a charger is still sized and guarded for what the charger may give.
#[test]
fn both_leads_of_a_charger_are_sized_for_its_limit() {
    let planned = Planned::of_text(&trailer());
    let limit = planned.job.alternators[0].given.limit.a();
    for name in ["solar positive", "solar negative"] {
        let (hours, _) = lead(&planned, name);
        assert!(hours >= limit, "{name}: {hours}");
    }
}

/// A breaker that closes by itself cannot be held open while somebody works.
#[test]
fn no_breaker_that_closes_by_itself_is_chosen_unasked() {
    let planned = Planned::of_text(&trailer());
    for guard in &planned.plan.protection.guards {
        assert!(!guard.part.contains("automatic"), "{}", guard.part);
    }
}
