//! Worked examples of voltage drop, and internal resistance of batteries.

use longlead::catalog::ConductorMaterial;
use longlead::heat::Laid;
use longlead::quantity::{Current, Length, Quantity, ResistancePerLength};

use super::support::{CATALOG, lamp_job, planned};

/// FAA AC 43.13-1B Table 11-9, ohm/1000 ft (read).
fn handbook(gauge: u32) -> ResistancePerLength {
    let per_thousand_feet = match gauge {
        14 => "3.06",
        12 => "2.02",
        10 => "1.26",
        8 => "0.70",
        6 => "0.44",
        4 => "0.28",
        _ => panic!("no such gauge in the table"),
    };
    ResistancePerLength::parse(&format!("{per_thousand_feet} ohm/1000ft")).unwrap()
}

fn drop_v(gauge: u32, feet: f64, amps: f64) -> f64 {
    let length = Length::parse(&format!("{feet} ft")).unwrap();
    handbook(gauge).of(length).ohm() * amps
}

/// FAA AC 43.13-1B Table 11-7: run in feet, size, printed check in volts, all at 20 A (read). The
/// third and fourth rows are printed rounded; the exact figures are 3.5552 V and 6.12 V. The second
/// row is over its own limit of 0.5 V, for the chart is read by eye.
#[test]
fn the_sizes_found_in_the_handbook_drop_what_it_prints() {
    let rows = [
        (107.0, 6, 0.942),
        (90.0, 4, 0.504),
        (88.0, 12, 3.5552),
        (100.0, 14, 6.12),
    ];
    for (feet, gauge, printed) in rows {
        let found = drop_v(gauge, feet, 20.0);
        assert!(
            (found - printed).abs() < 0.0005,
            "{feet} ft of {gauge}: {found}"
        );
    }
}

/// FAA AC 43.13-1B Table 11-8: longest runs of 10 AWG at 20 A (read). The second row is printed as
/// 0.366 V, a misprint: its own figures give 0.4914 V.
#[test]
fn the_longest_runs_of_the_handbook_drop_what_it_prints() {
    let rows = [(39.0, 0.98), (19.5, 0.4914), (156.0, 3.93), (273.0, 6.88)];
    for (feet, printed) in rows {
        let found = drop_v(10, feet, 20.0);
        assert!((found - printed).abs() < 0.005, "{feet} ft: {found}");
    }
}

/// FAA AC 43.13-1B, first chart example: 50 ft, 28 V, 20 A, limit 1 V; answer 8 AWG (read).
#[test]
fn the_chart_example_takes_8_awg() {
    assert!(drop_v(10, 50.0, 20.0) > 1.0);
    assert!(drop_v(8, 50.0, 20.0) <= 1.0);
}

/// FAA AC 43.13-1B par. 11-66: L2 = 254.5 L1 / (234.5 + T2) for copper (read). 8 AWG, 20 A, 1 V:
/// 71.43 ft at 20 °C become 53.55 ft at 105 °C.
#[test]
fn heat_shortens_the_run_as_the_handbook_says() {
    let beta = CATALOG
        .material(ConductorMaterial::Copper)
        .unwrap()
        .beta
        .c();
    let at_20 = 1.0 / (0.00070 * 20.0);
    let at_105 = at_20 * (beta + 20.0) / (beta + 105.0);
    assert!(
        (at_20 - 71.43).abs() < 0.005 && (at_105 - 53.55).abs() < 0.005,
        "{at_105}"
    );
}

/// Ohm's law through the whole program: what a lead loses is its current times the resistance that
/// IEC 60228 gives for its cut length, at the temperature that IEC 60287 gives its conductor (tested
/// in `heat`), and its joints.
#[test]
fn a_planned_lead_loses_current_times_resistance() {
    let text = lamp_job(
        "road vehicle",
        "size = '16 mm2'\ncable = 'fine-strand'",
        "",
        "current = '40 A'",
    );
    let plan = planned(&text);
    let way = &plan.route.leads[1];
    let state = &plan.operation.states[0];
    let flow = &state.leads[1];
    assert!((flow.amps - 40.0).abs() < 1e-6);
    let cable = flow
        .elements
        .iter()
        .find(|element| element.name.starts_with("cable"))
        .unwrap();
    let sized = &plan.sizing.leads[1];
    let chosen = CATALOG.cable(&sized.cable).unwrap();
    let laid = Laid::on(way, chosen, &CATALOG).unwrap();
    let celsius = laid.steady(Current::from_a(40.0)).c();
    assert!(celsius > 30.0 && celsius < chosen.rating.c(), "{celsius}");
    let ohm = chosen.max_resistance.of(way.cut()).ohm() * (234.5 + celsius) / 254.5;
    assert!(
        (cable.milliohm / 1e3 / ohm - 1.0).abs() < 1e-6,
        "{}",
        cable.milliohm
    );
    let lost: f64 = flow.elements.iter().map(|element| element.millivolt).sum();
    assert!((lost / 1e3 - flow.drop_v).abs() < 1e-9);
}

/// SAE J537: 600 A at -18 °C to 7.2 V, so (12.6 - 7.2) / 600 = 9.0 milliohm (cross-checked in four
/// service manuals). EN 50342-1: 600 A to 7.5 V, so 8.5 milliohm (memory).
#[test]
fn batteries_have_the_resistance_of_their_cold_crank_test() {
    for (standard, expected) in [("SAE J537", 0.0090), ("EN 50342-1", 0.0085)] {
        let volts = |amps: &str| {
            let state =
                "\n[[state]]\nname = 's'\nengine = 'off'\nseason = 'cold'\nloads = ['lamp']";
            let text = lamp_job("road vehicle", "", "", &format!("current = '{amps}'")) + state;
            let text = text.replace("cold = \"20 C\"", "cold = \"-18 C\"").replace(
                "cold_crank =",
                &format!("crank_standard = '{standard}'\ncold_crank ="),
            );
            let plan = planned(&text);
            plan.operation.states[0].items[0].volts
        };
        let ohm = (volts("1 A") - volts("11 A")) / 10.0;
        assert!((ohm - expected).abs() < 1e-9, "{standard}: {ohm}");
    }
}
