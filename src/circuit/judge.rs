//! Verdicts on the voltages of one state.

use std::sync::Arc;

use super::bonds;
use super::charging;
use super::converters;
use super::corner::{Corners, Harm, Quantity};
use super::held::{Held, Judged, Limit, Subject};
use super::network::Draw;
use super::operate::Solved;
use super::wiring::Wiring;
use crate::catalog::{Basis, Cited};
use crate::check::{Check, CheckRule};
use crate::job::{BatteryId, Demand, Duty, Engine, Importance, LoadId, State};

/// Every verdict on a state, each at its worst corner.
pub fn judge<'a>(wiring: &Wiring<'a>, state: &'a State, corners: &mut Corners) -> Vec<Judged<'a>> {
    let solved = &Arc::clone(&corners.solved);
    let mut checks = vec![operating_point(wiring, state, corners)];
    checks.extend(least_voltages(wiring, state, corners));
    if matches!(state.engine, Engine::Cranking | Engine::Locked) {
        checks.extend(cranking_voltage(wiring, corners));
    } else {
        checks.extend(drops(wiring, solved, corners));
    }
    if state.engine == Engine::Cranking {
        checks.extend(cranking_drops(wiring, solved, corners));
    }
    checks.extend(charging::judge(wiring, state, corners));
    checks.extend(converters::judge(wiring, state, corners));
    checks.extend(bonds::judge(wiring, corners));
    let checks = checks.into_iter();
    checks.map(|judged| judged.in_state(&state.name)).collect()
}

fn operating_point<'a>(wiring: &Wiring<'a>, state: &'a State, corners: &Corners) -> Judged<'a> {
    let counts = |draw: &Draw| !wiring.job.load(draw.load).is_starter();
    let starved = corners.starved_names(counts);
    let solved = Arc::clone(&corners.solved);
    Judged::told(move || operating_point_told(state, &solved, &starved))
}

fn operating_point_told(state: &State, solved: &Solved, starved: &[Arc<str>]) -> Check {
    let collapsed = solved.collapsed();
    let source = Cited {
        value: (),
        citation: "Kirchhoff's laws".to_owned(),
        basis: Basis::Published,
    };
    let (holds, note) = if !solved.solution.converged {
        let note = "no set of voltages satisfies all loads at once".to_owned();
        (false, note)
    } else if !collapsed.is_empty() {
        let names: Vec<&str> = collapsed.iter().map(|draw| &*draw.name).collect();
        let names = names.join(", ");
        let note =
            format!("the supply collapses: less than half the nominal voltage is left at {names}");
        (false, note)
    } else if !starved.is_empty() {
        let names = starved.join(", ");
        let note =
            format!("it works as planned, but at its worst corner the supply collapses at {names}");
        (false, note)
    } else {
        let note = "every load has the voltage it needs to draw what is stated, at the worst \
                    corner too";
        (true, note.to_owned())
    };
    let mut check = Check::holds(CheckRule::OperatingPoint, &state.name, holds, &source);
    let first = collapsed.first();
    if let Some(draw) = first {
        check.value = Some(solved.across(draw.positive, draw.negative));
        check.limit = Some(draw.floor_v(solved.network.floor_v));
        check.unit = "V";
    }
    check.with_note(note)
}

fn least_voltages<'a>(
    wiring: &Wiring<'a>,
    state: &State,
    corners: &mut Corners,
) -> Vec<Judged<'a>> {
    let mut checks = Vec::new();
    for id in &state.loads {
        let load = wiring.job.load(*id);
        let Some(least) = load.given.least else {
            continue;
        };
        let held = Held {
            rule: CheckRule::LeastVoltage,
            subject: Subject::Load(*id),
            quantity: Quantity::Across {
                higher: load.positive.0,
                lower: load.negative.0,
            },
            harm: Harm::Low,
            limit: Limit {
                volts: least.v(),
                citation: "the job file",
                basis: Basis::User,
            },
        };
        checks.push(held.judge(wiring, corners, move |worst, nominal| {
            format!(
                "{nominal:.2} V at `{}` as planned, {worst:.2} V at worst; it needs {:.2} V",
                load.name(),
                least.v()
            )
        }));
    }
    checks
}

/// Volts lost from the source that feeds each load to the load, out and back.
fn drops<'a>(wiring: &Wiring<'a>, solved: &Solved, corners: &mut Corners) -> Vec<Judged<'a>> {
    let job = wiring.job;
    let mut draws = solved.network.draws.iter();
    let short_run = draws.any(|draw| job.load(draw.load).given.duty == Duty::Intermittent);
    let mut checks = Vec::new();
    for draw in &solved.network.draws {
        let load = job.load(draw.load);
        let rule = match load.given.importance {
            Importance::Critical => &job.rules.drop_critical,
            Importance::Ordinary if short_run => &job.rules.drop_intermittent,
            Importance::Ordinary => &job.rules.drop_ordinary,
        };
        let nominal_v = job.system_voltage.v() * draw.supply;
        let volts = solved.across(draw.positive, draw.negative);
        let Some(source) = solved.feeding(draw.positive, volts) else {
            let limit = Limit::of(rule, |part| part.fraction() * nominal_v);
            checks.push(Judged::told(move || unfed(load.name(), limit)));
            continue;
        };
        let held = Held {
            rule: CheckRule::VoltageDrop,
            subject: Subject::Load(draw.load),
            quantity: Quantity::Lost {
                source: (source.positive, source.negative),
                load: (draw.positive, draw.negative),
            },
            harm: Harm::High,
            limit: Limit::of(rule, |part| part.fraction() * nominal_v),
        };
        checks.push(held.judge(wiring, corners, move |worst, nominal| {
            format!(
                "{nominal:.2} V lost out and back from `{}` as planned, {worst:.2} V at worst, \
                 {:.1} % of {nominal_v} V",
                source.name,
                worst / nominal_v * 100.0,
            )
        }));
    }
    checks
}

/// A load that no source is above: it loses nothing, for nothing flows to it.
fn unfed(load: &str, limit: Limit<'_>) -> Check {
    let check = Check::at_most(CheckRule::VoltageDrop, load, 0.0, &limit.cited(), "V");
    check.with_note("no source holds its voltage above that of the load")
}

/// Volts at each battery that gives current, against the least that its cells may fall to.
fn cranking_voltage<'a>(wiring: &Wiring<'a>, corners: &mut Corners) -> Vec<Judged<'a>> {
    const CELLS_IN_TWELVE_VOLTS: f64 = 6.0;
    let rule = &wiring.job.rules.cranking_least_cell;
    let mut checks = Vec::new();
    for (index, battery) in wiring.job.batteries.iter().enumerate() {
        if !corners.solved.has_source(&battery.given.name) {
            continue;
        }
        let cells = battery.given.voltage.v() / 12.0 * CELLS_IN_TWELVE_VOLTS;
        let name = battery.given.name.value.as_str();
        let held = Held {
            rule: CheckRule::CrankingVoltage,
            subject: Subject::Battery(BatteryId(index)),
            quantity: Quantity::Across {
                higher: battery.positive.0,
                lower: battery.negative.0,
            },
            harm: Harm::Low,
            limit: Limit::of(rule, |cell| cell.v() * cells),
        };
        let judged = held.judge(wiring, corners, move |worst, nominal| {
            format!(
                "{nominal:.2} V at the terminals of `{name}` while the engine is cranked, \
                 {worst:.2} V at worst"
            )
        });
        // No cable of this job raises the volts at the battery's own terminals.
        checks.push(Judged {
            judged: None,
            ..judged
        });
    }
    checks
}

/// Volts lost between the battery that gives most current and each starter, each way.
fn cranking_drops<'a>(
    wiring: &Wiring<'a>,
    solved: &Solved,
    corners: &mut Corners,
) -> Vec<Judged<'a>> {
    let job = wiring.job;
    let given = |battery: &&crate::job::Battery| {
        let name = battery.given.name.value.as_str();
        let source = solved
            .network
            .sources
            .iter()
            .find(|source| *source.name == *name);
        source.map_or(0.0, |source| {
            source
                .current(solved.across(source.positive, source.negative))
                .0
        })
    };
    let strongest = job
        .batteries
        .iter()
        .max_by(|a, b| given(a).total_cmp(&given(b)));
    let Some(battery) = strongest else {
        return Vec::new();
    };
    let mut checks = Vec::new();
    for (index, load) in job.loads.iter().enumerate() {
        if !matches!(load.demand, Demand::Starter { .. }) {
            continue;
        }
        let id = LoadId(index);
        let sides = [
            (
                ("positive side", Subject::PositiveSide(id)),
                &job.rules.cranking_drop_positive,
                (battery.positive, load.positive),
            ),
            (
                ("return side", Subject::ReturnSide(id)),
                &job.rules.cranking_drop_return,
                (load.negative, battery.negative),
            ),
        ];
        for ((side, subject), rule, (higher, lower)) in sides {
            let held = Held {
                rule: CheckRule::CrankingDrop,
                subject,
                quantity: Quantity::Across {
                    higher: higher.0,
                    lower: lower.0,
                },
                harm: Harm::High,
                limit: Limit::of(rule, |volts| volts.v() * job.twelfths()),
            };
            checks.push(held.judge(wiring, corners, move |worst, nominal| {
                format!(
                    "{nominal:.2} V lost on the {side} between battery and starter as planned, \
                     {worst:.2} V at worst"
                )
            }));
        }
    }
    checks
}
