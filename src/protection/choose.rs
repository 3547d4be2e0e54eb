//! The device of every lead that gets one: the cheapest that passes every check, else the one that
//! fails the fewest.

use super::exempt;
use super::judge::judge;
use super::precharge;
use super::{Guard, Protection};
use crate::catalog::Protective;
use crate::check::{Check, CheckRule, Verdict};
use crate::circuit::{Faults, Guarding, Wiring, duties, wanted};
use crate::job::{LeadId, Protected};
use crate::sizing::Sizing;

/// Chooses and judges all protection.
pub fn choose(wiring: &Wiring<'_>, sizing: &Sizing) -> Protection {
    let duties = duties(wiring);
    let faults = Faults::of(wiring);
    let devices = wiring.catalog.protective();
    let mut protection = Protection {
        guards: Vec::new(),
        checks: Vec::new(),
    };
    for (id, lead) in wiring.job.leads() {
        if !lead.is_protected() {
            continue;
        }
        let task = Guarding::of(wiring, &faults, id, &duties[id.0]);
        let wanted = wanted(&devices, &lead.protected);
        let reckoned = sizing
            .leads
            .get(id.0)
            .and_then(|lead| lead.device.as_deref());
        let Some(best) = best(&wanted, &task, reckoned) else {
            let note = "the catalog holds no device of the kind asked for";
            let check = Check::open(CheckRule::Protected, &lead.name, note);
            protection.checks.push(check);
            continue;
        };
        let part = best.device.part;
        protection.guards.push(guard(wiring, id, &task, &best));
        protection.checks.push(exempt::guarded(wiring, id, part));
        protection.checks.extend(best.checks);
    }
    let charged = precharge::judge(wiring, &devices, &protection.guards);
    protection.checks.extend(charged);
    let exempted = exempt::judge(wiring, &protection.guards);
    protection.checks.extend(exempted);
    protection
}

/// A device chosen for a lead.
struct Best<'a> {
    device: Protective<'a>,
    checks: Vec<Check>,
    /// Whether none that does as well is cheaper.
    is_cheapest: bool,
}

/// The device with the fewest faults; of equals the one that the sizes were reckoned with, else the
/// first, which is the cheapest.
fn best<'a>(
    devices: &[Protective<'a>],
    task: &Guarding<'_>,
    reckoned: Option<&str>,
) -> Option<Best<'a>> {
    // What no device can better (the distance) does not count against any of them.
    let faults = |checks: &[Check]| {
        let failed = checks.iter().filter(|check| check.verdict != Verdict::Pass);
        failed
            .filter(|check| check.rule != CheckRule::ProtectionDistance)
            .count()
    };
    let judged: Vec<(usize, Protective<'a>, Vec<Check>)> = devices
        .iter()
        .map(|device| {
            let checks = judge(device, task);
            // A stud for which the cable has no lug is as bad as a broken limit.
            let no_lug = usize::from(!task.has_lug_for(device));
            (faults(&checks) + no_lug, *device, checks)
        })
        .collect();
    let fewest = judged.iter().map(|(faults, ..)| *faults).min()?;
    let cheapest = judged.iter().position(|(faults, ..)| *faults == fewest)?;
    let chosen = judged
        .iter()
        .position(|(faults, device, _)| *faults == fewest && Some(device.part) == reckoned)
        .unwrap_or(cheapest);
    let (_, device, checks) = judged.into_iter().nth(chosen)?;
    Some(Best {
        device,
        checks,
        is_cheapest: chosen == cheapest,
    })
}

fn guard(wiring: &Wiring<'_>, id: LeadId, task: &Guarding<'_>, best: &Best<'_>) -> Guard {
    let (device, checks) = (&best.device, &best.checks);
    let lead = wiring.job.lead(id);
    let missed: Vec<&str> = checks
        .iter()
        .filter(|check| check.verdict != Verdict::Pass)
        .map(|check| check.rule.as_str())
        .collect();
    let reason = match (&lead.protected, missed.is_empty()) {
        (Protected::Auto, true) if best.is_cheapest => {
            "the cheapest device that passes every check".to_owned()
        }
        (Protected::Auto, true) => {
            "it passes every check and loses less voltage than cheaper ones, which a load needs"
                .to_owned()
        }
        (_, true) => "asked for by the job, and it passes every check".to_owned(),
        (Protected::Auto, false) => {
            format!(
                "no device passes every check; this one misses: {}",
                missed.join(", ")
            )
        }
        (_, false) => format!("asked for by the job; it misses: {}", missed.join(", ")),
    };
    Guard {
        lead: id,
        place: lead.protect_at,
        kind: device.kind,
        part: device.part.to_owned(),
        holder: device.holder.map(|holder| holder.id.value.clone()),
        stud: device.stud,
        rating: device.rating,
        resistance: device.resistance,
        distance: task.distance,
        continuous: task.duty.continuous,
        fault_near: task.demand.fault,
        fault_far: task.fault_far,
        opens_within_s: device.opens_within(task.fault_far).map(|time| time.s()),
        withstands_s: task.withstands().s(),
        reason,
    }
}
