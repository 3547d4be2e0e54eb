//! Textbook networks, to the digits printed there.
//!
//! Source of networks and answers: Principles of Power System, chapter 13 (PS), and A Text Book on
//! Power System Engineering, part II chapter 18 (PSE), worked examples of the numbers given; read
//! in public transcriptions. Branch resistances are loop values, loads constant currents.

use super::network::{Draw, DrawKind, Network, Source};
use super::solve::Solver;
use crate::job::LoadId;

/// Volts of nodes 1.. against node 0, which is the common return.
fn volts(
    nodes: usize,
    sources: &[(usize, f64, f64)],
    branches: &[(usize, usize, f64)],
    loads: &[(usize, f64)],
) -> Vec<f64> {
    let mut network = Network::of_figures(nodes, sources, branches);
    network.draws = loads
        .iter()
        .map(|(node, amps)| Draw {
            load: LoadId(0),
            name: "".into(),
            positive: *node,
            negative: 0,
            kind: DrawKind::Amps(*amps),
            supply: 1.0,
        })
        .collect();
    let solver = Solver::of(&network);
    let solution = solver.solve(&network);
    assert!(solution.converged);
    assert_eq!(solver.references, [0]);
    solution.volts
}

/// A source as stiff as the textbook's, which has no resistance.
const STIFF: f64 = 1e-9;

fn assert_close(found: &[f64], printed: &[f64], within: f64) {
    for (found, printed) in found.iter().zip(printed) {
        assert!(
            (found - printed).abs() <= within,
            "{found} instead of {printed}"
        );
    }
}

#[test]
fn radial_feeder_ps_13_1() {
    let found = volts(
        6,
        &[(1, 300.0, STIFF)],
        &[(1, 2, 0.010), (2, 3, 0.010), (3, 4, 0.012), (4, 5, 0.008)],
        &[(2, 100.0), (3, 150.0), (4, 200.0), (5, 50.0)],
    );
    assert_close(&found[2..], &[295.0, 291.0, 288.0, 287.6], 1e-5);
}

#[test]
fn feeder_fed_at_both_ends_ps_13_11() {
    let per_metre = 0.6 / 1000.0;
    let spans = [
        (1, 2, 50.0),
        (2, 3, 25.0),
        (3, 4, 25.0),
        (4, 5, 50.0),
        (5, 6, 50.0),
    ];
    let branches = spans.map(|(a, b, metres)| (a, b, metres * per_metre));
    let found = volts(
        7,
        &[(1, 230.0, STIFF), (6, 235.0, STIFF)],
        &branches,
        &[(2, 25.0), (3, 50.0), (4, 30.0), (5, 40.0)],
    );
    assert_close(&found[2..6], &[229.000, 228.875, 229.500, 231.650], 1e-5);
}

#[test]
fn ring_ps_13_22() {
    let found = volts(
        4,
        &[(1, 240.0, STIFF)],
        &[(1, 2, 0.09), (2, 3, 0.03), (3, 1, 0.06)],
        &[(2, 120.0), (3, 80.0)],
    );
    assert_close(&found[2..], &[232.2, 233.2], 1e-5);
}

#[test]
fn five_node_ring_ps_13_23() {
    let found = volts(
        6,
        &[(1, 220.0, STIFF)],
        &[
            (1, 2, 0.1),
            (2, 3, 0.05),
            (3, 4, 0.01),
            (4, 5, 0.025),
            (5, 1, 0.075),
        ],
        &[(2, 10.0), (3, 20.0), (4, 30.0), (5, 10.0)],
    );
    assert_close(&found[2..], &[217.0962, 216.1442, 216.1538, 216.9279], 1e-4);
}

/// The book rounds an intermediate figure and breaks Kirchhoff's law; these are the exact answers
/// of its own network.
#[test]
fn ring_with_interconnector_ps_13_24() {
    let found = volts(
        5,
        &[(1, 250.0, STIFF)],
        &[
            (1, 2, 0.02),
            (2, 3, 0.018),
            (3, 4, 0.025),
            (4, 1, 0.02),
            (1, 3, 0.02),
        ],
        &[(2, 150.0), (3, 300.0), (4, 250.0)],
    );
    assert_close(&found[2..], &[245.9614, 245.0267, 245.0119], 1e-4);
}

#[test]
fn star_of_five_sources_pse_18_1() {
    let sources = [
        (1, 225.0, 5.0),
        (1, 210.0, 1.0),
        (1, 230.0, 1.0),
        (1, 230.0, 2.0),
        (1, 240.0, 2.0),
    ];
    let found = volts(2, &sources, &[], &[]);
    assert_close(&found[1..], &[225.0], 1e-6);
}

/// Ohm's law: 12 V behind 1 ohm feed a lamp of 5 ohm.
#[test]
fn a_resistance_draws_by_ohms_law() {
    let network = Network {
        nodes: 2,
        branches: Vec::new(),
        sources: vec![Source {
            name: "".into(),
            positive: 1,
            negative: 0,
            volts: 12.0,
            ohm: 1.0,
            limit_a: None,
        }],
        draws: vec![Draw {
            load: LoadId(0),
            name: "".into(),
            positive: 1,
            negative: 0,
            kind: DrawKind::Ohms(5.0),
            supply: 1.0,
        }],
        converters: Vec::new(),
        floor_v: 6.0,
    };
    assert_close(
        &Solver::of(&network).solve(&network).volts,
        &[0.0, 10.0],
        1e-9,
    );
}
