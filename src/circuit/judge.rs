//! Verdicts on the voltages of one state.

use super::bonds;
use super::charging;
use super::converters;
use super::operate::Solved;
use super::wiring::Wiring;
use crate::catalog::{Basis, Cited};
use crate::check::{Check, CheckRule};
use crate::job::{Demand, Duty, Engine, Importance, State};

/// A verdict, and the two nodes between which more volts would better it.
#[derive(Debug, Clone)]
pub struct Judged {
    /// The verdict.
    pub check: Check,
    /// Node that should be higher, and node that should be lower.
    pub nodes: Option<(usize, usize)>,
}

impl Judged {
    /// A verdict that more volts from one node to another would better.
    pub fn between(check: Check, higher: usize, lower: usize) -> Self {
        let nodes = Some((higher, lower));
        Self { check, nodes }
    }
}

/// Every verdict on a state.
pub fn judge(wiring: &Wiring<'_>, state: &State, solved: &Solved) -> Vec<Judged> {
    let mut checks = vec![operating_point(state, solved)];
    checks.extend(least_voltages(wiring, state, solved));
    if matches!(state.engine, Engine::Cranking | Engine::Locked) {
        checks.extend(cranking_voltage(wiring, solved));
    } else {
        checks.extend(drops(wiring, solved));
    }
    if state.engine == Engine::Cranking {
        checks.extend(cranking_drops(wiring, solved));
    }
    checks.extend(charging::judge(wiring, state, solved));
    checks.extend(converters::judge(wiring, state, solved));
    checks.extend(bonds::judge(wiring, solved));
    for judged in &mut checks {
        judged.check.state = Some(state.name.clone());
    }
    checks
}

fn operating_point(state: &State, solved: &Solved) -> Judged {
    let collapsed = solved.collapsed();
    let holds = solved.solution.converged && collapsed.is_empty();
    let source = Cited {
        value: (),
        citation: "Kirchhoff's laws".to_owned(),
        basis: Basis::Published,
    };
    let note = if holds {
        "every load has the voltage it needs to draw what is stated".to_owned()
    } else if collapsed.is_empty() {
        "no set of voltages satisfies all loads at once".to_owned()
    } else {
        let names: Vec<&str> = collapsed.iter().map(|draw| draw.name.as_str()).collect();
        let names = names.join(", ");
        format!("the supply collapses: less than half the nominal voltage is left at {names}")
    };
    let mut check = Check::holds(CheckRule::OperatingPoint, &state.name, holds, &source);
    let first = collapsed.first();
    if let Some(draw) = first {
        check.value = Some(solved.across(draw.positive, draw.negative));
        check.limit = Some(draw.floor_v(solved.network.floor_v));
        check.unit = "V";
    }
    Judged {
        check: check.with_note(note),
        nodes: first.map(|draw| (draw.positive, draw.negative)),
    }
}

fn least_voltages(wiring: &Wiring<'_>, state: &State, solved: &Solved) -> Vec<Judged> {
    let mut checks = Vec::new();
    for id in &state.loads {
        let load = wiring.job.load(*id);
        let Some(least) = load.given.least else {
            continue;
        };
        let volts = solved.across(load.positive.0, load.negative.0);
        let limit = Cited {
            value: least.v(),
            citation: "the job file".to_owned(),
            basis: Basis::User,
        };
        let note = format!(
            "{volts:.2} V at `{}`, which needs {:.2} V",
            load.name(),
            least.v()
        );
        let check = Check::at_least(CheckRule::LeastVoltage, load.name(), volts, &limit, "V");
        let (higher, lower) = (load.positive.0, load.negative.0);
        checks.push(Judged::between(check.with_note(note), higher, lower));
    }
    checks
}

/// Volts lost from the source that feeds each load to the load, out and back.
fn drops(wiring: &Wiring<'_>, solved: &Solved) -> Vec<Judged> {
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
        let nominal = job.system_voltage.v() * draw.supply;
        let limit = rule.map(|part| part.fraction() * nominal);
        let volts = solved.across(draw.positive, draw.negative);
        let lost = solved
            .feeding_v(draw.positive, volts)
            .map_or(0.0, |source| source - volts);
        let note = format!(
            "{lost:.2} V lost out and back from its source, {:.1} % of {} V",
            lost / nominal * 100.0,
            nominal
        );
        let check = Check::at_most(CheckRule::VoltageDrop, load.name(), lost, &limit, "V");
        let (higher, lower) = (draw.positive, draw.negative);
        checks.push(Judged::between(check.with_note(note), higher, lower));
    }
    checks
}

/// Volts at each battery that gives current, against the least that its cells may fall to.
fn cranking_voltage(wiring: &Wiring<'_>, solved: &Solved) -> Vec<Judged> {
    const CELLS_IN_TWELVE_VOLTS: f64 = 6.0;
    let rule = &wiring.job.rules.cranking_least_cell;
    let mut checks = Vec::new();
    for battery in &wiring.job.batteries {
        if !solved.has_source(&battery.given.name) {
            continue;
        }
        let volts = solved.across(battery.positive.0, battery.negative.0);
        let cells = battery.given.voltage.v() / 12.0 * CELLS_IN_TWELVE_VOLTS;
        let limit = rule.map(|cell| cell.v() * cells);
        let name = battery.given.name.value.as_str();
        let note = format!("{volts:.2} V at the terminals of `{name}` while the engine is cranked");
        let check = Check::at_least(CheckRule::CrankingVoltage, name, volts, &limit, "V");
        // No cable of this job raises the volts at the battery's own terminals.
        checks.push(Judged {
            check: check.with_note(note),
            nodes: None,
        });
    }
    checks
}

/// Volts lost between the battery that gives most current and each starter, each way.
fn cranking_drops(wiring: &Wiring<'_>, solved: &Solved) -> Vec<Judged> {
    let job = wiring.job;
    let given = |battery: &&crate::job::Battery| {
        let name = battery.given.name.value.as_str();
        let source = solved
            .network
            .sources
            .iter()
            .find(|source| source.name == name);
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
    for load in &job.loads {
        if !matches!(load.demand, Demand::Starter { .. }) {
            continue;
        }
        let sides = [
            (
                "positive side",
                &job.rules.cranking_drop_positive,
                (load.positive, battery.positive),
            ),
            (
                "return side",
                &job.rules.cranking_drop_return,
                (battery.negative, load.negative),
            ),
        ];
        for (side, rule, (higher, lower)) in sides {
            let lost = solved.across(lower.0, higher.0);
            let limit = rule.map(|volts| volts.v() * job.twelfths());
            let subject = format!("{}, {side}", load.name());
            let note = format!("{lost:.2} V lost on the {side} between battery and starter");
            let check = Check::at_most(CheckRule::CrankingDrop, &subject, lost, &limit, "V");
            checks.push(Judged::between(check.with_note(note), higher.0, lower.0));
        }
    }
    checks
}
