//! The answers that come first: will it crank, what do the electronics see, how good are the sizes.

use super::build::Context;
use super::condensed;
use crate::check::{Check, CheckRule, Verdict};
use crate::circuit::{LoadLedger, StateResult};
use crate::job::{Engine, Season, State};
use crate::plan::Status;

/// What matters most about the volts.
pub fn volts(context: Context<'_>) -> Vec<String> {
    let mut said: Vec<String> = cranking(context).into_iter().collect();
    said.extend(electronics(context));
    let opening = if said.is_empty() {
        "Closest to its limit"
    } else {
        "Closest to its limit otherwise"
    };
    said.extend(closest(context, opening));
    if said.is_empty() {
        said.push("The job has no state with a load that is on, so no volts are lost.".to_owned());
    }
    said
}

/// Every state as given with its result.
fn states<'a>(context: Context<'a>) -> impl Iterator<Item = (&'a State, &'a StateResult)> {
    let results = context.plan.operation.states.iter();
    context.job.states.iter().zip(results)
}

fn turns(state: &State) -> bool {
    matches!(state.engine, Engine::Cranking | Engine::Locked)
}

/// Whether the engine cranks, by the checks of the states that crank.
fn cranking(context: Context<'_>) -> Option<String> {
    let (state, load) = states(context)
        .filter(|(state, _)| state.engine == Engine::Cranking)
        .flat_map(|(state, result)| starters(context, result).map(move |load| (state, load)))
        .min_by(|a, b| a.1.worst_v.total_cmp(&b.1.worst_v))?;
    let judged = |check: &&Check| {
        let rules = [
            CheckRule::OperatingPoint,
            CheckRule::CrankingDrop,
            CheckRule::CrankingVoltage,
        ];
        let of_cranking = |state: &State| turns(state) && check.state.as_ref() == Some(&state.name);
        rules.contains(&check.rule) && context.job.states.iter().any(of_cranking)
    };
    let mut checks = context.plan.checks.iter().filter(judged);
    let kept = checks.all(|check| check.verdict == Verdict::Pass);
    let opening = if kept {
        "It cranks, and cranking keeps its limits"
    } else {
        "Cranking breaks a limit; see the checks"
    };
    Some(format!(
        "{opening}: {} `{}` gets {:.2} V, {:.2} V at worst{}.",
        moment(context, state),
        load.load,
        load.volts,
        load.worst_v,
        battery(load)
    ))
}

fn battery(load: &LoadLedger) -> String {
    let source = load.source.as_ref().zip(load.source_v);
    source.map_or(String::new(), |(name, volts)| {
        format!(", while `{name}` holds {volts:.2} V")
    })
}

fn starters<'a>(
    context: Context<'a>,
    result: &'a StateResult,
) -> impl Iterator<Item = &'a LoadLedger> {
    let is_starter = move |name: &str| {
        let mut loads = context.job.loads.iter();
        loads.any(|load| load.is_starter() && load.name() == name)
    };
    let loads = result.ledger.loads.iter();
    loads.filter(move |load| is_starter(&load.load))
}

/// What every sensitive load gets where it gets least.
fn electronics(context: Context<'_>) -> Vec<String> {
    let sensitive = context.job.loads.iter().filter(|load| load.given.sensitive);
    sensitive
        .filter_map(|given| {
            let of_load = |(state, result): (&'_ State, &'_ StateResult)| {
                let mut loads = result.ledger.loads.iter();
                let load = loads.find(|load| load.load == given.name())?.clone();
                Some((state.clone(), load))
            };
            let seen = states(context).filter_map(of_load);
            let least = seen.min_by(|a, b| a.1.worst_v.total_cmp(&b.1.worst_v))?;
            Some(least)
        })
        .enumerate()
        .map(|(number, (state, load))| {
            let mut text = seen_by(context, &state, &load);
            if number == 0 {
                text.push_str(&most_lost(context, &state, &load).unwrap_or_default());
            }
            text
        })
        .collect()
}

fn seen_by(context: Context<'_>, state: &State, load: &LoadLedger) -> String {
    let moment = capital(&moment(context, state));
    let mut text = format!(
        "{moment} `{}` sees {:.2} V, {:.2} V at worst",
        load.load, load.volts, load.worst_v
    );
    if let Some(least) = load.least_v {
        let ends = match () {
            () if load.volts < least => format!("; below {least:.2} V it resets or fails: IT DOES"),
            () if load.worst_v < least => {
                format!("; below {least:.2} V it resets or fails: AT WORST IT DOES")
            }
            () => format!("; it resets or fails below {least:.2} V"),
        };
        text.push_str(&ends);
    }
    text.push('.');
    text
}

/// Where most is lost: inside the source or in a lead.
fn most_lost(context: Context<'_>, state: &State, load: &LoadLedger) -> Option<String> {
    let parts = condensed::parts(context, load);
    let mut leads: Vec<(String, f64)> = Vec::new();
    for part in parts {
        match leads.iter_mut().find(|(of, _)| *of == part.of) {
            Some((_, sum)) => *sum += part.millivolt,
            None => leads.push((part.of, part.millivolt)),
        }
    }
    let (of, millivolt) = leads.into_iter().max_by(|a, b| a.1.total_cmp(&b.1))?;
    let (_, result) = states(context).find(|(known, _)| known.name == state.name)?;
    let mut sources = result.ledger.sources.iter();
    let source = sources.find(|source| Some(&source.name) == load.source.as_ref())?;
    Some(format!(
        " Of the {:.2} V of `{}` {:.2} V are lost inside it and {:.2} V on the way, most of that \
         in `{of}`: {:.2} V.",
        source.open_v,
        source.name,
        source.inside_v,
        load.lost_v?,
        millivolt / 1e3,
    ))
}

/// The load that is closest to its limit, of those that are told nowhere else.
fn closest(context: Context<'_>, opening: &str) -> Option<String> {
    let judged = states(context).flat_map(|(state, result)| {
        let loads = result.ledger.loads.iter();
        loads.filter_map(move |load| Some((state, load, load.spare?)))
    });
    let other = judged.filter(|(state, load, _)| !load.sensitive && !turns(state));
    let (state, load, spare) = other.min_by(|a, b| a.2.total_cmp(&b.2))?;
    let lost = load.lost_worst_v.zip(load.lost_limit_v);
    let lost = lost.map_or(String::new(), |(lost, limit)| {
        format!(": {lost:.2} V are lost at worst, of {limit:.2} V allowed")
    });
    let needs = load.least_v.map_or(String::new(), |least| {
        format!(
            "; it gets {:.2} V at worst and needs {least:.2} V",
            load.worst_v
        )
    });
    let opening = if spare < 0.0 {
        "Past its limit"
    } else {
        opening
    };
    Some(format!(
        "{opening} is `{}` in “{}”{lost}{needs}.",
        load.load, state.name
    ))
}

fn moment(context: Context<'_>, state: &State) -> String {
    let (day, air) = match state.season {
        Season::Cold => ("coldest", context.job.cold),
        Season::Hot => ("hottest", context.job.hot),
    };
    let air = context.job.units.temperature(air);
    format!("on the {day} day ({air}, “{}”)", state.name)
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| {
        first.to_uppercase().collect::<String>() + letters.as_str()
    })
}

/// How good the choice of sizes is.
pub fn sizes(context: Context<'_>) -> String {
    let preferred = &context.plan.preferred;
    let told = proved(context);
    if preferred.is_empty() {
        return told;
    }
    format!(
        "{told} Parts that the shop prefers count at a tenth of their price here: {}.",
        preferred.join(", ")
    )
}

fn proved(context: Context<'_>) -> String {
    let proof = &context.plan.sizing.proof;
    let price = format!("{:.0} {}", proof.price, context.job.currency.code());
    let ready = context.plan.status() == Status::Ready;
    if !proof.keeps_limits && !ready {
        return format!(
            "No choice of sizes keeps every limit. These come nearest, for about {price} of cable, \
             ends and devices; the sheet “Checks” tells which limits break and what would cure \
             them."
        );
    }
    let limits = if ready {
        "every limit"
    } else {
        "every limit that a size left to the program can keep (others break, see the checks)"
    };
    if proof.proved {
        return format!(
            "These are the cheapest sizes that keep {limits}, which is proved: about {price} of \
             cable, ends and devices."
        );
    }
    let gap = (proof.price - proof.bound) / proof.price.max(1e-9) * 100.0;
    format!(
        "These sizes keep {limits}, for about {price} of cable, ends and devices; that none is \
         cheaper by up to {gap:.1} % could not be proved."
    )
}
