//! Contradictions that can only be seen once names are resolved.

mod circuits;
mod figures;
mod ways;

use super::model::Job;
use super::words::Duty;
use crate::diagnostic::{Diagnostic, Problem, Span};

/// One check of the whole job.
type Check = fn(&Job, &mut Vec<Diagnostic>);

/// Which parts of a job hold no stand-in.
#[derive(Debug, Clone, Copy)]
pub struct Sound {
    /// Spaces, places, panels and legs.
    pub ground: bool,
    /// Sources, loads, buses and leads.
    pub circuit: bool,
}

/// Every contradiction in the job. What hangs on the whole of ground or circuit is judged only
/// where that is sound.
pub fn validate(job: &Job, sound: Sound) -> Vec<Diagnostic> {
    const FIGURES: &[Check] = &[
        batteries_have_a_resistance,
        voltages_agree,
        loads_are_complete,
        rests_are_between_runs,
        figures::are_possible,
    ];
    const WAYS: &[Check] = &[ways::leads_can_be_laid];
    const CIRCUITS: &[Check] = &[
        circuits::nothing_is_shorted,
        circuits::no_converter_is_bridged,
        circuits::buses_keep_their_side,
        circuits::loads_are_fed,
        buses_are_used,
    ];
    let mut mistakes = Vec::new();
    let groups = [
        (FIGURES, true),
        (WAYS, sound.ground),
        (CIRCUITS, sound.circuit),
    ];
    for (checks, judged) in groups {
        for check in checks.iter().filter(|_| judged) {
            check(job, &mut mistakes);
        }
    }
    mistakes
}

fn report(mistakes: &mut Vec<Diagnostic>, span: Span, reason: String, help: &str) {
    let problem = Problem::contradiction_with_help(reason, help);
    mistakes.push(Diagnostic::new(problem, span));
}

fn batteries_have_a_resistance(job: &Job, mistakes: &mut Vec<Diagnostic>) {
    for battery in &job.batteries {
        let given = &battery.given;
        if given.cold_crank.is_none() && given.internal_resistance.is_none() {
            let name = &given.name.value;
            report(
                mistakes,
                given.span,
                format!("nothing tells the internal resistance of `{name}`"),
                "give `cold_crank` from the label, or `internal_resistance` if you know it",
            );
        }
    }
}

/// Alternators charge above the nominal voltage, but not far above it.
fn voltages_agree(job: &Job, mistakes: &mut Vec<Diagnostic>) {
    let nominal = job.system_voltage.v();
    for alternator in &job.alternators {
        let regulated = &alternator.given.regulated;
        if !(1.0..=1.35).contains(&(regulated.v() / nominal)) {
            report(
                mistakes,
                regulated.span,
                format!("{} V cannot charge a system of {nominal} V", regulated.v()),
                "regulated voltages lie between the nominal voltage and a third above it",
            );
        }
    }
    for battery in &job.batteries {
        let volts = battery.given.voltage.v();
        if volts > nominal * 1.1 {
            report(
                mistakes,
                battery.given.span,
                format!("a battery of {volts} V stands in a system of {nominal} V"),
                "set `system_voltage` to that of the batteries as they are joined",
            );
        }
    }
}

fn loads_are_complete(job: &Job, mistakes: &mut Vec<Diagnostic>) {
    for load in &job.loads {
        let (given, name) = (&load.given, load.name());
        if given.sensitive && given.least.is_none() {
            report(
                mistakes,
                given.span,
                format!("`{name}` is sensitive, but nothing tells which voltage it needs"),
                "give `least`, the voltage at which it resets",
            );
        }
        if let super::Demand::Starter { running, locked } = load.demand
            && locked < running
        {
            report(
                mistakes,
                given.span,
                format!("`{name}` draws less with its rotor locked than running"),
                "`locked` is the larger current, at the first instant",
            );
        }
        if given.inrush.is_some() != given.inrush_time.is_some() {
            report(
                mistakes,
                given.span,
                format!("the inrush of `{name}` lacks its current or its time"),
                "give both `inrush` and `inrush_time`, or neither",
            );
        }
        if given.precharge.is_some() && given.capacitance.is_none() {
            report(
                mistakes,
                given.span,
                format!("`{name}` has a pre-charge resistor, but nothing to charge"),
                "give `capacitance`, or take `precharge` away",
            );
        }
        let low = given
            .least
            .filter(|least| *least > job.system_voltage * 1.2);
        if let Some(least) = low {
            report(
                mistakes,
                given.span,
                format!("`{name}` needs {} V, more than the system has", least.v()),
                "check `least` and `system_voltage`",
            );
        }
    }
}

/// Only what runs for a time can rest.
fn rests_are_between_runs(job: &Job, mistakes: &mut Vec<Diagnostic>) {
    let resting = job.loads.iter().filter(|load| load.given.rest.is_some());
    for load in resting.filter(|load| !load.is_starter()) {
        let name = load.name();
        if load.given.duty == Duty::Continuous {
            report(
                mistakes,
                load.given.span,
                format!("`{name}` has a rest, but runs continuously"),
                "write `duty = \"intermittent\"` and give `longest`, or take `rest` away",
            );
        } else if load.given.longest.is_none() {
            report(
                mistakes,
                load.given.span,
                format!("`{name}` rests between runs, but nothing tells how long a run lasts"),
                "give `longest`, its longest run, or take `rest` away",
            );
        }
    }
}

fn buses_are_used(job: &Job, mistakes: &mut Vec<Diagnostic>) {
    for bus in &job.buses {
        if job.leads_at(bus.terminal).next().is_none() {
            let name = &bus.given.name.value;
            report(
                mistakes,
                bus.given.span,
                format!("no lead ends at the bus `{name}`"),
                "take the bus away, or lead something to it",
            );
        }
    }
}
