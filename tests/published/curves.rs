//! Opening-time limits of fuses.

use longlead::catalog::Curve;
use longlead::quantity::{Ratio, Temperature};

use super::support::CATALOG;

/// Percent of rating, least and most seconds.
type Point = (f64, Option<f64>, Option<f64>);

/// ISO 8820-3 type E, 20 to 80 A, and type C, 35 and 40 A: limits printed in a maker's data sheets
/// (read in one transcription). ISO 8820-3 type C to 30 A and type F, ISO 8820-5 SF30 and SF51:
/// from memory.
const PUBLISHED: [(&str, &[Point]); 6] = [
    (
        "ISO 8820-3 type E",
        &[
            (135.0, Some(60.0), Some(1800.0)),
            (200.0, Some(2.0), Some(50.0)),
            (350.0, Some(0.2), Some(7.0)),
            (600.0, Some(0.04), Some(1.0)),
        ],
    ),
    (
        "ISO 8820-3 type C 35 to 40 A",
        &[
            (135.0, Some(0.75), Some(600.0)),
            (200.0, Some(0.15), Some(5.0)),
            (350.0, Some(0.08), Some(0.5)),
            (600.0, None, Some(0.15)),
        ],
    ),
    (
        "ISO 8820-3 type C up to 30 A",
        &[
            (135.0, Some(0.75), Some(600.0)),
            (160.0, Some(0.25), Some(50.0)),
            (200.0, Some(0.15), Some(5.0)),
            (350.0, Some(0.04), Some(0.5)),
        ],
    ),
    (
        "ISO 8820-3 type F",
        &[
            (135.0, Some(0.75), Some(600.0)),
            (200.0, Some(0.15), Some(5.0)),
            (350.0, Some(0.04), Some(0.5)),
            (600.0, Some(0.02), Some(0.1)),
        ],
    ),
    (
        "ISO 8820-5 type SF30",
        &[
            (135.0, Some(120.0), Some(1800.0)),
            (200.0, Some(1.0), Some(15.0)),
            (350.0, Some(0.3), Some(5.0)),
            (600.0, Some(0.1), Some(1.0)),
        ],
    ),
    (
        "ISO 8820-5 type SF51",
        &[
            (135.0, Some(120.0), Some(1800.0)),
            (200.0, Some(1.0), Some(15.0)),
            (350.0, Some(0.3), Some(5.0)),
            (600.0, Some(0.1), Some(1.0)),
        ],
    ),
];

fn percent(percent: f64) -> Ratio {
    Ratio::from_fraction(percent / 100.0)
}

fn close(found: f64, published: f64) -> bool {
    (found / published - 1.0).abs() < 1e-9
}

#[test]
fn both_edges_pass_through_the_published_points() {
    for (name, points) in PUBLISHED {
        let curve: &Curve = CATALOG.curve(name).unwrap();
        for (current, least, most) in points {
            if let Some(least) = least {
                let held = curve.holds_for(percent(*current)).s();
                assert!(close(held, *least), "{name} at {current} %: holds {held} s");
            }
            if let Some(most) = most {
                let opens = curve.opens_within(percent(*current)).unwrap().s();
                assert!(
                    close(opens, *most),
                    "{name} at {current} %: opens in {opens} s"
                );
            }
        }
    }
}

#[test]
fn no_curve_must_open_at_its_rating_and_each_holds_it() {
    for curve in &CATALOG.curves {
        assert!(
            curve.holds_for(percent(100.0)).s() > 3600.0,
            "{}",
            *curve.name
        );
        assert_eq!(curve.opens_within(percent(100.0)), None, "{}", *curve.name);
    }
}

#[test]
fn more_current_never_holds_longer_nor_opens_later_and_the_edges_do_not_cross() {
    for curve in &CATALOG.curves {
        let (mut held, mut opened) = (f64::INFINITY, f64::INFINITY);
        for step in 0..200 {
            let current = percent(100.0 * 1.02f64.powi(step));
            let holds = curve.holds_for(current).s();
            let opens = curve
                .opens_within(current)
                .map_or(f64::INFINITY, |time| time.s());
            assert!(holds <= held && opens <= opened, "{}", *curve.name);
            assert!(
                holds <= opens,
                "{} at {:.0} %",
                *curve.name,
                current.percent()
            );
            (held, opened) = (holds, opens);
        }
    }
}

/// Breaking capacity by the scope of ISO 8820-3:2015 (1000 A) and ISO 8820-5:2015 (2000 A), read.
#[test]
fn blade_and_strip_fuses_break_what_their_standard_says() {
    for fuse in &CATALOG.fuses {
        let most = match fuse.curve.as_str() {
            curve if curve.starts_with("ISO 8820-3") => 1000.0,
            curve if curve.starts_with("ISO 8820-5") => 2000.0,
            _ => continue,
        };
        assert_eq!(fuse.interrupting.a(), most, "{}", *fuse.id);
    }
}

/// Voltages and largest ratings by the same scopes: ISO 8820-3:2015 32 V or 58 V up to 100 A,
/// ISO 8820-5:2015 32 V, 30 to 500 A, read.
#[test]
fn blade_and_strip_fuses_keep_the_voltage_and_ratings_of_their_standard() {
    for fuse in &CATALOG.fuses {
        let (volts, least, most): (&[f64], f64, f64) = match fuse.curve.as_str() {
            curve if curve.starts_with("ISO 8820-3") => (&[32.0, 58.0], 1.0, 100.0),
            curve if curve.starts_with("ISO 8820-5") => (&[32.0], 30.0, 500.0),
            _ => continue,
        };
        assert!(volts.contains(&fuse.voltage.v()), "{}", *fuse.id);
        assert!((least..=most).contains(&fuse.rating.a()), "{}", *fuse.id);
    }
}

/// A maker's data sheet of a 40 A high-current blade fuse: 40 A at 20 C, 34 A at 65 C, 30 A at
/// 85 C, 25 A at 110 C, 22 A at 125 C; read in one transcription.
#[test]
fn a_high_current_blade_fuse_carries_in_warm_air_what_its_data_sheet_says() {
    let curve = CATALOG.curve("ISO 8820-3 type E").unwrap();
    for (celsius, amps) in [
        (20.0, 40.0),
        (65.0, 34.0),
        (85.0, 30.0),
        (110.0, 25.0),
        (125.0, 22.0),
    ] {
        let carries = curve.carries_at(Temperature::from_c(celsius)).fraction();
        assert!(close(40.0 * carries, amps), "{celsius}: {carries}");
    }
    let between = curve.carries_at(Temperature::from_c(75.0)).fraction();
    assert!(close(40.0 * between, 32.0));
}

#[test]
fn warm_air_never_lets_a_device_carry_more() {
    for curve in &CATALOG.curves {
        let mut before = f64::INFINITY;
        for celsius in -60..150 {
            let carries = curve
                .carries_at(Temperature::from_c(f64::from(celsius)))
                .fraction();
            assert!(carries <= before && carries > 0.0, "{}", *curve.name);
            before = carries;
        }
    }
}
