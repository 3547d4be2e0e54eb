//! Whether a charging battery gets the charger's voltage.

use std::sync::Arc;

use super::converter::Converter;
use super::corner::{Corners, Harm, Quantity};
use super::held::{Held, Judged, Limit, Subject};
use super::network::Source;
use super::operate::Solved;
use super::wiring::Wiring;
use crate::check::CheckRule;
use crate::job::{BatteryString, Engine, State};

/// Less current than this is no charging: the figures of a solved network are never quite nothing.
const LEAST_CHARGE_A: f64 = 1e-3;

/// Volts lost, out and back, between each battery or series bank that takes current and the charger
/// that it takes it from, while the engine runs.
pub fn judge<'a>(wiring: &Wiring<'a>, state: &State, corners: &mut Corners) -> Vec<Judged<'a>> {
    if state.engine != Engine::Running {
        return Vec::new();
    }
    let solved = &*Arc::clone(&corners.solved);
    let strings = wiring.job.strings().into_iter();
    strings
        .filter(|string| takes_current(wiring, solved, string))
        .filter_map(|string| one_string(wiring, solved, &string, corners))
        .collect()
}

fn across(solved: &Solved, source: &Source) -> f64 {
    solved.across(source.positive, source.negative)
}

/// Whether every battery of a string is charged; a dead one lets no current through.
fn takes_current(wiring: &Wiring<'_>, solved: &Solved, string: &BatteryString) -> bool {
    string.batteries.iter().all(|id| {
        let name = wiring.job.battery(*id).given.name.value.as_str();
        let mut sources = solved.network.sources.iter();
        let source = sources.find(|source| *source.name == *name);
        source.is_some_and(|source| source.current(across(solved, source)).0 < -LEAST_CHARGE_A)
    })
}

/// The charger that a string hangs on: of those joined to it, the one with the least voltage above
/// it; the others feed it through longer ways.
fn charger_of(wiring: &Wiring<'_>, solved: &Solved, string: &BatteryString) -> Option<Source> {
    let groups = wiring.job.groups();
    let battery_v = solved.across(string.positive.0, string.negative.0);
    let gives = |source: &Source| {
        let own = across(solved, source);
        groups[source.positive] == groups[string.positive.0]
            && source.limit_a.is_some()
            && own >= battery_v
            && source.current(own).0 > LEAST_CHARGE_A
    };
    let converters = solved.network.converters.iter().map(Converter::as_source);
    let sources = solved.network.sources.iter().cloned().chain(converters);
    let chargers = sources.filter(gives);
    chargers.min_by(|a, b| across(solved, a).total_cmp(&across(solved, b)))
}

fn one_string<'a>(
    wiring: &Wiring<'a>,
    solved: &Solved,
    string: &BatteryString,
    corners: &mut Corners,
) -> Option<Judged<'a>> {
    let job = wiring.job;
    let gets = solved.across(string.positive.0, string.negative.0);
    let charger = charger_of(wiring, solved, string)?;
    let gives = across(solved, &charger);
    let rule = &job.rules.drop_charging;
    let limit = Limit::of(rule, |part| part.fraction() * job.system_voltage.v());
    let most = limit.volts;
    let held = Held {
        rule: CheckRule::ChargingDrop,
        subject: Subject::String(*string.batteries.first()?),
        quantity: Quantity::Lost {
            source: (charger.positive, charger.negative),
            load: (string.positive.0, string.negative.0),
        },
        harm: Harm::High,
        limit,
    };
    Some(held.judge(wiring, corners, move |worst, lost| {
        let cure = if worst > most {
            "; charged so low it never fills: use thicker or shorter leads, out and back"
        } else {
            ""
        };
        format!(
            "the battery is charged at {gets:.2} V of the {gives:.2} V at `{}`: {lost:.2} V lost as \
             planned, {worst:.2} V at worst{cure}",
            charger.name
        )
    }))
}
