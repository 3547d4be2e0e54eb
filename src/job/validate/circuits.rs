//! Dead shorts, buses on the wrong side, and loads without a supply.

use std::collections::BTreeSet;

use super::{Job, report};
use crate::catalog::Polarity;
use crate::diagnostic::{Diagnostic, Span};
use crate::job::id::TerminalId;
use crate::job::model::Owner;

/// A thing with two poles.
struct Poles<'a> {
    positive: TerminalId,
    negative: TerminalId,
    name: &'a str,
    span: Span,
}

fn sources(job: &Job) -> Vec<Poles<'_>> {
    let batteries = job.batteries.iter().map(|battery| Poles {
        positive: battery.positive,
        negative: battery.negative,
        name: &battery.given.name,
        span: battery.given.span,
    });
    let alternators = job.alternators.iter().map(|alternator| Poles {
        positive: alternator.positive,
        negative: alternator.negative,
        name: &alternator.given.name,
        span: alternator.given.span,
    });
    let converters = job.converters.iter().map(|converter| Poles {
        positive: converter.output,
        negative: converter.output_return,
        name: &converter.given.name,
        span: converter.given.span,
    });
    batteries.chain(alternators).chain(converters).collect()
}

/// What must be fed: loads, and the inputs of converters.
fn loads(job: &Job) -> impl Iterator<Item = Poles<'_>> {
    let loads = job.loads.iter().map(|load| Poles {
        positive: load.positive,
        negative: load.negative,
        name: load.name(),
        span: load.given.span,
    });
    let inputs = job.converters.iter().map(|converter| Poles {
        positive: converter.input,
        negative: converter.input_return,
        name: &converter.given.name,
        span: converter.given.span,
    });
    loads.chain(inputs)
}

/// A converter whose input is joined to its output would feed itself.
pub fn no_converter_is_bridged(job: &Job, mistakes: &mut Vec<Diagnostic>) {
    let groups = job.groups();
    for converter in &job.converters {
        if groups[converter.input.0] == groups[converter.output.0] {
            let name = &converter.given.name.value;
            report(
                mistakes,
                converter.given.span,
                format!("the leads join the input and the output of `{name}`"),
                "keep what it feeds on leads and buses of its own",
            );
        }
    }
}

/// Both poles of one thing in one conductor group are a dead short; told once a group.
pub fn nothing_is_shorted(job: &Job, mistakes: &mut Vec<Diagnostic>) {
    let groups = job.groups();
    let mut told = BTreeSet::new();
    for item in sources(job).into_iter().chain(loads(job)) {
        let group = groups[item.positive.0];
        if group == groups[item.negative.0] && told.insert(group) {
            let name = item.name;
            report(
                mistakes,
                item.span,
                format!(
                    "the leads join the positive and the negative terminal of `{name}`: a dead short"
                ),
                "follow the leads from its `+`; one of them ends at the wrong terminal",
            );
        }
    }
}

/// A bus is on the side of the sources that its polarity says.
pub fn buses_keep_their_side(job: &Job, mistakes: &mut Vec<Diagnostic>) {
    let groups = job.groups();
    for bus in &job.buses {
        let fed = |pole: Polarity| {
            job.terminals.iter().enumerate().any(|(index, terminal)| {
                let source = matches!(
                    terminal.owner,
                    Owner::Battery(_) | Owner::Alternator(_) | Owner::Converter(_)
                );
                source && terminal.pole == Some(pole) && groups[index] == groups[bus.terminal.0]
            })
        };
        let said = bus.given.polarity;
        let other = match said {
            Polarity::Positive => Polarity::Negative,
            Polarity::Negative => Polarity::Positive,
        };
        if fed(other) && !fed(said) {
            let name = &bus.given.name.value;
            report(
                mistakes,
                bus.given.span,
                format!("`{name}` is a {said} bus, but leads join it to a {other} terminal"),
                "correct the bus's `polarity` or the lead's ends",
            );
        }
    }
}

/// Both sides of every load are joined to a source.
pub fn loads_are_fed(job: &Job, mistakes: &mut Vec<Diagnostic>) {
    let groups = job.groups();
    let sources = sources(job);
    if job.batteries.is_empty() && job.alternators.is_empty() {
        if let Some(load) = job.loads.first() {
            let reason = "the job has loads but no battery and no alternator".to_owned();
            report(mistakes, load.given.span, reason, "add a `[[battery]]`");
        }
        return;
    }
    let side = |end: fn(&Poles<'_>) -> TerminalId| -> Vec<usize> {
        sources.iter().map(|source| groups[end(source).0]).collect()
    };
    let plus = side(|source| source.positive);
    let minus = side(|source| source.negative);
    for load in loads(job) {
        // A shorted load was reported already.
        if groups[load.positive.0] == groups[load.negative.0] {
            continue;
        }
        let ends = [
            (load.positive, &plus, "positive"),
            (load.negative, &minus, "negative"),
        ];
        for (terminal, fed, side) in ends {
            if !fed.contains(&groups[terminal.0]) {
                let name = &job.terminal(terminal).name;
                report(
                    mistakes,
                    load.span,
                    format!("no lead joins `{name}` to the {side} side of a source"),
                    "add the lead, or the chassis point and bond, that closes the circuit",
                );
            }
        }
    }
}
