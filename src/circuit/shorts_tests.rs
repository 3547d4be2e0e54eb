#![allow(clippy::unwrap_used)]

use proptest::prelude::*;

use super::*;

/// Node 0 is the return. Every branch is one metre long.
fn shorts(nodes: usize, sources: &[(usize, f64, f64)], branches: &[(usize, usize, f64)]) -> Shorts {
    let network = Network::of_figures(nodes, sources, branches);
    let scales = branches.iter().map(|(.., ohm)| Scale::of_one_metre(*ohm));
    let solver = Arc::new(Solver::of(&network));
    Shorts::new(network, &solver, scales.collect())
}

const BOLTED: f64 = 1e-5;

fn at(shorts: &Shorts, lead: usize, metre: f64) -> Short {
    let at = Length::from_m(metre);
    shorts.at(LeadId(lead), at, TerminalId(0), BOLTED).unwrap()
}

fn close(found: f64, wanted: f64) -> bool {
    (found - wanted).abs() <= 1e-5 * wanted.abs().max(1.0)
}

/// 12 V behind 5 mohm feed a lead of 3 mohm; the short itself has 0.01 mohm.
/// At the start 12 V / 5.01 mohm = 2395.2 A, half way 12 V / 6.51 mohm = 1843.3 A,
/// at the end 12 V / 8.01 mohm = 1498.1 A.
#[test]
fn a_short_along_one_lead_is_ohms_law() {
    let lead = shorts(3, &[(1, 12.0, 0.005)], &[(1, 2, 0.003)]);
    for (metre, amps) in [(0.0, 2395.2), (0.5, 1843.3), (1.0, 1498.1)] {
        let found = at(&lead, 0, metre);
        assert!((found.amps - amps).abs() < 0.1, "{metre} m: {}", found.amps);
        assert!(close(found.near, found.amps) && close(found.alone, found.amps));
    }
}

/// Two batteries of 12 V behind 5 mohm and 8 mohm at the ends of a lead of 4 mohm, short in its
/// middle through 0.01 mohm. The ends are 7 mohm and 10 mohm away, together 4.1176 mohm:
/// 12 V / 4.1276 mohm = 2907.2 A, of which 10 / 17 come from the first end, 1710.1 A. With the far
/// battery gone 12 V / 7.01 mohm = 1711.8 A.
#[test]
fn a_short_between_two_batteries_is_fed_by_both() {
    let lead = shorts(3, &[(1, 12.0, 0.005), (2, 12.0, 0.008)], &[(1, 2, 0.004)]);
    let found = at(&lead, 0, 0.5);
    assert!((found.amps - 2907.2).abs() < 0.1, "{}", found.amps);
    assert!((found.near - 1710.1).abs() < 0.1, "{}", found.near);
    assert!((found.far - 1197.1).abs() < 0.1, "{}", found.far);
    assert!((found.alone - 1711.8).abs() < 0.1, "{}", found.alone);
}

/// Loop, tail and second battery: (1)-(2)-(3), (1)-(3) and (3)-(4).
fn net(source_ohm: f64, ohms: [f64; 4], second: Option<(f64, f64)>) -> Shorts {
    let mut sources = vec![(1, 12.6, source_ohm)];
    sources.extend(second.map(|(volts, ohm)| (4, volts, ohm)));
    let [a, b, c, d] = ohms;
    shorts(5, &sources, &[(1, 2, a), (2, 3, b), (1, 3, c), (3, 4, d)])
}

fn ohms() -> impl Strategy<Value = [f64; 4]> {
    [1e-4..0.1, 1e-4..0.1, 1e-4..0.1, 1e-4..0.1]
}

proptest! {
    #[test]
    fn a_larger_source_resistance_never_raises_a_fault(
        ohms in ohms(), source in 1e-3..0.05, more in 0.0..0.05, lead in 0usize..4, metre in 0.0..1.0,
    ) {
        let (before, after) = (net(source, ohms, None), net(source + more, ohms, None));
        let (before, after) = (at(&before, lead, metre), at(&after, lead, metre));
        prop_assert!(after.amps <= before.amps * (1.0 + 1e-9));
    }

    #[test]
    fn a_fault_falls_along_a_radial_lead(
        ohms in ohms(), source in 1e-3..0.05, metre in 0.0..1.0, further in 0.0..1.0,
    ) {
        let net = net(source, ohms, None);
        let (near, far) = (at(&net, 3, f64::min(metre, further)), at(&net, 3, f64::max(metre, further)));
        prop_assert!(far.amps <= near.amps * (1.0 + 1e-9));
    }

    /// A short inside a lead against the same network with a node put in there.
    #[test]
    fn a_sliding_short_is_that_of_a_node_put_in(
        ohms in ohms(), source in 1e-3..0.05, volts in 11.0..13.0, second in 1e-3..0.05,
        metre in 0.01..0.99,
    ) {
        let [a, b, c, d] = ohms;
        let found = at(&net(source, ohms, Some((volts, second))), 0, metre);
        let sources = [(1, 12.6, source), (4, volts, second)];
        let split = shorts(6, &sources, &[
            (1, 5, a * metre), (2, 3, b), (1, 3, c), (3, 4, d), (5, 2, a * (1.0 - metre)),
        ]);
        let short = split.between(TerminalId(5), TerminalId(0), BOLTED);
        prop_assert!(close(found.amps.abs(), short), "{} {}", found.amps, short);
        prop_assert!(close(found.near + found.far, found.amps));
        let ended = at(&split, 0, 1.0);
        prop_assert!(close(found.near, ended.near), "{} {}", found.near, ended.near);
        // The same lead cut off behind the short.
        let cut = shorts(6, &sources, &[(1, 5, a * metre), (2, 3, b), (1, 3, c), (3, 4, d)]);
        let alone = cut.between(TerminalId(5), TerminalId(0), BOLTED);
        prop_assert!(close(found.alone, alone), "{} {}", found.alone, alone);
    }

    /// A short told by what the network shows before it, against the network with the short in it.
    #[test]
    fn a_short_is_that_of_the_network_with_it(
        ohms in ohms(), source in 1e-3..0.05, volts in 11.0..13.0, lead in 0usize..4,
        metre in prop_oneof![Just(0.0), Just(1.0), 0.01..0.99],
    ) {
        let net = net(source, ohms, Some((volts, 0.01)));
        let short = at(&net, lead, metre);
        let (told, network) = (net.volts_under(&short), net.network_under(&short));
        let solved = Solver::of(&network).solve(&network).volts;
        for (told, solved) in told.iter().zip(&solved) {
            prop_assert!((told - solved).abs() <= 1e-9, "{told} {solved}");
        }
        let fault = network.branches.last().unwrap();
        let amps = (solved[fault.from] - solved[fault.to]) / fault.ohm;
        prop_assert!((short.amps - amps).abs() <= 1e-6 * amps.abs(), "{} {amps}", short.amps);
    }

    #[test]
    fn currents_into_a_node_balance_under_a_short(
        ohms in ohms(), source in 1e-3..0.05, metre in 0.01..0.99,
    ) {
        // Node 2 joins the first two leads alone.
        let net = net(source, ohms, None);
        let short = at(&net, 0, metre);
        let through = net.through(LeadId(1), &short);
        prop_assert!(close(through, short.far.abs()), "{through} {}", short.far);
    }
}
