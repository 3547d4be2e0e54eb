//! The device of every lead that gets one: the cheapest that passes every check, else the one that
//! fails the fewest.

use super::exempt;
use super::judge::{Task, judge};
use super::{Guard, Protection};
use crate::catalog::{DeviceDemand, Protective};
use crate::check::{Check, CheckRule, Verdict};
use crate::circuit::{LeadDuty, Wiring, duties, largest, smallest};
use crate::job::{LeadId, Protected};
use crate::quantity::{Current, Duration, Length, Thread};

/// Chooses and judges all protection.
pub fn choose(wiring: &Wiring<'_>) -> Protection {
    let duties = duties(wiring);
    let devices = wiring.catalog.protective();
    let mut protection = Protection {
        guards: Vec::new(),
        checks: Vec::new(),
    };
    for (id, lead) in wiring.job.leads() {
        if !lead.is_protected() {
            continue;
        }
        let task = task(wiring, id, &duties[id.0]);
        let wanted = wanted(&devices, &lead.protected);
        let studs = wiring.catalog.studs_for(wiring.cables[id.0]);
        let Some((device, checks)) = best(&wanted, &task, &studs, wiring) else {
            let note = "the catalog holds no device of the kind asked for";
            let check = Check::open(CheckRule::Protected, &lead.name, note);
            protection.checks.push(check);
            continue;
        };
        protection
            .guards
            .push(guard(wiring, id, device, &task, &checks));
        protection
            .checks
            .push(exempt::guarded(wiring, id, device.part));
        protection.checks.extend(checks);
    }
    let exempted = exempt::judge(wiring, &protection.guards);
    protection.checks.extend(exempted);
    protection
}

fn task<'a>(wiring: &Wiring<'a>, id: LeadId, duty: &'a LeadDuty) -> Task<'a> {
    let job = wiring.job;
    let (lead, way) = (job.lead(id), &wiring.route.leads[id.0]);
    let fault_far = smallest(wiring, id);
    Task {
        lead: &lead.name,
        duty,
        ampacity: wiring.ampacities[id.0],
        demand: DeviceDemand {
            voltage: job.system_voltage,
            manual_reset_only: job.rules.manual_reset_only.value,
            vapour: job.space(job.place(lead.protect_at).space).vapour,
            fault: largest(wiring, id),
        },
        fault_far,
        withstands: withstands(wiring, id, fault_far),
        distance: way.protection_at.unwrap_or(Length::ZERO),
        sheathed: way.protection_sheathed,
        rules: &job.rules,
    }
}

/// How long the lead stands a fault, from its rated temperature to the limit in a fault without
/// losing heat: t = (K S / I)² ln((beta + T2) / (beta + T1)), IEC 60949 and IEC 60364-5-54.
fn withstands(wiring: &Wiring<'_>, id: LeadId, fault: Current) -> Duration {
    let cable = wiring.cables[id.0];
    let Some(row) = wiring.catalog.material(cable.material) else {
        return Duration::ZERO;
    };
    let end = wiring
        .job
        .rules
        .fault_limit
        .value
        .c()
        .max(cable.rating.c() + 1.0);
    let rise = ((row.beta.c() + end) / (row.beta.c() + cable.rating.c())).ln();
    let strength = f64::from(row.heating_constant) * cable.size.nominal_area().mm2();
    Duration::from_s((strength / fault.a().max(1.0)).powi(2) * rise)
}

/// The devices that the user leaves to choose from.
fn wanted<'a>(devices: &[Protective<'a>], wish: &Protected) -> Vec<Protective<'a>> {
    let all = devices.iter().copied();
    match wish {
        Protected::Auto | Protected::No { .. } => all.collect(),
        Protected::Part(part) => all.filter(|device| device.part == part).collect(),
        Protected::Rating(rating) => {
            let same = |device: &Protective<'_>| (device.rating.a() - rating.a()).abs() < 1e-6;
            all.filter(same).collect()
        }
    }
}

fn best<'a>(
    devices: &[Protective<'a>],
    task: &Task<'_>,
    studs: &[Thread],
    wiring: &Wiring<'_>,
) -> Option<(Protective<'a>, Vec<Check>)> {
    let price = |device: &Protective<'_>| {
        let holder = device
            .holder
            .map_or(0.0, |row| wiring.catalog.rough_price(&row.id));
        wiring.catalog.rough_price(device.part) + holder
    };
    // What no device can better (the distance) does not count against any of them.
    let faults = |checks: &[Check]| {
        let failed = checks.iter().filter(|check| check.verdict != Verdict::Pass);
        failed
            .filter(|check| check.rule != CheckRule::ProtectionDistance)
            .count()
    };
    let judged = devices.iter().map(|device| {
        let checks = judge(device, task);
        // A stud for which the cable has no lug is as bad as a broken limit.
        let no_lug = usize::from(!studs.is_empty() && !studs.contains(&device.stud));
        (faults(&checks) + no_lug, price(device), *device, checks)
    });
    judged
        .min_by(|a, b| {
            let rating = a.2.rating.total_cmp(&b.2.rating);
            let by_price =
                a.1.total_cmp(&b.1)
                    .then(rating)
                    .then(a.2.part.cmp(b.2.part));
            a.0.cmp(&b.0).then(by_price)
        })
        .map(|(_, _, device, checks)| (device, checks))
}

fn guard(
    wiring: &Wiring<'_>,
    id: LeadId,
    device: Protective<'_>,
    task: &Task<'_>,
    checks: &[Check],
) -> Guard {
    let lead = wiring.job.lead(id);
    let missed: Vec<&str> = checks
        .iter()
        .filter(|check| check.verdict != Verdict::Pass)
        .map(|check| check.rule.as_str())
        .collect();
    let reason = match (&lead.protected, missed.is_empty()) {
        (Protected::Auto, true) => "the cheapest device that passes every check".to_owned(),
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
        withstands_s: task.withstands.s(),
        reason,
    }
}
