//! Taps between batteries in series.

use crate::catalog::{Basis, Cited};
use crate::check::{Check, CheckRule};
use crate::job::{BatteryString, Job, Owner};

/// A verdict on every joint between two batteries in series.
pub fn judge(job: &Job) -> Vec<Check> {
    let strings = job.strings().into_iter();
    strings.flat_map(|string| of_string(job, &string)).collect()
}

fn of_string(job: &Job, string: &BatteryString) -> Vec<Check> {
    let groups = job.groups();
    let source = Cited {
        value: (),
        citation: "common practice: a load on part of a series bank discharges it unevenly"
            .to_owned(),
        basis: Basis::CommonPractice,
    };
    let joint = |pair: &[crate::job::BatteryId]| {
        let [lower, upper] = pair else {
            return None;
        };
        let (lower, upper) = (job.battery(*lower), job.battery(*upper));
        let group = groups[lower.positive.0];
        let subject = format!("{} to {}", *lower.given.name, *upper.given.name);
        let tapped = job.terminals.iter().enumerate().find(|(index, terminal)| {
            let taps = matches!(
                terminal.owner,
                Owner::Load(_) | Owner::Converter(_) | Owner::Alternator(_) | Owner::Chassis(_)
            );
            taps && groups[*index] == group
        });
        let note = match tapped {
            Some((_, terminal)) => format!(
                "`{}` is joined between the two batteries, which drains and fills them unevenly; \
                 feed it from the whole bank through a converter, or fit a balancer",
                terminal.name
            ),
            None => "nothing but the link is joined between the two batteries".to_owned(),
        };
        let check = Check::holds(CheckRule::MidpointTap, &subject, tapped.is_none(), &source);
        Some(check.with_note(note))
    };
    string.batteries.windows(2).filter_map(joint).collect()
}
