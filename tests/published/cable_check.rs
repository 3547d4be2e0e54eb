//! The cable check against published constructions of conductors.
//!
//! Strands of IEC 60228 class 5 and class 6 and of ISO 6722-1 conductors as cable makers publish them,
//! from memory; their largest resistances at 20 °C from the same standards (IEC 60228:2004 Table 3 as
//! reprinted by two makers; ISO 6722-1:2011 from memory). Copper-clad aluminium: density and
//! conductivity of ASTM B566 classes 10A and 15A.

use longlead::cable_check::{Sample, Strands, Verdict, check};
use longlead::catalog::{Catalog, Metal, Setting};
use longlead::quantity::{ConductorSize, Length, Mass, Resistance, Temperature};

use super::support::{CATALOG, family};

/// Nominal size in mm², strands, their diameter in mm, largest ohms for a kilometre.
type Construction = (f64, u32, f64, f64);

const CLASS_5: [Construction; 18] = [
    (0.5, 16, 0.20, 39.0),
    (0.75, 24, 0.20, 26.0),
    (1.0, 32, 0.20, 19.5),
    (1.5, 30, 0.25, 13.3),
    (2.5, 50, 0.25, 7.98),
    (4.0, 56, 0.30, 4.95),
    (6.0, 84, 0.30, 3.30),
    (10.0, 80, 0.40, 1.91),
    (16.0, 128, 0.40, 1.21),
    (25.0, 200, 0.40, 0.780),
    (35.0, 280, 0.40, 0.554),
    (50.0, 400, 0.40, 0.386),
    (70.0, 356, 0.50, 0.272),
    (95.0, 485, 0.50, 0.206),
    (120.0, 614, 0.50, 0.161),
    (150.0, 765, 0.50, 0.129),
    (185.0, 944, 0.50, 0.106),
    (240.0, 1225, 0.50, 0.0801),
];

const CLASS_6: [Construction; 16] = [
    (0.5, 28, 0.15, 39.0),
    (0.75, 42, 0.15, 26.0),
    (1.0, 56, 0.15, 19.5),
    (1.5, 84, 0.15, 13.3),
    (2.5, 140, 0.15, 7.98),
    (4.0, 224, 0.15, 4.95),
    (6.0, 192, 0.20, 3.30),
    (10.0, 320, 0.20, 1.91),
    (16.0, 512, 0.20, 1.21),
    (25.0, 800, 0.20, 0.780),
    (35.0, 1120, 0.20, 0.554),
    (50.0, 705, 0.30, 0.386),
    (70.0, 990, 0.30, 0.272),
    (95.0, 1340, 0.30, 0.206),
    (120.0, 1690, 0.30, 0.161),
    (150.0, 2123, 0.30, 0.129),
];

// A limit of 3.14 ohms is the standard's own.
#[allow(clippy::approx_constant)]
const AUTOMOTIVE: [Construction; 16] = [
    (0.5, 16, 0.20, 37.1),
    (0.75, 24, 0.20, 24.7),
    (1.0, 32, 0.20, 18.5),
    (1.5, 30, 0.25, 12.7),
    (2.5, 50, 0.25, 7.60),
    (4.0, 56, 0.30, 4.71),
    (6.0, 84, 0.30, 3.14),
    (10.0, 80, 0.40, 1.82),
    (16.0, 126, 0.40, 1.16),
    (25.0, 196, 0.40, 0.743),
    (35.0, 276, 0.40, 0.527),
    (50.0, 396, 0.40, 0.368),
    (70.0, 360, 0.50, 0.259),
    (95.0, 475, 0.50, 0.196),
    (120.0, 608, 0.50, 0.153),
    (6.0, 50, 0.39, 3.14),
];

fn sample(catalog: &Catalog, strands: u32, diameter_mm: f64) -> Sample {
    Sample {
        strands: Some(Strands {
            count: strands,
            diameter: Length::from_mm(diameter_mm),
        }),
        weight: None,
        resistance: None,
        length: Length::from_m(1.0),
        temperature: Temperature::from_c(20.0),
        diameter: None,
        doubts: catalog.measurings.first().unwrap().clone(),
    }
}

fn judged(sample: &Sample, catalog: &Catalog) -> Verdict {
    check(sample, None, Setting::RoadVehicle, catalog).unwrap()
}

/// Metal area of the strands in mm².
fn area(strands: u32, mm: f64) -> f64 {
    std::f64::consts::FRAC_PI_4 * mm * mm * f64::from(strands)
}

#[test]
fn published_copper_constructions_are_copper_of_their_size() {
    let catalog: &Catalog = &CATALOG;
    let all = CLASS_5.iter().chain(&CLASS_6).chain(&AUTOMOTIVE);
    for (nominal, strands, mm, ohm_per_km) in all {
        // A cable that has just the resistance its standard allows.
        let mut sample = sample(catalog, *strands, *mm);
        sample.resistance = Some(Resistance::from_ohm(ohm_per_km / 1e3));
        let verdict = judged(&sample, catalog);
        let best = verdict.guesses.first().unwrap();
        assert_eq!(best.metal, Metal::Copper, "{strands} x {mm}");
        assert!(
            best.least_mm2 < *nominal && *nominal * 0.9 < best.most_mm2,
            "{strands} x {mm}"
        );
        // Of all sizes of the standard its own is the nearest.
        let off = |size: &f64| (best.area_mm2 / size).ln().abs();
        let sizes = CLASS_5.iter().map(|row| row.0);
        let nearest = sizes.min_by(|a, b| off(a).total_cmp(&off(b))).unwrap();
        assert_eq!(nearest, *nominal, "{strands} x {mm}: {}", best.area_mm2);
        assert!(!verdict.contradictory);
    }
}

#[test]
fn a_resistance_that_a_standard_allows_makes_a_cable_of_that_size() {
    let catalog: &Catalog = &CATALOG;
    for (nominal, strands, mm, ohm_per_km) in CLASS_5.iter().chain(&CLASS_6) {
        let size = ConductorSize::Metric((nominal * 100.0).round() as u32);
        // Of the thinnest sizes the catalog holds automotive cable alone, whose limits are tighter.
        if !family("fine-strand").iter().any(|cable| cable.size == size) {
            continue;
        }
        let mut sample = sample(catalog, *strands, *mm);
        sample.resistance = Some(Resistance::from_ohm(ohm_per_km / 1e3));
        let verdict = check(&sample, Some(size), Setting::SmallCraft, catalog).unwrap();
        assert!(verdict.claim.unwrap().kept, "{nominal} mm2");
        assert!(
            verdict
                .usable
                .iter()
                .any(|use_as| use_as.size == size.to_string()),
            "{nominal} mm2"
        );
    }
}

/// Density in g/cm³ and resistivity in ohm mm²/m of ASTM B566 classes 10A and 15A: 0.120 and
/// 0.131 lb/in³, 62.9 % and 64.4 % of the annealed copper standard.
const CLAD: [(f64, f64); 2] = [(3.322, 0.017_241 / 0.629), (3.626, 0.017_241 / 0.644)];

#[test]
fn clad_aluminium_is_found_out_by_weight_or_by_resistance() {
    let catalog: &Catalog = &CATALOG;
    let heavy = CLASS_5.iter().filter(|row| (10.0..=120.0).contains(&row.0));
    for (nominal, strands, mm, _) in heavy {
        for (density, resistivity) in CLAD {
            let area = area(*strands, *mm);
            let lay = 1.02;
            let mut weighed = sample(catalog, *strands, *mm);
            weighed.weight = Some(Mass::from_kg(area * density * lay / 1e3));
            let mut measured = sample(catalog, *strands, *mm);
            measured.resistance = Some(Resistance::from_ohm(resistivity * lay / area));
            let mut both = weighed.clone();
            both.resistance = measured.resistance;
            let clad = |verdict: &Verdict| -> f64 {
                let guesses = verdict.guesses.iter();
                let clad = guesses
                    .filter(|guess| matches!(guess.metal, Metal::CladTenth | Metal::CladSeventh));
                clad.map(|guess| guess.percent).sum()
            };
            let copper = |verdict: &Verdict| -> f64 {
                let guesses = verdict.guesses.iter();
                guesses
                    .filter(|guess| guess.metal == Metal::Copper)
                    .map(|guess| guess.percent)
                    .sum()
            };
            assert!(
                clad(&judged(&weighed, catalog)) > 90.0,
                "{nominal} by weight"
            );
            // Resistance cannot tell a copper skin from bare aluminium, but tells both from copper.
            assert!(
                copper(&judged(&measured, catalog)) < 1.0,
                "{nominal} by resistance"
            );
            let told = judged(&both, catalog);
            assert!(
                clad(&told) > 95.0 && told.sure,
                "{nominal} by both: {}",
                told.metal_told
            );
            // It is sold by the area of its strands, and is two sizes thinner in copper.
            let size = ConductorSize::Metric((nominal * 100.0).round() as u32);
            let verdict = check(&both, Some(size), Setting::RoadVehicle, catalog).unwrap();
            assert!(!verdict.claim.unwrap().kept, "{nominal}");
        }
    }
}

#[test]
fn one_measurement_does_not_tell_the_metal_and_nonsense_fits_none() {
    let catalog: &Catalog = &CATALOG;
    let alone = sample(catalog, 400, 0.40);
    let verdict = judged(&alone, catalog);
    assert!(!verdict.sure);
    assert!((verdict.guesses.first().unwrap().percent - 25.0).abs() < 1e-6);
    let mut nonsense = alone.clone();
    // Lead weighs 11.3 g/cm³.
    nonsense.weight = Some(Mass::from_kg(area(400, 0.40) * 11.34 * 1.02 / 1e3));
    assert!(judged(&nonsense, catalog).contradictory);
    nonsense.strands = None;
    nonsense.weight = None;
    assert_eq!(check(&nonsense, None, Setting::RoadVehicle, catalog), None);
}
