//! Contradictions that can only be seen once names are resolved.

use super::id::{PlaceId, TerminalId};
use super::model::{Job, Owner};
use super::polarity;
use crate::catalog::Polarity;
use crate::diagnostic::{Diagnostic, Problem, Span};

/// One check of the whole job.
type Check = fn(&Job, &mut Vec<Diagnostic>);

/// Every contradiction in the job.
pub fn validate(job: &Job) -> Vec<Diagnostic> {
    const CHECKS: &[Check] = &[
        batteries_have_a_resistance,
        voltages_agree,
        loads_are_complete,
        leads_can_be_laid,
        nothing_is_shorted,
        loads_are_fed,
        buses_are_used,
    ];
    let mut mistakes = Vec::new();
    for check in CHECKS {
        check(job, &mut mistakes);
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
        if let super::Demand::Starter { running, locked } = load.demand {
            if locked < running {
                report(
                    mistakes,
                    given.span,
                    format!("`{name}` draws less with its rotor locked than running"),
                    "`locked` is the larger current, at the first instant",
                );
            }
        }
        if given.inrush.is_some() != given.inrush_time.is_some() {
            report(
                mistakes,
                given.span,
                format!("the inrush of `{name}` lacks its current or its time"),
                "give both `inrush` and `inrush_time`, or neither",
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

fn leads_can_be_laid(job: &Job, mistakes: &mut Vec<Diagnostic>) {
    for lead in &job.leads {
        let stops = job.stops(lead);
        for place in &lead.avoid {
            if stops.contains(place) {
                let name = &job.place(*place).name;
                report(
                    mistakes,
                    lead.span,
                    format!("`{}` must both pass and avoid `{name}`", lead.name),
                    "take the place out of `avoid`, or out of `via`, `protect_at` and the ends",
                );
            }
        }
        for pair in stops.windows(2) {
            if let [from, to] = pair {
                if !joined(job, *from, *to, &lead.avoid) {
                    let problem = Problem::Unreachable {
                        from: job.place(*from).name.clone(),
                        to: job.place(*to).name.clone(),
                    };
                    mistakes.push(Diagnostic::new(problem, lead.span));
                }
            }
        }
    }
}

fn joined(job: &Job, from: PlaceId, to: PlaceId, avoid: &[PlaceId]) -> bool {
    let mut reached = vec![false; job.places.len()];
    let mut waiting = vec![from];
    while let Some(place) = waiting.pop() {
        if std::mem::replace(&mut reached[place.0], true) {
            continue;
        }
        for leg in &job.legs {
            let next = match place {
                _ if leg.from == place => leg.to,
                _ if leg.to == place => leg.from,
                _ => continue,
            };
            if !avoid.contains(&next) {
                waiting.push(next);
            }
        }
    }
    reached[to.0]
}

/// Both poles of one thing in one conductor group are a dead short.
fn nothing_is_shorted(job: &Job, mistakes: &mut Vec<Diagnostic>) {
    let groups = polarity::groups(job);
    let batteries = job.batteries.iter();
    let mut pairs: Vec<(TerminalId, TerminalId, &str, Span)> = batteries
        .map(|b| (b.positive, b.negative, b.given.name.as_str(), b.given.span))
        .collect();
    pairs.extend(
        job.alternators
            .iter()
            .map(|a| (a.positive, a.negative, a.given.name.as_str(), a.given.span)),
    );
    pairs.extend(
        job.loads
            .iter()
            .map(|l| (l.positive, l.negative, l.name(), l.given.span)),
    );
    for (positive, negative, name, span) in pairs {
        if groups[positive.0] == groups[negative.0] {
            report(
                mistakes,
                span,
                format!("the leads join `{name}`'s positive and negative terminals: a dead short"),
                "follow the leads from its `+`; one of them ends at the wrong terminal",
            );
        }
    }
    let buses = job
        .buses
        .iter()
        .filter(|bus| bus.given.polarity == Polarity::Negative);
    for bus in buses {
        let group = groups[bus.terminal.0];
        let fed = |pole: Polarity| {
            job.terminals.iter().enumerate().any(|(index, terminal)| {
                let source = matches!(terminal.owner, Owner::Battery(_) | Owner::Alternator(_));
                source && terminal.pole == Some(pole) && groups[index] == group
            })
        };
        if fed(Polarity::Positive) && !fed(Polarity::Negative) {
            let name = &bus.given.name.value;
            report(
                mistakes,
                bus.given.span,
                format!("`{name}` is a negative bus, but leads join it to a positive terminal"),
                "correct the bus's `polarity` or the lead's ends",
            );
        }
    }
}

fn loads_are_fed(job: &Job, mistakes: &mut Vec<Diagnostic>) {
    let groups = polarity::groups(job);
    let batteries = job.batteries.iter().map(|b| (b.positive, b.negative));
    let sources: Vec<(TerminalId, TerminalId)> = batteries
        .chain(job.alternators.iter().map(|a| (a.positive, a.negative)))
        .collect();
    let plus: Vec<usize> = sources.iter().map(|source| groups[source.0.0]).collect();
    let minus: Vec<usize> = sources.iter().map(|source| groups[source.1.0]).collect();
    if sources.is_empty() {
        if let Some(load) = job.loads.first() {
            let reason = "the job has loads but no battery and no alternator".to_owned();
            report(mistakes, load.given.span, reason, "add a `[[battery]]`");
        }
        return;
    }
    for load in &job.loads {
        let ends = [
            (load.positive, &plus, "positive"),
            (load.negative, &minus, "negative"),
        ];
        for (terminal, fed, side) in ends {
            if !fed.contains(&groups[terminal.0]) {
                let name = &job.terminal(terminal).name;
                report(
                    mistakes,
                    load.given.span,
                    format!("no lead joins `{name}` to the {side} side of a source"),
                    "add the lead, or the chassis point and bond, that closes the circuit",
                );
            }
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
