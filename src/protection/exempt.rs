//! Leads with a device, and leads that go without: whether they may.

use super::{Guard, self_limiting};
use crate::catalog::{Basis, Cited, Polarity};
use crate::check::{Check, CheckRule};
use crate::circuit::Wiring;
use crate::job::{Lead, LeadId, Owner, Protected, Unprotected};

/// The verdict on a lead that has a device.
pub fn guarded(wiring: &Wiring<'_>, id: LeadId, part: &str) -> Check {
    let lead = wiring.job.lead(id);
    let source = wiring.job.rules.protection_distance.map(|_| ());
    Check::holds(CheckRule::Protected, &lead.name, true, &source)
        .with_note(format!("guarded by {part}"))
}

/// The verdicts on all positive leads that have none.
pub fn judge(wiring: &Wiring<'_>, guards: &[Guard]) -> Vec<Check> {
    let leads = wiring.job.leads();
    leads
        .filter_map(|(id, lead)| match lead.protected {
            Protected::No { reason } if lead.polarity == Polarity::Positive => {
                Some(unguarded(wiring, id, lead, reason, guards))
            }
            _ => None,
        })
        .collect()
}

fn unguarded(
    wiring: &Wiring<'_>,
    id: LeadId,
    lead: &Lead,
    reason: Unprotected,
    guards: &[Guard],
) -> Check {
    if let Some(check) = self_limiting::unguarded(wiring, id) {
        return check;
    }
    let rules = &wiring.job.rules;
    let near = rules.protection_distance.map(|_| ());
    let verdict = |holds, source: &Cited<()>, note: String| {
        Check::holds(CheckRule::Protected, &lead.name, holds, source).with_note(note)
    };
    match reason {
        Unprotected::StarterPermitted => {
            let source = rules.starter_unprotected.map(|_| ());
            let note = "a lead to a starter may go without a device here; route and guard it with \
                        all the more care";
            verdict(true, &source, note.to_owned())
        }
        Unprotected::User if touches_starter(wiring, lead) && rules.starter_unprotected.value => {
            let source = rules.starter_unprotected.map(|_| ());
            verdict(
                true,
                &source,
                "a lead to a starter may go without a device here".to_owned(),
            )
        }
        Unprotected::User if !fed(wiring, lead) => {
            let source = Cited {
                value: (),
                citation: "the job file".to_owned(),
                basis: Basis::User,
            };
            upstream(wiring, id, lead, guards, &source)
        }
        Unprotected::User => {
            let note = "the job asks for no device, but this lead starts at a source or bus; a \
                        chafed spot can set the vehicle on fire";
            verdict(false, &near, note.to_owned())
        }
        Unprotected::Return | Unprotected::Downstream => upstream(wiring, id, lead, guards, &near),
    }
}

fn touches_starter(wiring: &Wiring<'_>, lead: &Lead) -> bool {
    let ends = [lead.from, lead.to];
    ends.iter()
        .any(|end| match wiring.job.terminal(*end).owner {
            Owner::Load(index) => wiring.job.loads[index].is_starter(),
            _ => false,
        })
}

fn fed(wiring: &Wiring<'_>, lead: &Lead) -> bool {
    let owner = wiring.job.terminal(lead.from).owner;
    matches!(owner, Owner::Battery(_) | Owner::Bus(_))
}

/// A lead further down is safe when every lead that feeds its start has a device that is small
/// enough for it too.
fn upstream(
    wiring: &Wiring<'_>,
    id: LeadId,
    lead: &Lead,
    guards: &[Guard],
    source: &Cited<()>,
) -> Check {
    let most = wiring.ampacities[id.0].a() * wiring.job.rules.protection_most.value.fraction();
    let verdict = |holds, note: String| {
        Check::holds(CheckRule::Protected, &lead.name, holds, source).with_note(note)
    };
    let job = wiring.job;
    let start = match job.terminal(lead.from).owner {
        Owner::Device(index) => job.devices[index].input,
        _ => lead.from,
    };
    let feeders: Vec<LeadId> = job
        .leads()
        .filter(|(other, feeder)| {
            *other != id
                && feeder.polarity == Polarity::Positive
                && (feeder.to == start || feeder.to == lead.from)
        })
        .map(|(other, _)| other)
        .collect();
    let ratings: Vec<f64> = feeders
        .iter()
        .filter_map(|feeder| guards.iter().find(|guard| guard.lead == *feeder))
        .map(|guard| guard.rating.a())
        .collect();
    if feeders.is_empty() || ratings.len() < feeders.len() {
        let note = "nothing guards it; write the lead from the end that a battery or bus feeds, \
                    or give it `protect`";
        return verdict(false, note.to_owned());
    }
    let largest = ratings.into_iter().fold(0.0, f64::max);
    let note = format!(
        "guarded from further up by {largest:.0} A; it may be guarded by {most:.0} A at most"
    );
    verdict(largest <= most, note)
}
