//! Whether the master switch cuts everything off.

use super::wiring::Wiring;
use crate::catalog::Switch;
use crate::check::{Check, CheckRule};
use crate::job::{Device, Job, Load, TerminalId};

/// The verdict on the master switches of a job, where the setting asks for one.
pub fn judge(wiring: &Wiring<'_>) -> Option<Check> {
    let job = wiring.job;
    let rule = &job.rules.master_switch_stops;
    if !rule.value {
        return None;
    }
    let masters: Vec<&str> = masters(job)
        .map(|device| device.given.name.value.as_str())
        .collect();
    let (holds, note) = verdict(wiring, &masters);
    let subject = match masters.as_slice() {
        [] => "the whole job".to_owned(),
        names => names.join(" and "),
    };
    let check = Check::holds(CheckRule::MasterStop, &subject, holds, &rule.map(|_| ()));
    Some(check.with_note(note))
}

fn masters(job: &Job) -> impl Iterator<Item = &Device> {
    job.devices.iter().filter(|device| device.given.master)
}

fn verdict(wiring: &Wiring<'_>, masters: &[&str]) -> (bool, String) {
    let job = wiring.job;
    if masters.is_empty() {
        let note = "the rules ask for a master switch; put a `[[device]]` with `master = true` into \
                    the lead from the battery";
        return (false, note.to_owned());
    }
    let batteries = batteries(job);
    let alternators: Vec<Poles> = job
        .alternators
        .iter()
        .map(|item| (item.given.name.value.as_str(), item.positive, item.negative))
        .collect();
    if let Some((load, source)) = still_fed(job, &batteries) {
        let note = format!(
            "with the master switch open, `{source}` still feeds `{load}`; lead it from behind the \
             switch"
        );
        return (false, note);
    }
    match still_fed(job, &alternators) {
        Some((load, source)) if !stops_engine(wiring) => {
            let note = format!(
                "with the master switch open, the engine runs on, for `{source}` still feeds \
                 `{load}`; take a switch with an ignition pole, which stops the engine{}",
                stopping(wiring).map_or_else(String::new, |part| format!(", such as `{part}`"))
            );
            (false, note)
        }
        Some(_) => (
            true,
            "it cuts the battery off every load, and its ignition pole stops the engine and with it \
             the alternator"
                .to_owned(),
        ),
        None => (true, "it cuts every source off every load".to_owned()),
    }
}

/// A source by its name and poles.
type Poles<'a> = (&'a str, TerminalId, TerminalId);

/// Every battery, and every string of batteries by its ends.
fn batteries(job: &Job) -> Vec<Poles<'_>> {
    let name = |battery: &crate::job::BatteryId| job.battery(*battery).given.name.value.as_str();
    let single = job
        .batteries
        .iter()
        .map(|item| (item.given.name.value.as_str(), item.positive, item.negative));
    let strings = job.strings().into_iter();
    let strings = strings.filter_map(|string| {
        let lowest = string.batteries.first().map(name)?;
        Some((lowest, string.positive, string.negative))
    });
    single.chain(strings).collect()
}

/// Whether any of the master switches has a pole that stops the engine.
fn stops_engine(wiring: &Wiring<'_>) -> bool {
    switches(wiring).any(|row| row.ignition_pole)
}

/// The catalog's rows of the master switches that are switches.
fn switches<'a>(wiring: &Wiring<'a>) -> impl Iterator<Item = &'a Switch> {
    let all = &wiring.catalog.switches;
    let masters = masters(wiring.job);
    masters.filter_map(|device| all.iter().find(|row| *row.id == *device.given.part))
}

/// The switch of the catalog that stops the engine and is nearest in rating to the job's own: the
/// smallest that carries as much, or the largest of all.
fn stopping<'a>(wiring: &Wiring<'a>) -> Option<&'a str> {
    let own = switches(wiring).map(|row| row.rating.a());
    let carried = own.fold(0.0, f64::max);
    let all = wiring.catalog.switches.iter();
    let suits = all.filter(|row| row.ignition_pole && row.voltage >= wiring.job.system_voltage);
    let by_rating = |a: &&Switch, b: &&Switch| a.rating.a().total_cmp(&b.rating.a());
    let ample = suits.clone().filter(|row| row.rating.a() >= carried);
    let nearest = ample.min_by(by_rating).or_else(|| suits.max_by(by_rating));
    nearest.map(|row| row.id.as_str())
}

/// The first load that any of the sources still feeds with every master switch open, and the
/// source. A converter whose input is fed feeds what is at its output.
fn still_fed<'a>(job: &'a Job, sources: &[Poles<'a>]) -> Option<(&'a str, &'a str)> {
    let groups = job.groups_through(|device| !device.given.master);
    let joined = |a: TerminalId, b: TerminalId| groups[a.0] == groups[b.0];
    let mut feeding = sources.to_vec();
    let mut passed = vec![false; job.converters.len()];
    let mut next = 0;
    while let Some((name, positive, negative)) = feeding.get(next).copied() {
        next += 1;
        let fed = |load: &&Load| joined(positive, load.positive) && joined(negative, load.negative);
        if let Some(load) = job.loads.iter().find(fed) {
            return Some((load.name(), name));
        }
        for (converter, passed) in job.converters.iter().zip(&mut passed) {
            let fed = joined(positive, converter.input) && joined(negative, converter.input_return);
            if fed && !std::mem::replace(passed, true) {
                feeding.push((name, converter.output, converter.output_return));
            }
        }
    }
    None
}
