//! The volts of a general circuit simulator (ngspice) on the decks of the demo jobs and of 60 random
//! networks. `tests/simulator/remake.py` made the files; the continuous integration remakes them.

use std::collections::BTreeMap;
use std::fs;

use super::support::{Planned, files, root};

/// Volts by state and terminal.
type Volts = BTreeMap<String, BTreeMap<String, f64>>;

const MOST_V: f64 = 1e-6;

#[test]
fn every_network_agrees_with_the_circuit_simulator() {
    let mut paths = files("templates/jobs");
    paths.extend(files("tests/simulator/jobs"));
    let mut compared = 0;
    for path in paths {
        let name = path.file_stem().unwrap().to_str().unwrap();
        let expected = root().join(format!("tests/simulator/expected/{name}.json"));
        let expected: Volts = serde_json::from_str(&fs::read_to_string(expected).unwrap()).unwrap();
        let operation = &Planned::of_file(&path).plan.operation;
        assert_eq!(operation.states.len(), expected.len(), "{name}");
        for state in &operation.states {
            let simulated = &expected[&state.name];
            for terminal in &state.terminals {
                let Some(volts) = simulated.get(&terminal.name) else {
                    continue;
                };
                let off = (terminal.volts - volts).abs();
                assert!(
                    off <= MOST_V,
                    "{name}, {}, {}: {off} V",
                    state.name,
                    terminal.name
                );
                compared += 1;
            }
        }
    }
    assert!(compared > 2000, "{compared}");
}
