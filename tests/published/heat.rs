//! Temperatures of cables against an independent iteration of the same standard (IEC 60287-1-1,
//! 60287-2-1, 60853-2) and a general integrator; no worked example printed by a standard is at
//! hand. `tests/heat/remake.py` makes the figures; all inputs stand in its file.

use std::fs;
use std::path::Path;
use std::sync::LazyLock;

use longlead::catalog::{ConductorMaterial, Insulation};
use longlead::check::{Check, CheckRule};
use longlead::heat::{Build, HOTTEST, Laid, Run, Times};
use longlead::quantity::{
    Area, Current, Duration, Length, Quantity, ResistancePerLength, Temperature,
    ThermalResistivity, VolumetricHeat,
};
use proptest::prelude::*;
use serde_json::Value;

use super::support::{CATALOG, family, lamp_job, planned, size};

static EXPECTED: LazyLock<Value> = LazyLock::new(|| {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/heat/expected.json");
    serde_json::from_str(&fs::read_to_string(path).unwrap()).unwrap()
});

fn rows(kind: &str) -> &'static [Value] {
    let rows = EXPECTED[kind].as_array().unwrap();
    assert!(rows.len() > 30 || kind == "cables", "{kind}");
    rows
}

fn figure(row: &Value, key: &str) -> f64 {
    row[key].as_f64().unwrap()
}

fn celsius(row: &Value, key: &str) -> Temperature {
    Temperature::from_c(figure(row, key))
}

fn amps(row: &Value) -> Current {
    Current::from_a(figure(row, "amps"))
}

fn build(row: &Value) -> Build {
    Build {
        area: Area::from_mm2(figure(row, "mm2")),
        conductor: Length::from_mm(figure(row, "conductor_mm")),
        outer: Length::from_mm(figure(row, "outer_mm")),
        resistance: ResistancePerLength::from_ohm_per_m(figure(row, "ohm_per_km") * 1e-3),
        beta: celsius(row, "beta"),
        metal_heat: VolumetricHeat::from_j_per_k_m3(figure(row, "metal_heat")),
        insulation_resistivity: ThermalResistivity::from_k_m_per_w(figure(
            row,
            "insulation_resistivity",
        )),
        insulation_heat: VolumetricHeat::from_j_per_k_m3(figure(row, "insulation_heat")),
    }
}

/// The cable of a row, laid as the row has it among the catalog's arrangements.
fn laid(row: &Value) -> Laid {
    let cable = &rows("cables")[row["cable"].as_u64().unwrap() as usize];
    let together = row["together"].as_u64().unwrap() as usize;
    let ambient = celsius(row, "ambient");
    Laid::new(&build(cable), together, ambient, &CATALOG.installations).unwrap()
}

fn assert_near(found: f64, expected: f64, within: f64, row: &Value) {
    let near = (found - expected).abs() <= within;
    assert!(near, "{found} instead of {expected}: {row}");
}

#[test]
fn steady_temperatures_agree_with_an_independent_iteration() {
    for row in rows("steady") {
        let found = laid(row).steady(amps(row)).c();
        assert_near(found, figure(row, "celsius"), 0.05, row);
    }
    for row in rows("allowed") {
        let found = laid(row).allowed(celsius(row, "rating")).a();
        let expected = figure(row, "amps");
        assert_near(found, expected, expected * 1e-4, row);
    }
}

#[test]
fn pulses_agree_with_a_general_integrator() {
    for row in rows("pulses") {
        let time = Duration::from_s(figure(row, "seconds"));
        let found = laid(row).after(celsius(row, "start"), amps(row), time);
        assert_near(found.c(), figure(row, "celsius"), 0.02, row);
    }
}

#[test]
fn limits_are_reached_when_a_general_integrator_has_them_reached() {
    for row in rows("limits") {
        let found = laid(row).reaches(celsius(row, "start"), amps(row), celsius(row, "limit"));
        match (found, row["seconds"].as_f64()) {
            (None, None) => {}
            (Some(found), Some(expected)) => {
                assert_near(found.s(), expected, expected * 1e-4 + 1e-4, row);
            }
            (found, expected) => panic!("{found:?} instead of {expected:?}: {row}"),
        }
    }
}

#[test]
fn cycles_agree_with_a_general_integrator() {
    for row in rows("cycles") {
        let runs: Vec<Run> = row["runs"].as_array().unwrap().iter().map(run).collect();
        let times = match row["times"].as_u64() {
            Some(count) => Times::Count(u32::try_from(count).unwrap()),
            None => Times::WithoutEnd,
        };
        let found = laid(row).peak(celsius(row, "start"), &runs, times);
        assert_near(found.c(), figure(row, "peak"), 0.02, row);
    }
}

fn run(pair: &Value) -> Run {
    Run {
        current: Current::from_a(pair[0].as_f64().unwrap()),
        time: Duration::from_s(pair[1].as_f64().unwrap()),
    }
}

/// IEC 60949 Table I, resistivity at 20 °C in ohm metres (memory; with them the printed k of
/// IEC 60364-5-54 come out). Clad aluminium: 62.9 % IACS, ASTM B566 class 10A (cross-checked).
#[test]
fn the_heating_constant_follows_from_the_volumetric_heat() {
    let metals = [
        (ConductorMaterial::Copper, 1.7241e-8),
        (ConductorMaterial::TinnedCopper, 1.7241e-8),
        (ConductorMaterial::CladAluminium, 2.741e-8),
    ];
    for (material, resistivity) in metals {
        let row = CATALOG.material(material).unwrap();
        let k = (row.volumetric_heat.get() * (row.beta.c() + 20.0) / resistivity).sqrt() * 1e-6;
        let stated = f64::from(row.heating_constant);
        assert!((k - stated).abs() <= 0.5, "{material}: {k} and {stated}");
    }
}

/// IEC 60287-2-1 Table 1, K m/W (memory); IEC 60853-2, J/(K m3) (memory).
#[test]
fn insulations_have_the_figures_of_iec_60287_and_60853() {
    let table = [
        (Insulation::Pvc, 5.0, 1.7e6),
        (Insulation::CrosslinkedPolyethylene, 3.5, 2.4e6),
        (Insulation::EthylenePropylene, 3.5, 2.0e6),
        (Insulation::Rubber, 5.0, 2.0e6),
    ];
    for (material, resistivity, heat) in table {
        let row = CATALOG.insulation(material).unwrap();
        assert_eq!(row.resistivity.get(), resistivity, "{material}");
        assert_eq!(row.volumetric_heat.get(), heat, "{material}");
    }
}

/// A conductor lies inside its insulation, and is no smaller than a solid one.
#[test]
fn every_cable_of_the_catalog_can_be_reckoned() {
    for cable in &CATALOG.cables {
        let build = Build::of(cable, &CATALOG).unwrap();
        assert!(build.conductor < cable.outer_diameter * 0.95, "{build:?}");
        let solid = (cable.size.nominal_area().mm2() * 4.0 / std::f64::consts::PI).sqrt();
        assert!(build.conductor.mm() >= solid, "{build:?}");
        let air = Temperature::from_c(30.0);
        let laid = Laid::new(&build, 1, air, &CATALOG.installations).unwrap();
        let warm = laid.steady(laid.allowed(cable.rating));
        assert!((warm.c() - cable.rating.c()).abs() < 1e-6, "{warm:?}");
    }
}

/// Fine-strand battery cable in air of 30 °C.
fn battery(text: &str, together: usize) -> Laid {
    let cables = family("fine-strand");
    let cable = cables.iter().find(|cable| cable.size == size(text));
    let build = Build::of(cable.unwrap(), &CATALOG).unwrap();
    let air = Temperature::from_c(30.0);
    Laid::new(&build, together, air, &CATALOG.installations).unwrap()
}

const SIZES: [&str; 8] = [
    "6 mm2", "10 mm2", "16 mm2", "25 mm2", "35 mm2", "50 mm2", "70 mm2", "95 mm2",
];

#[test]
fn a_current_no_cable_stands_ends_at_the_edge_of_the_model() {
    let laid = battery("6 mm2", 1);
    let short = Current::from_a(5000.0);
    assert!((laid.steady(short).c() - HOTTEST.c()).abs() < 1e-6);
    let soon = laid.after(Temperature::from_c(30.0), short, Duration::from_s(3600.0));
    assert!((soon.c() - HOTTEST.c()).abs() < 1e-3);
    assert_eq!(laid.steady(Current::ZERO).c(), 30.0);
}

/// In so short a time nothing is lost: IEC 60949, with the whole of the heat in the metal.
#[test]
fn a_flash_heats_a_little_less_than_without_any_loss() {
    let copper = CATALOG.material(ConductorMaterial::Copper).unwrap();
    let (start, end) = (Temperature::from_c(30.0), Temperature::from_c(105.0));
    for text in SIZES {
        let area = size(text).nominal_area();
        let current = Current::from_a(area.mm2() * 60.0);
        let bare = copper.heats_in(area, current, start, end);
        let time = battery(text, 1).reaches(start, current, end).unwrap();
        assert!(bare < time, "{text}: {bare:?} {time:?}");
        // The insulation takes up to as much heat as the metal, and the standard's resistance is
        // a little more than that of solid copper.
        assert!(time < bare * 2.0, "{text}: {bare:?} {time:?}");
    }
}

/// The sizes of both leads to a winch of 48 V, where volts decide nothing, that runs for a minute;
/// with further keys.
fn winch_sizes(keys: &str) -> Vec<f64> {
    let load = format!("current = \"300 A\"\nduty = \"intermittent\"\nlongest = \"1 min\"\n{keys}");
    let job = lamp_job("road vehicle", "protect = \"none\"", "", &load);
    let plan = planned(&job.replace("12 V", "48 V"));
    plan.sizing.leads.iter().map(|lead| lead.area_mm2).collect()
}

#[test]
fn runs_that_come_again_soon_need_more_copper_than_one_run() {
    let (once, rested, hurried) = (
        winch_sizes(""),
        winch_sizes("rest = \"2 h\""),
        winch_sizes("rest = \"10 s\""),
    );
    assert_eq!(once, rested);
    assert!(
        hurried
            .iter()
            .zip(&once)
            .all(|(hurried, once)| hurried > once),
        "{hurried:?} {once:?}"
    );
}

/// What is said of the feed of a starter that draws more than its thin lead carries for hours.
fn starter_note(keys: &str) -> String {
    let load = format!("current = \"200 A\"\nlocked = \"250 A\"\nlongest = \"5 s\"\n{keys}");
    let feed = "size = \"25 mm2\"\nprotect = \"none\"";
    let job = lamp_job("road vehicle", feed, "", &load);
    let plan = planned(&job.replace("constant current", "starter"));
    let feed = |check: &&Check| check.rule == CheckRule::Ampacity && check.subject == "feed";
    plan.checks.iter().find(feed).unwrap().note.clone()
}

#[test]
fn a_starter_is_tried_as_often_as_the_setting_has_it_with_its_own_rest() {
    let usual = starter_note("");
    assert!(
        usual.contains("210 A for 5 s, 4 times with 30 s rest"),
        "{usual}"
    );
    let own = starter_note("rest = \"2 min\"");
    assert!(
        own.contains("210 A for 5 s, 4 times with 120 s rest"),
        "{own}"
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn more_current_is_hotter(index in 0..SIZES.len(), part in 0.05..1.2f64, more in 1.01..1.5f64,
                              together in 1usize..30) {
        let laid = battery(SIZES[index], together);
        let most = laid.allowed(Temperature::parse("105 C").unwrap());
        let (cool, warm) = (laid.steady(most * part), laid.steady(most * (part * more)));
        prop_assert!(warm > cool, "{cool:?} {warm:?}");
    }

    #[test]
    fn a_thicker_conductor_in_the_same_wall_is_never_hotter(
        area in 0.5..100.0f64, more in 1.05..3.0f64, wall in 0.4..2.5f64, density in 0.5..10.0f64,
        together in 1usize..30,
    ) {
        let current = Current::from_a(area * density);
        let steady = |area: f64| {
            let conductor = Length::from_mm((area * 2.0).sqrt());
            let build = Build {
                area: Area::from_mm2(area),
                conductor,
                outer: conductor + Length::from_mm(2.0 * wall),
                resistance: ResistancePerLength::from_ohm_per_m(0.0185 / area),
                ..build(&rows("cables")[0])
            };
            let air = Temperature::from_c(40.0);
            let laid = Laid::new(&build, together, air, &CATALOG.installations).unwrap();
            laid.steady(current)
        };
        let (thin, thick) = (steady(area), steady(area * more));
        prop_assert!(thick <= thin, "{thin:?} {thick:?}");
        prop_assert!(thick < thin || thin == HOTTEST, "{thin:?} {thick:?}");
    }

    #[test]
    fn a_larger_bundle_is_never_cooler(index in 0..SIZES.len(), amps in 1.0..800.0f64,
                                       together in 1usize..30) {
        let current = Current::from_a(amps);
        let few = battery(SIZES[index], together).steady(current);
        let many = battery(SIZES[index], together + 1).steady(current);
        prop_assert!(many.c() >= few.c() - 1e-9, "{few:?} {many:?}");
    }

    #[test]
    fn a_longer_pulse_is_hotter(index in 0..SIZES.len(), part in 0.5..5.0f64,
                                seconds in 0.01..300.0f64, longer in 1.05..3.0f64) {
        let laid = battery(SIZES[index], 1);
        let current = laid.allowed(Temperature::from_c(105.0)) * part;
        let start = Temperature::from_c(30.0);
        let short = laid.after(start, current, Duration::from_s(seconds));
        let long = laid.after(start, current, Duration::from_s(seconds * longer));
        let settled = laid.steady(current).c() - long.c() < 1e-3;
        prop_assert!(long > short || settled, "{short:?} {long:?}");
    }

    #[test]
    fn a_cycle_peaks_no_lower_than_one_pulse(index in 0..SIZES.len(), part in 0.8..3.0f64,
                                             seconds in 0.1..60.0f64, rest in 1.0..300.0f64,
                                             count in 2u32..6) {
        let laid = battery(SIZES[index], 1);
        let run = |part: f64, seconds: f64| Run {
            current: laid.allowed(Temperature::from_c(105.0)) * part,
            time: Duration::from_s(seconds),
        };
        let runs = [run(part, seconds), run(0.0, rest)];
        let start = Temperature::from_c(30.0);
        let peak = |times| laid.peak(start, &runs, times).c();
        let once = laid.after(start, runs[0].current, runs[0].time).c();
        let (few, endless) = (peak(Times::Count(count)), peak(Times::WithoutEnd));
        prop_assert!(few >= once - 1e-3, "{once} {few}");
        prop_assert!(endless >= few - 1e-2, "{few} {endless}");
    }
}
