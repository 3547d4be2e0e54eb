//! Distances of protection, spacing of supports, bends.

use longlead::check::{CheckRule, Verdict};
use longlead::quantity::Length;

use super::support::{CATALOG, SETTINGS, lamp_job, planned};

fn verdict(link: &str) -> Verdict {
    let feed = format!("link = '{link}'");
    let plan = planned(&lamp_job("small craft", &feed, "", "current = '10 A'"));
    let check = plan
        .checks
        .iter()
        .find(|check| check.rule == CheckRule::ProtectionDistance)
        .unwrap();
    check.verdict
}

/// 33 CFR 183.455(b)(1): within 7 in of the source, measured along the conductor (read).
#[test]
fn protection_on_small_craft_sits_within_seven_inches() {
    assert_eq!(verdict("6 in"), Verdict::Pass);
    assert_eq!(verdict("8 in"), Verdict::Fail);
}

/// 33 CFR 183.455(b)(2): 40 in where the conductor is sheathed or enclosed all the way (read). The
/// device sits at the mast's foot, at the end of the first leg.
#[test]
fn sheathed_conductors_may_run_forty_inches_to_their_protection() {
    for (sheathed, metres, expected) in [
        (true, "0.6 m", Verdict::Pass),
        (false, "0.6 m", Verdict::Fail),
        (true, "1.2 m", Verdict::Fail),
    ] {
        let text = lamp_job("small craft", "protect_at = 'foot'", "", "current = '10 A'")
            .replace(
                "{ name = \"mast\"",
                "{ name = \"foot\", space = \"cabin\" }, { name = \"mast\"",
            )
            .replace(
                "from = \"tray\"\n        to = \"mast\"",
                "from = \"foot\"\n        to = \"mast\"",
            );
        let first = format!(
            "\n[[leg]]\nfrom = 'tray'\nto = 'foot'\nlength = '{metres}'\nspace = 'cabin'\nsheathed = {sheathed}\n"
        );
        let plan = planned(&(text + &first));
        let rule = CheckRule::ProtectionDistance;
        let check = plan.checks.iter().find(|check| check.rule == rule).unwrap();
        assert_eq!(
            check.verdict, expected,
            "{sheathed}, {metres}: {}",
            check.note
        );
    }
}

/// ISO 10133:2012 7.4: conductors from a battery are held every 300 mm (read).
#[test]
fn leads_from_a_battery_on_small_craft_are_held_every_300_mm() {
    let plan = planned(&lamp_job("small craft", "", "", "current = '10 A'"));
    let check = plan
        .checks
        .iter()
        .find(|check| check.rule == CheckRule::Support)
        .unwrap();
    assert_eq!((check.verdict, check.limit), (Verdict::Pass, Some(300.0)));
    assert!(check.value.unwrap() <= 300.0);
}

/// 33 CFR 183.455: 7 in, 40 in where sheathed, at most 150 % of Table 5 below 50 V (read); manual
/// reset only (read).
#[test]
fn the_rules_of_small_craft_are_those_of_33_cfr() {
    let rules = CATALOG
        .rules(longlead::catalog::Setting::SmallCraft)
        .unwrap();
    assert!((rules.protection_distance.value.inches() - 7.0).abs() < 1e-9);
    assert!((rules.protection_distance_sheathed.value.inches() - 40.0).abs() < 1e-9);
    assert!((rules.protection_most.value.percent() - 150.0).abs() < 1e-9);
    assert!(rules.manual_reset_only.value);
    // ABYC E-11 11.14.6.9: at most four terminals on one stud (read).
    assert_eq!(rules.lugs_per_stud.value, 4);
    // ABYC E-11 and ISO 10133:2012 par. 4: 3 % for critical circuits, 10 % for others (read; the
    // 10 % of ISO 10133 from memory).
    assert!((rules.drop_critical.value.percent() - 3.0).abs() < 1e-9);
    assert!((rules.drop_ordinary.value.percent() - 10.0).abs() < 1e-9);
}

/// ISO 10133:2012 7.3: every 450 mm (read); ABYC E-11 11.14.6.8: every 18 in (read); 46 CFR
/// 183.340(b)(4) and FAA AC 43.13-1B 11-96: every 24 in (read).
#[test]
fn no_setting_spaces_supports_wider_than_its_publications() {
    for setting in SETTINGS {
        let spacing = CATALOG.rules(setting).unwrap().support_spacing.value;
        assert!(spacing <= Length::from_m(24.0 * 0.0254), "{setting}");
    }
    let craft = CATALOG
        .rules(longlead::catalog::Setting::SmallCraft)
        .unwrap();
    assert!(craft.support_spacing.value <= Length::from_mm(450.0));
}

#[test]
fn a_planned_leg_keeps_the_spacing() {
    for setting in SETTINGS {
        let plan = planned(&lamp_job(setting.as_str(), "", "", "current = '10 A'"));
        let spacing = CATALOG.rules(setting).unwrap().support_spacing.value;
        let at: Vec<f64> = plan
            .route
            .supports
            .iter()
            .map(|support| support.at.m())
            .collect();
        assert!(at.len() >= 6);
        for pair in at.windows(2) {
            assert!(pair[1] - pair[0] <= spacing.m() + 1e-9, "{setting}: {at:?}");
        }
        assert_eq!(plan.fittings.clamps.len(), at.len());
    }
}

/// FAA AC 43.13-1B and its companion notes: 3 × the outer diameter is the tightest bend that any of
/// them allows, where the cable is supported (memory).
#[test]
fn no_cable_may_be_bent_tighter_than_three_diameters() {
    for cable in &CATALOG.cables {
        let least = cable.outer_diameter * 3.0;
        assert!(cable.min_bend_radius >= least, "{}", *cable.id);
    }
}
