//! 33 CFR 183.425 Table 5 with both notes.

use longlead::catalog::{AmpacityTable, Surroundings};
use longlead::quantity::Temperature;

use super::support::{CATALOG, size};

const RATINGS_C: [f64; 7] = [60.0, 75.0, 80.0, 90.0, 105.0, 125.0, 200.0];

/// 33 CFR 183.425 Table 5, amperes at 30 °C, not in an engine space, at most two conductors
/// together (read; the 105 °C column cross-checked in three places).
const TABLE_5: [(&str, [f64; 7]); 15] = [
    ("18 AWG", [10.0, 10.0, 15.0, 20.0, 20.0, 25.0, 25.0]),
    ("16 AWG", [15.0, 15.0, 20.0, 25.0, 25.0, 30.0, 35.0]),
    ("14 AWG", [20.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0]),
    ("12 AWG", [25.0, 25.0, 35.0, 40.0, 45.0, 50.0, 55.0]),
    ("10 AWG", [40.0, 40.0, 50.0, 55.0, 60.0, 70.0, 70.0]),
    ("8 AWG", [55.0, 65.0, 70.0, 70.0, 80.0, 90.0, 100.0]),
    ("6 AWG", [80.0, 95.0, 100.0, 100.0, 120.0, 125.0, 135.0]),
    ("4 AWG", [105.0, 125.0, 130.0, 135.0, 160.0, 170.0, 180.0]),
    ("3 AWG", [120.0, 145.0, 150.0, 155.0, 180.0, 195.0, 210.0]),
    ("2 AWG", [140.0, 170.0, 175.0, 180.0, 210.0, 225.0, 240.0]),
    ("1 AWG", [165.0, 195.0, 210.0, 210.0, 245.0, 265.0, 280.0]),
    ("1/0 AWG", [195.0, 230.0, 245.0, 245.0, 285.0, 305.0, 325.0]),
    ("2/0 AWG", [225.0, 265.0, 285.0, 285.0, 330.0, 355.0, 370.0]),
    ("3/0 AWG", [260.0, 310.0, 330.0, 330.0, 385.0, 410.0, 430.0]),
    ("4/0 AWG", [300.0, 360.0, 385.0, 385.0, 445.0, 475.0, 510.0]),
];

fn table() -> &'static AmpacityTable {
    CATALOG.ampacity_table("33 CFR 183.425 Table 5").unwrap()
}

fn allowed(gauge: &str, rating_c: f64, around: Surroundings) -> Option<f64> {
    let rating = Temperature::from_c(rating_c);
    table()
        .allowed(size(gauge), rating, around)
        .map(|allowed| allowed.current.a())
}

fn free_air(ambient_c: f64) -> Surroundings {
    Surroundings {
        ambient: Temperature::from_c(ambient_c),
        engine_space: false,
        bundled: 2,
    }
}

#[test]
fn every_printed_figure_comes_out() {
    for (gauge, row) in TABLE_5 {
        for (rating, printed) in RATINGS_C.iter().zip(row) {
            let found = allowed(gauge, *rating, free_air(30.0)).unwrap();
            assert!(
                (found - printed).abs() < 1e-9,
                "{gauge} at {rating} °C: {found}"
            );
        }
    }
}

/// Note 1, engine spaces at 50 °C: the 105 °C factor cross-checked, the others from memory.
#[test]
fn note_1_reduces_in_engine_spaces() {
    let factors = [0.58, 0.75, 0.78, 0.82, 0.85, 0.89, 1.00];
    for (rating, factor) in RATINGS_C.iter().zip(factors) {
        let engine = Surroundings {
            engine_space: true,
            ..free_air(50.0)
        };
        for (gauge, _) in TABLE_5 {
            let found = allowed(gauge, *rating, engine).unwrap();
            let full = allowed(gauge, *rating, free_air(30.0)).unwrap();
            assert!((found / full - factor).abs() < 1e-9, "{gauge}, {rating} °C");
        }
    }
}

/// Note 2, conductors bundled together: the first three factors inferred from a cable maker's table
/// that applies them to every size, the last from memory.
#[test]
fn note_2_reduces_in_bundles() {
    let factors = [
        (1, 1.0),
        (2, 1.0),
        (3, 0.7),
        (4, 0.6),
        (6, 0.6),
        (7, 0.5),
        (24, 0.5),
        (25, 0.4),
    ];
    for (bundled, factor) in factors {
        let together = Surroundings {
            bundled,
            ..free_air(30.0)
        };
        let found = allowed("4 AWG", 105.0, together).unwrap();
        assert!(
            (found - 160.0 * factor).abs() < 1e-9,
            "{bundled} together: {found}"
        );
    }
}

#[test]
fn between_two_rows_a_metric_size_lies_between_their_figures() {
    // 50 mm2 lies between 1 AWG (42.4 mm2) and 1/0 AWG (53.5 mm2), 70 mm2 between 2/0 and 3/0.
    for (metric, below, above) in [("50 mm2", 245.0, 285.0), ("70 mm2", 330.0, 385.0)] {
        let found = allowed(metric, 105.0, free_air(30.0)).unwrap();
        assert!(below < found && found < above, "{metric}: {found}");
    }
}

#[test]
fn heat_only_ever_takes_away() {
    let mut last = f64::INFINITY;
    for ambient in [20.0, 30.0, 40.0, 60.0, 80.0, 100.0, 104.9] {
        let found = allowed("2 AWG", 105.0, free_air(ambient)).unwrap();
        assert!(found <= last, "{ambient} °C");
        last = found;
    }
    assert!(last < 10.0);
    assert_eq!(allowed("2 AWG", 105.0, free_air(105.0)), None);
    assert_eq!(allowed("2 AWG", 59.0, free_air(30.0)), None);
}
