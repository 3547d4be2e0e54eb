//! The networks of a plan for a general circuit simulator.

use std::iter;

use serde::Serialize;

use super::error::CommandError;
use super::output::json;
use super::pack::Pack;
use crate::circuit::{self, ShortDeck, ShortResult, Wiring};
use crate::documents::view::StateView;
use crate::plan::wiring;

/// The decks of one state, or of all, with their worst corners.
///
/// # Errors
/// The job has no such state.
pub fn states(pack: &Pack<'_>, state: Option<&str>) -> Result<String, CommandError> {
    let decks = circuit::decks(&wired(pack)).into_iter();
    let chosen: Vec<String> = decks
        .filter(|deck| state.is_none_or(|wanted| wanted == deck.state))
        .map(|deck| deck.text)
        .collect();
    match (chosen.is_empty(), state) {
        (true, Some(state)) => {
            let states = pack.loaded.job.states.iter();
            let names: Vec<String> = states.map(|state| format!("`{}`", state.name)).collect();
            Err(CommandError::Usage(format!(
                "error: the job has no state `{state}`; its states are: {}",
                names.join(", ")
            )))
        }
        _ => Ok(chosen.join("\n")),
    }
}

/// The decks of all states, and after them those of dead shorts.
///
/// # Errors
/// As [`states`].
pub fn with_shorts(pack: &Pack<'_>) -> Result<String, CommandError> {
    let texts = shorts(pack).into_iter().map(|deck| deck.text);
    let texts: Vec<String> = iter::once(states(pack, None)?).chain(texts).collect();
    Ok(texts.join("\n"))
}

/// A network, solved.
#[derive(Serialize)]
#[serde(untagged)]
enum Network<'a> {
    State(&'a StateView),
    Short(ShortResult),
}

/// All states, and after them dead shorts, solved, as JSON.
///
/// # Errors
/// None that a user can cause.
pub fn with_shorts_as_json(pack: &Pack<'_>) -> Result<String, CommandError> {
    let states = pack.view.states.iter().map(Network::State);
    let shorts = shorts(pack).into_iter();
    let shorts = shorts.map(|deck| Network::Short(deck.short));
    json(&states.chain(shorts).collect::<Vec<_>>())
}

/// The shorts whose currents the plan tells: at every point of a lead that the faults list.
fn shorts(pack: &Pack<'_>) -> Vec<ShortDeck> {
    let leads = pack.plan.protection.coverage.leads.iter();
    let points = leads.flat_map(|lead| lead.points.iter().map(|point| (lead.lead, point.at)));
    let points: Vec<_> = points.collect();
    circuit::short_decks(&wired(pack), &points)
}

fn wired<'a>(pack: &Pack<'a>) -> Wiring<'a> {
    let plan = pack.plan;
    let protection = Some(&plan.protection);
    wiring(
        &pack.loaded.job,
        &plan.route,
        &plan.sizing,
        protection,
        &pack.loaded.catalog,
    )
}
