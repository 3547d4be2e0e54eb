//! Whether every converter works, and gets its voltage.

use std::sync::Arc;

use super::converter::{Converter, Flow};
use super::corner::{Corners, Harm, Quantity};
use super::held::{Held, Judged, Limit, Subject};
use super::operate::Solved;
use super::wiring::Wiring;
use crate::catalog::{Basis, Cited};
use crate::check::{Check, CheckRule, HAIR};
use crate::job::{Engine, State};

/// Whether no converter of a state is starved or asked for more than it gives.
pub fn all_work(solved: &Solved) -> bool {
    let mut converters = solved.network.converters.iter();
    converters.all(|converter| trouble(solved, converter).is_none())
}

/// Verdicts on the converters that are on in a state.
pub fn judge<'a>(wiring: &Wiring<'a>, state: &State, corners: &mut Corners) -> Vec<Judged<'a>> {
    let solved = Arc::clone(&corners.solved);
    let mut checks = Vec::new();
    for converter in &solved.network.converters {
        let (own, solved) = (converter.clone(), Arc::clone(&solved));
        checks.push(Judged::told(move || works(&solved, &own)));
        if matches!(state.engine, Engine::Off | Engine::Running) {
            checks.extend(input_drop(wiring, corners, converter));
        }
    }
    checks
}

fn volts(solved: &Solved, converter: &Converter) -> (f64, f64) {
    let across = |(plus, minus): (usize, usize)| solved.across(plus, minus);
    (across(converter.input), across(converter.output))
}

fn flow(solved: &Solved, converter: &Converter) -> Flow {
    let (input, output) = volts(solved, converter);
    converter.flow(input, output)
}

/// What keeps a converter from working as stated.
fn trouble(solved: &Solved, converter: &Converter) -> Option<String> {
    let (input, output) = volts(solved, converter);
    let given = flow(solved, converter).output_a;
    if input < converter.floor_v {
        return Some(format!(
            "only {input:.2} V are left at its input, too little for it to work"
        ));
    }
    let at_limit = given >= converter.limit_a * (1.0 - HAIR);
    (at_limit && !converter.backed).then(|| {
        format!(
            "its loads ask for more than the {:.0} A that it gives, so its output sinks to \
             {output:.2} V; take a larger converter, or fewer loads at a time",
            converter.limit_a
        )
    })
}

fn works(solved: &Solved, converter: &Converter) -> Check {
    let source = Cited {
        value: (),
        citation: "the converter's limit in the job file".to_owned(),
        basis: Basis::User,
    };
    let trouble = trouble(solved, converter);
    let name = &converter.name;
    let check = Check::holds(CheckRule::OperatingPoint, name, trouble.is_none(), &source);
    let note = trouble.unwrap_or_else(|| {
        let flow = flow(solved, converter);
        format!(
            "it gives {:.1} A of {:.0} A and takes in {:.1} A",
            flow.output_a, converter.limit_a, flow.input_a
        )
    });
    check.with_note(note)
}

/// Volts lost from the source that feeds a converter to its input, as for any ordinary load.
fn input_drop<'a>(
    wiring: &Wiring<'a>,
    corners: &mut Corners,
    converter: &Converter,
) -> Option<Judged<'a>> {
    let nominal_v = converter.nominal_v;
    let rule = &wiring.job.rules.drop_ordinary;
    let solved = Arc::clone(&corners.solved);
    let (input, _) = volts(&solved, converter);
    let source = solved.feeding(converter.input.0, input)?;
    let held = Held {
        rule: CheckRule::VoltageDrop,
        subject: Subject::Input(converter.index),
        quantity: Quantity::Lost {
            source: (source.positive, source.negative),
            load: converter.input,
        },
        harm: Harm::High,
        limit: Limit::of(rule, |part| part.fraction() * nominal_v),
    };
    Some(held.judge(wiring, corners, move |worst, nominal| {
        format!(
            "{nominal:.2} V lost out and back from `{}` to its input as planned, {worst:.2} V at \
             worst, {:.1} % of {nominal_v} V",
            source.name,
            worst / nominal_v * 100.0
        )
    }))
}
