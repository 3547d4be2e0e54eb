//! Verdicts on the voltages of one state.

use std::rc::Rc;

use super::bonds;
use super::charging;
use super::converters;
use super::corner::{Corners, Harm, Quantity, Worst};
use super::operate::Solved;
use super::tolerance::Doubt;
use super::wiring::Wiring;
use crate::catalog::{Basis, Cited};
use crate::check::{Check, CheckRule};
use crate::job::{Demand, Duty, Engine, Importance, State};

/// A verdict on a quantity.
#[derive(Debug, Clone)]
pub struct Judged {
    /// The verdict.
    pub check: Check,
    /// What was judged; `None` where no cable can better it.
    pub judged: Option<JudgedQuantity>,
}

/// A quantity that cables can better.
#[derive(Debug, Clone, Copy)]
pub struct JudgedQuantity {
    /// Which.
    pub quantity: Quantity,
    /// Which way it does harm.
    pub harm: Harm,
    /// What it was found to be.
    pub found: Worst,
}

/// What a quantity is held against.
pub(super) struct Held<'a> {
    /// Its rule.
    pub rule: CheckRule,
    /// What is judged, by name.
    pub subject: &'a str,
    /// The quantity.
    pub quantity: Quantity,
    /// Which way it does harm.
    pub harm: Harm,
    /// Its limit, in volts.
    pub limit: Cited<f64>,
}

impl Held<'_> {
    /// The verdict at the worst corner; `note` gets the worst and the planned figure.
    pub fn judge(self, corners: &mut Corners, note: impl Fn(f64, f64) -> String) -> Judged {
        let found = corners.worst(self.quantity, self.harm);
        let Worst {
            nominal,
            worst,
            doubt,
            ..
        } = found;
        let check = match self.harm {
            Harm::Low => Check::at_least(self.rule, self.subject, worst, &self.limit, "V"),
            Harm::High => Check::at_most(self.rule, self.subject, worst, &self.limit, "V"),
        };
        Judged {
            check: check
                .with_nominal(nominal, doubt.map(Doubt::as_str))
                .with_note(note(worst, nominal)),
            judged: Some(JudgedQuantity {
                quantity: self.quantity,
                harm: self.harm,
                found,
            }),
        }
    }
}

/// Every verdict on a state, each at its worst corner.
pub fn judge(wiring: &Wiring<'_>, state: &State, corners: &mut Corners) -> Vec<Judged> {
    let solved = &*Rc::clone(&corners.solved);
    let mut checks = vec![operating_point(wiring, state, solved, corners)];
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
    for judged in &mut checks {
        judged.check.state = Some(state.name.clone());
    }
    checks
}

fn operating_point(
    wiring: &Wiring<'_>,
    state: &State,
    solved: &Solved,
    corners: &Corners,
) -> Judged {
    let collapsed = solved.collapsed();
    let source = Cited {
        value: (),
        citation: "Kirchhoff's laws".to_owned(),
        basis: Basis::Published,
    };
    let starved = corners.starved_names(|draw| !wiring.job.load(draw.load).is_starter());
    let (holds, note) = if !solved.solution.converged {
        let note = "no set of voltages satisfies all loads at once".to_owned();
        (false, note)
    } else if !collapsed.is_empty() {
        let names: Vec<&str> = collapsed.iter().map(|draw| draw.name.as_str()).collect();
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
    Judged {
        check: check.with_note(note),
        judged: None,
    }
}

fn least_voltages(wiring: &Wiring<'_>, state: &State, corners: &mut Corners) -> Vec<Judged> {
    let mut checks = Vec::new();
    for id in &state.loads {
        let load = wiring.job.load(*id);
        let Some(least) = load.given.least else {
            continue;
        };
        let held = Held {
            rule: CheckRule::LeastVoltage,
            subject: load.name(),
            quantity: Quantity::Across {
                higher: load.positive.0,
                lower: load.negative.0,
            },
            harm: Harm::Low,
            limit: Cited {
                value: least.v(),
                citation: "the job file".to_owned(),
                basis: Basis::User,
            },
        };
        checks.push(held.judge(corners, |worst, nominal| {
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
fn drops(wiring: &Wiring<'_>, solved: &Solved, corners: &mut Corners) -> Vec<Judged> {
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
            checks.push(unfed(
                load.name(),
                rule.map(|part| part.fraction() * nominal_v),
            ));
            continue;
        };
        let held = Held {
            rule: CheckRule::VoltageDrop,
            subject: load.name(),
            quantity: Quantity::Lost {
                source: (source.positive, source.negative),
                load: (draw.positive, draw.negative),
            },
            harm: Harm::High,
            limit: rule.map(|part| part.fraction() * nominal_v),
        };
        checks.push(held.judge(corners, |worst, nominal| {
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
fn unfed(load: &str, limit: Cited<f64>) -> Judged {
    let check = Check::at_most(CheckRule::VoltageDrop, load, 0.0, &limit, "V");
    Judged {
        check: check.with_note("no source holds its voltage above that of the load"),
        judged: None,
    }
}

/// Volts at each battery that gives current, against the least that its cells may fall to.
fn cranking_voltage(wiring: &Wiring<'_>, corners: &mut Corners) -> Vec<Judged> {
    const CELLS_IN_TWELVE_VOLTS: f64 = 6.0;
    let rule = &wiring.job.rules.cranking_least_cell;
    let mut checks = Vec::new();
    for battery in &wiring.job.batteries {
        if !corners.solved.has_source(&battery.given.name) {
            continue;
        }
        let cells = battery.given.voltage.v() / 12.0 * CELLS_IN_TWELVE_VOLTS;
        let name = battery.given.name.value.as_str();
        let held = Held {
            rule: CheckRule::CrankingVoltage,
            subject: name,
            quantity: Quantity::Across {
                higher: battery.positive.0,
                lower: battery.negative.0,
            },
            harm: Harm::Low,
            limit: rule.map(|cell| cell.v() * cells),
        };
        let judged = held.judge(corners, |worst, nominal| {
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
fn cranking_drops(wiring: &Wiring<'_>, solved: &Solved, corners: &mut Corners) -> Vec<Judged> {
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
                (battery.positive, load.positive),
            ),
            (
                "return side",
                &job.rules.cranking_drop_return,
                (load.negative, battery.negative),
            ),
        ];
        for (side, rule, (higher, lower)) in sides {
            let subject = format!("{}, {side}", load.name());
            let held = Held {
                rule: CheckRule::CrankingDrop,
                subject: &subject,
                quantity: Quantity::Across {
                    higher: higher.0,
                    lower: lower.0,
                },
                harm: Harm::High,
                limit: rule.map(|volts| volts.v() * job.twelfths()),
            };
            checks.push(held.judge(corners, |worst, nominal| {
                format!(
                    "{nominal:.2} V lost on the {side} between battery and starter as planned, \
                     {worst:.2} V at worst"
                )
            }));
        }
    }
    checks
}
