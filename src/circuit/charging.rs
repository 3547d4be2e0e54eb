//! Whether a charging battery gets the charger's voltage.

use super::converter::Converter;
use super::judge::Judged;
use super::network::Source;
use super::operate::Solved;
use super::wiring::Wiring;
use crate::check::{Check, CheckRule};
use crate::job::{BatteryString, Engine, State};

/// Less current than this is no charging: the figures of a solved network are never quite nothing.
const LEAST_CHARGE_A: f64 = 1e-3;

/// Volts lost, out and back, between each battery or series bank that takes current and the charger
/// that it takes it from, while the engine runs.
pub fn judge(wiring: &Wiring<'_>, state: &State, solved: &Solved) -> Vec<Judged> {
    if state.engine != Engine::Running {
        return Vec::new();
    }
    let strings = wiring.job.strings().into_iter();
    strings
        .filter(|string| takes_current(wiring, solved, string))
        .filter_map(|string| one_string(wiring, solved, &string))
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
        let source = sources.find(|source| source.name == name);
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

fn one_string(wiring: &Wiring<'_>, solved: &Solved, string: &BatteryString) -> Option<Judged> {
    let job = wiring.job;
    let gets = solved.across(string.positive.0, string.negative.0);
    let charger = charger_of(wiring, solved, string)?;
    let gives = across(solved, &charger);
    let rule = &job.rules.drop_charging;
    let limit = rule.map(|part| part.fraction() * job.system_voltage.v());
    let lost = gives - gets;
    let cure = if lost > limit.value {
        "; charged so low it never fills: use thicker or shorter leads, out and back"
    } else {
        ""
    };
    let names = string
        .batteries
        .iter()
        .map(|id| &job.battery(*id).given.name);
    let names: Vec<&str> = names.map(|name| name.value.as_str()).collect();
    let note = format!(
        "the battery is charged at {gets:.2} V of the {gives:.2} V at `{}`{cure}",
        charger.name
    );
    let names = names.join(" and ");
    let check = Check::at_most(CheckRule::ChargingDrop, &names, lost, &limit, "V");
    let (higher, lower) = worse_side(solved, string, &charger);
    Some(Judged::between(check.with_note(note), higher, lower))
}

/// The side that loses more, as the node that should be higher and the one that should be lower. A
/// charger at its limit holds its current, not its voltage, so a thicker lead does not raise the
/// battery but lowers the charger: only the two ends of one side tell what it gains.
fn worse_side(solved: &Solved, string: &BatteryString, charger: &Source) -> (usize, usize) {
    let out = (string.positive.0, charger.positive);
    let back = (charger.negative, string.negative.0);
    let loss = |(near, far): (usize, usize)| solved.across(far, near);
    if loss(out) >= loss(back) { out } else { back }
}
