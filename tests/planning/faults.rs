//! Dead shorts anywhere on a positive lead.

use std::fs;

use longlead::circuit::{Pulse, used_part};
use longlead::plan::Status;
use longlead::protection::Keep;
use longlead::quantity::{Current, Duration};

use super::support::{Planned, WORKSHOP, files, root};

fn demos_and_odd_jobs() -> Vec<&'static Planned> {
    let mut paths = files("templates/jobs");
    paths.extend(files("tests/jobs/odd"));
    paths.extend(files("tests/jobs/traps"));
    paths.iter().map(|path| Planned::of_file(path)).collect()
}

#[test]
fn the_stretches_of_every_positive_lead_add_up_to_its_metres() {
    for planned in demos_and_odd_jobs() {
        let coverage = &planned.plan.protection.coverage;
        let mut all = 0.0;
        for covered in &coverage.leads {
            let cut = planned.plan.route.leads[covered.lead.0].cut().m();
            let mut at = 0.0;
            for stretch in &covered.stretches {
                assert!((stretch.from.m() - at).abs() < 1e-9 && stretch.to > stretch.from);
                at = stretch.to.m();
            }
            assert!((at - cut).abs() < 1e-9, "{at} of {cut} m");
            all += cut;
        }
        let kinds = [Keep::Protected, Keep::Permitted, Keep::Bare];
        let sum: f64 = kinds.map(|keep| coverage.length(keep).m()).iter().sum();
        assert!((sum - all).abs() < 1e-6);
    }
}

#[test]
fn no_device_lets_more_through_than_the_cable_stands_where_it_is_said_to_protect() {
    let mut looked_at = 0;
    for planned in demos_and_odd_jobs() {
        for covered in &planned.plan.protection.coverage.leads {
            let elsewise = |at: f64| {
                let mut stretches = covered.stretches.iter();
                stretches.any(|stretch| {
                    let inside = stretch.from.m() <= at && at <= stretch.to.m();
                    inside && stretch.keep != Keep::Protected
                })
            };
            for point in &covered.points {
                if elsewise(point.at.m()) || point.guard.is_none() {
                    continue;
                }
                // Where a limit protects the lead, its device need not open.
                let Some(through) = point.lets_through_a2s else {
                    continue;
                };
                assert!(through <= covered.stands_a2s * (1.0 + 1e-6));
                looked_at += 1;
            }
        }
    }
    assert!(looked_at > 20, "{looked_at}");
}

#[test]
fn the_smallest_short_is_never_larger_than_the_largest_and_falls_along_the_demo_leads() {
    for path in files("templates/jobs") {
        let planned = Planned::of_file(&path);
        for covered in &planned.plan.protection.coverage.leads {
            for point in &covered.points {
                assert!(point.smallest <= point.largest);
            }
            let (near, far) = (&covered.points[0], covered.points.last().unwrap());
            assert!(far.smallest <= near.smallest);
        }
    }
}

fn least_far(rules: &str) -> Vec<f64> {
    let text = fs::read_to_string(root().join("tests/jobs/odd/all-sizes-fixed.toml")).unwrap();
    let text = text.replacen("[[space]]", &format!("[rules]\n{rules}\n\n[[space]]"), 1);
    let coverage = Planned::of_text(&text).plan.protection.coverage;
    let leads = coverage.leads.iter();
    leads
        .map(|lead| lead.points.last().unwrap().smallest.a())
        .collect()
}

#[test]
fn an_older_battery_or_a_worse_contact_lowers_the_smallest_short() {
    let bolted = least_far("fault_contact = '0 mohm'");
    for rules in [
        "fault_contact = '5 mohm'",
        "fault_contact = '0 mohm'\naged_resistance = '250 %'",
    ] {
        for (worse, bolted) in least_far(rules).iter().zip(&bolted) {
            assert!(worse < bolted, "{rules}: {worse} {bolted}");
        }
    }
}

/// A cable from a battery that nothing guards but its device at one end.
#[test]
fn one_device_between_two_batteries_leaves_the_whole_lead_bare() {
    let trap = root().join("tests/jobs/traps/two-batteries-one-device.toml");
    let planned = Planned::of_file(&trap);
    let coverage = &planned.plan.protection.coverage;
    let joining = &coverage.leads[0];
    assert!(joining.length(Keep::Bare).m() > 3.0);
    let bare = joining
        .stretches
        .iter()
        .find(|stretch| stretch.keep == Keep::Bare);
    assert!(bare.unwrap().reason.contains("rear battery"));
}

/// Heat of one pulse is still in the device when the next one comes.
#[test]
fn two_pulses_that_a_device_holds_alone_may_open_it_together() {
    let devices = WORKSHOP.catalog.protective();
    let device = devices
        .iter()
        .find(|device| device.part == "breaker-manual-m6-100")
        .unwrap();
    let pulse = |amps: f64, part: f64| {
        let current = Current::from_a(amps);
        let held = device.curve.holds_for(device.of_rating(current)).s();
        Pulse {
            times: longlead::heat::Times::Count(1),
            rest: Duration::ZERO,
            current,
            time: Duration::from_s(held * part),
            when: String::new(),
        }
    };
    let pulses = [pulse(520.0, 0.6), pulse(190.0, 0.6)];
    assert!(
        pulses
            .iter()
            .all(|pulse| used_part(device, std::slice::from_ref(pulse)) < 1.0)
    );
    assert!((used_part(device, &pulses) - 1.2).abs() < 1e-9);
}

#[test]
fn a_cure_that_is_told_cures() {
    let text = fs::read_to_string(root().join("tests/jobs/traps/pump-beside-an-inverter.toml"));
    let text = text.unwrap();
    let guard_of = |planned: &Planned| {
        let guards = planned.plan.protection.guards.iter();
        let mut own = guards.filter(|guard| planned.job.lead(guard.lead).name == "pump plus");
        own.next().unwrap().clone()
    };
    let cures = guard_of(&Planned::of_text(&text)).cures;
    let apart = cures
        .iter()
        .find(|cure| cure.contains("`own_clamps = true`"));
    let apart = apart.unwrap_or_else(|| panic!("no clamps of its own in {cures:?}"));
    assert!(
        apart.contains("10 AWG") && apart.contains("40 A"),
        "{apart}"
    );
    let cured = ["pump plus", "pump minus"].iter().fold(text, |text, lead| {
        let name = format!("name = \"{lead}\"");
        text.replace(&name, &format!("{name}\nown_clamps = true"))
    });
    let cured = Planned::of_text(&cured);
    assert_eq!(cured.plan.status(), Status::Ready);
    assert_eq!(guard_of(&cured).part, "fuse-t-40");
}
