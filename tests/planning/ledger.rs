//! The parts on the way of every load's current add up to the volts that it loses.

use longlead::circuit::{LedgerLine, LoadLedger, StateResult};

use super::support::{Planned, files};

/// 1e-9 V.
const MOST_MILLIVOLT: f64 = 1e-6;

fn millivolt(lines: &[LedgerLine]) -> f64 {
    lines.iter().map(|line| line.millivolt).sum()
}

/// Volts between the terminals of a source or load, from the flows of the state.
fn volts(state: &StateResult, name: &str) -> f64 {
    let mut items = state.items.iter();
    let converter = || {
        let mut sources = state.ledger.sources.iter();
        sources
            .find(|source| source.name == name)
            .unwrap()
            .terminals_v
    };
    let item = items.find(|item| item.name == name);
    item.map_or_else(converter, |item| item.volts)
}

fn assert_adds_up(job: &str, state: &StateResult, load: &LoadLedger) {
    let source = load.source.as_ref().unwrap();
    let lost = (volts(state, source) - volts(state, &load.load)) * 1e3;
    let off = (millivolt(&load.out) + millivolt(&load.back) - lost).abs();
    let subject = format!("{job}, {}, {}", state.name, load.load);
    assert!(off <= MOST_MILLIVOLT, "{subject}: {off} mV");
    for line in load.out.iter().chain(&load.back) {
        let ohm = line.milliohm / 1e3;
        assert!(
            (line.millivolt / 1e3 - ohm * line.amps).abs() < 1e-9,
            "{subject}"
        );
        assert!((line.watts - ohm * line.amps * line.amps).abs() < 1e-9 * line.watts.max(1.0));
    }
}

#[test]
fn the_parts_on_the_way_add_up_to_what_each_load_loses() {
    let mut paths = files("templates/jobs");
    paths.extend(files("tests/simulator/jobs"));
    paths.extend(files("tests/jobs/odd"));
    let (mut ways, mut parts) = (0, 0);
    for path in paths {
        let name = path.file_stem().unwrap().to_str().unwrap().to_owned();
        for state in &Planned::of_file(&path).plan.operation.states {
            for load in &state.ledger.loads {
                if load.source.is_some() {
                    assert_adds_up(&name, state, load);
                    ways += 1;
                    parts += load.out.len() + load.back.len();
                }
            }
        }
    }
    assert!(ways > 200 && parts > 2000, "{ways} ways of {parts} parts");
}

#[test]
fn a_battery_loses_inside_what_lies_between_open_circuit_and_terminals() {
    for path in files("templates/jobs") {
        for state in &Planned::of_file(&path).plan.operation.states {
            for source in &state.ledger.sources {
                if source.standing == longlead::circuit::Standing::Gives {
                    let off = source.open_v - source.inside_v - source.terminals_v;
                    assert!(off.abs() < 1e-9, "{}: {off} V", source.name);
                }
            }
        }
    }
}

#[test]
fn a_sensitive_load_has_its_ground_held_against_the_engine() {
    let path = super::support::root().join("templates/jobs/patrol-pickup.toml");
    let operation = &Planned::of_file(&path).plan.operation;
    for state in &operation.states {
        let sensitive = state.ledger.loads.iter().filter(|load| load.sensitive);
        for load in sensitive {
            let ground = load.ground.as_ref().unwrap();
            assert_eq!(ground.against, "engine block");
            assert!(ground.is_engine);
            assert!(ground.worst_millivolt.abs() >= ground.millivolt.abs());
        }
    }
}

#[test]
fn in_a_ring_the_other_way_is_told_with_its_share() {
    let mut told = 0;
    for path in files("tests/simulator/jobs") {
        for state in &Planned::of_file(&path).plan.operation.states {
            for load in &state.ledger.loads {
                for way in &load.other_ways {
                    assert!(way.amps > 0.0 && way.share > 0.0 && way.share <= 1.0);
                    told += 1;
                }
            }
        }
    }
    assert!(told > 20, "{told}");
}
