//! Fittings in panels.
#![allow(clippy::unwrap_used)]

use crate::catalog::PartKind;
use crate::check::{CheckRule, Verdict};
use crate::fittings::fixture::{PICKUP, Text};

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
