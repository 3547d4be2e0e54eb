//! What physics asks of every network, on random jobs: the volts, watts and verdicts of
//! `tests/simulator/jobs`, and radial jobs made here.

use longlead::check::{Check, CheckRule};
use longlead::circuit::{DrawKind, Solved};
use longlead::plan::wiring;
use proptest::prelude::*;

use super::support::{Planned, WORKSHOP, files};

/// What the sources drive is what conductors, batteries and loads turn to heat and work.
#[test]
fn what_sources_drive_is_heat_and_load() {
    let mut states = 0;
    for path in files("tests/simulator/jobs") {
        let Planned { job, plan } = Planned::of_file(&path);
        let protection = Some(&plan.protection);
        let wired = wiring(
            job,
            &plan.route,
            &plan.sizing,
            protection,
            &WORKSHOP.catalog,
        );
        for frame in &wired.frames.states {
            let solved = Solved::of(&wired, frame);
            let network = &solved.network;
            let across = |(plus, minus): (usize, usize)| solved.across(plus, minus);
            let mut driven = 0.0;
            for source in &network.sources {
                let volts = across((source.positive, source.negative));
                driven += volts * source.current(volts).0;
            }
            let mut used = 0.0;
            for branch in &network.branches {
                used += across((branch.from, branch.to)).powi(2) / branch.ohm;
            }
            for draw in &network.draws {
                let volts = across((draw.positive, draw.negative));
                used += volts * draw.current(volts, network.floor_v).0;
            }
            for converter in &network.converters {
                let (input, output) = (across(converter.input), across(converter.output));
                let flow = converter.flow(input, output);
                used += input * flow.input_a - output * flow.output_a;
            }
            let off = (driven - used).abs();
            assert!(
                off <= 1e-6 * driven.abs().max(1.0),
                "{}: {off} W",
                path.display()
            );
            states += 1;
        }
    }
    assert!(states > 200, "{states}");
}

#[test]
fn the_worst_corner_never_beats_the_plan() {
    let mut judged = 0;
    for path in files("tests/simulator/jobs") {
        for check in &Planned::of_file(&path).plan.checks {
            let (Some(worst), Some(planned)) = (check.value, check.nominal) else {
                continue;
            };
            let low = matches!(
                check.rule,
                CheckRule::LeastVoltage | CheckRule::CrankingVoltage
            );
            let worse = if low {
                planned - worst
            } else {
                worst - planned
            };
            assert!(worse >= -1e-9, "{}: {check:?}", path.display());
            judged += 1;
        }
    }
    assert!(judged > 1000, "{judged}");
}

/// A radial job: a battery, a bus, and loads out and back; sizes fixed.
fn radial(sizes: &[u32], loads: &[(bool, f64, f64)]) -> String {
    let mut text = String::from(
        "title = 'radial'\nsystem_voltage = '12 V'\nsetting = 'road vehicle'\n\
         [climate]\ncold = '-10 C'\nhot = '35 C'\n\
         [[space]]\nname = 'cab'\ntemperature = '35 C'\n\
         [[place]]\nname = 'p0'\nspace = 'cab'\n[[place]]\nname = 'p1'\nspace = 'cab'\n\
         [[leg]]\nfrom = 'p0'\nto = 'p1'\nlength = '2 m'\nspace = 'cab'\n\
         [[battery]]\nname = 'battery'\nplace = 'p0'\nchemistry = 'flooded'\nvoltage = '12 V'\n\
         capacity = '80 Ah'\ncold_crank = '600 A'\n\
         [[bus]]\nname = 'bus'\nplace = 'p1'\npolarity = 'positive'\n\
         [[bus]]\nname = 'back'\nplace = 'p1'\npolarity = 'negative'\n",
    );
    let lead = |name: &str, from: &str, to: &str, size: u32| {
        format!(
            "[[lead]]\nname = '{name}'\nfrom = '{from}'\nto = '{to}'\nsize = '{size} mm2'\ncable = 'fine-strand'\n\
             protect = 'none'\n"
        )
    };
    let mut leads = lead("main", "battery +", "bus", sizes[0]);
    leads += &lead("return", "back", "battery -", sizes[1]);
    for (index, (power, amps, metres)) in loads.iter().enumerate() {
        let kind = if *power {
            format!("kind = 'constant power'\npower = '{} W'", amps * 12.0)
        } else {
            format!("kind = 'constant current'\ncurrent = '{amps} A'")
        };
        text += &format!(
            "[[place]]\nname = 'at {index}'\nspace = 'cab'\n\
             [[leg]]\nfrom = 'p1'\nto = 'at {index}'\nlength = '{metres:.2} m'\nspace = 'cab'\n\
             [[load]]\nname = 'load {index}'\nplace = 'at {index}'\n{kind}\nstud = 'M6'\n"
        );
        let (plus, minus) = (format!("load {index} +"), format!("load {index} -"));
        leads += &lead(&format!("out {index}"), "bus", &plus, sizes[2 + 2 * index]);
        leads += &lead(
            &format!("home {index}"),
            &minus,
            "back",
            sizes[3 + 2 * index],
        );
    }
    text + &leads
}

fn load_volts(text: &str) -> Vec<f64> {
    let planned = Planned::of_text(text);
    let wired = wiring(
        &planned.job,
        &planned.plan.route,
        &planned.plan.sizing,
        None,
        &WORKSHOP.catalog,
    );
    let solved = Solved::of(&wired, &wired.frames.states[0]);
    let draws = solved.network.draws.iter();
    draws
        .map(|draw| {
            assert!(!matches!(draw.kind, DrawKind::Ohms(_)));
            solved.across(draw.positive, draw.negative)
        })
        .collect()
}

const SIZES: [u32; 6] = [16, 25, 35, 50, 70, 95];

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    /// Without rings, and with loads that do not draw more at more volts; see DEVELOPERS.md on why
    /// it is otherwise with them.
    #[test]
    fn a_thicker_cable_never_lowers_the_volts_of_a_load_of_a_radial_job(
        rungs in prop::collection::vec(0..5_usize, 8),
        raised in 0..8_usize,
        loads in prop::collection::vec((any::<bool>(), 2.0..20.0_f64, 0.5..4.0_f64), 3),
    ) {
        let sizes: Vec<u32> = rungs.iter().map(|rung| SIZES[*rung]).collect();
        let mut thicker = sizes.clone();
        thicker[raised] = SIZES[rungs[raised] + 1];
        let (before, after) = (load_volts(&radial(&sizes, &loads)), load_volts(&radial(&thicker, &loads)));
        for (before, after) in before.iter().zip(&after) {
            prop_assert!(*after >= before - 1e-9);
        }
    }
}

/// The blocks of a job file that stand under `[[...]]`, turned round.
fn reversed(text: &str) -> String {
    let mut blocks: Vec<String> = Vec::new();
    for line in text.lines() {
        if line.starts_with("[[") || blocks.is_empty() {
            blocks.push(String::new());
        }
        let block = blocks.last_mut().unwrap();
        block.push_str(line);
        block.push('\n');
    }
    let head = blocks.remove(0);
    blocks.reverse();
    head + &blocks.concat()
}

#[test]
fn results_do_not_depend_on_the_order_of_the_file() {
    let told = |check: &Check| {
        (
            check.rule.as_str(),
            check.subject.clone(),
            check.state.clone(),
            check.verdict,
            check.value.map(|value| format!("{value:.6}")),
        )
    };
    for path in files("tests/simulator/jobs").iter().take(24) {
        let text = std::fs::read_to_string(path).unwrap();
        let (as_is, turned) = (Planned::of_file(path), Planned::of_text(&reversed(&text)));
        let sizes = |planned: &Planned| {
            let leads = planned.plan.sizing.leads.iter();
            let mut sizes: Vec<(String, String, Option<String>)> = leads
                .map(|lead| {
                    let name = planned.job.lead(lead.lead).name.clone();
                    (name, lead.cable.clone(), lead.device.clone())
                })
                .collect();
            sizes.sort();
            sizes
        };
        assert_eq!(sizes(as_is), sizes(&turned), "{}", path.display());
        let mut checks: Vec<_> = as_is.plan.operation.checks.iter().map(told).collect();
        let mut others: Vec<_> = turned.plan.operation.checks.iter().map(told).collect();
        checks.sort_by(|a, b| format!("{a:?}").cmp(&format!("{b:?}")));
        others.sort_by(|a, b| format!("{a:?}").cmp(&format!("{b:?}")));
        assert_eq!(checks, others, "{}", path.display());
    }
}
