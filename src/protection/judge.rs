//! One device held against one lead.

use super::self_limiting;
use crate::catalog::{Basis, Cited, Curve, Protective};
use crate::check::{Check, CheckRule};
use crate::circuit::{Guarding, Pulse, used_part};

/// Every verdict on a device for a task.
pub fn judge(device: &Protective<'_>, task: &Guarding<'_>) -> Vec<Check> {
    vec![
        carries(device, task),
        guards(device, task),
        holds(device, task),
        opens(device, task),
        interrupting(device, task),
        voltage(device, task),
        kind(device, task),
        distance(task),
    ]
}

fn carries(device: &Protective<'_>, task: &Guarding<'_>) -> Check {
    let margin = &task.rules.protection_least;
    let limit = margin.map(|_| task.least_rating().a());
    let note = format!(
        "{:.0} A for hours, {:.0} % of it asked; the device is rated {:.0} A and carries {:.0} A in air \
         of {:.0} °C",
        task.duty.continuous.a(),
        margin.value.percent(),
        device.rating.a(),
        device.in_air(task.demand.hot).rating.a(),
        task.demand.hot.c()
    );
    let carries = device.in_air(task.demand.hot).rating.a();
    Check::at_least(CheckRule::DeviceCarries, task.lead, carries, &limit, "A").with_note(note)
}

fn guards(device: &Protective<'_>, task: &Guarding<'_>) -> Check {
    let most = &task.rules.protection_most;
    let limit = most.map(|_| task.most_rating().a());
    let note = format!(
        "the lead and its load's return may carry {:.0} A where they lie, so the device may be \
         {:.0} A at most",
        task.weakest().ampacity.a(),
        limit.value
    );
    let rating = device.rating.a();
    Check::at_most(CheckRule::DeviceGuards, task.lead, rating, &limit, "A").with_note(note)
}

fn curve_source(curve: &Curve) -> Cited<()> {
    Cited {
        value: (),
        citation: curve.citation.clone(),
        basis: curve.basis,
    }
}

/// The sequence of currents that comes closest to opening the device must not open it.
fn holds(device: &Protective<'_>, task: &Guarding<'_>) -> Check {
    let device = device.in_air(task.demand.hot);
    let source = curve_source(device.curve);
    let used = |sequence: &[Pulse]| used_part(&device, sequence);
    let sequences = task.sequences.iter();
    let Some(worst) = sequences.max_by(|a, b| used(a).total_cmp(&used(b))) else {
        return Check::holds(CheckRule::DeviceHolds, task.lead, true, &source)
            .with_note("no current is larger than that which flows for hours");
    };
    let words = |pulse: &Pulse| {
        format!(
            "{:.0} A for {} s ({})",
            pulse.current.a(),
            pulse.time.s(),
            pulse.when
        )
    };
    let told: Vec<String> = worst.iter().map(words).collect();
    let note = format!(
        "{} uses {:.0} % of what it surely holds",
        told.join(", then "),
        100.0 * used(worst)
    );
    // Without end is more than any part that can be written.
    let value = (100.0 * used(worst)).min(1e6);
    let limit = source.map(|()| 100.0);
    Check::at_most(CheckRule::DeviceHolds, task.lead, value, &limit, "%").with_note(note)
}

fn opens(device: &Protective<'_>, task: &Guarding<'_>) -> Check {
    if let Some(check) = self_limiting::opens(device, task) {
        return check;
    }
    let device = device.in_air(task.demand.cold);
    let source = curve_source(device.curve);
    let limit = source.map(|()| task.withstands().s());
    let fault = task.fault_far.a();
    match device.opens_within(task.fault_far) {
        Some(time) => {
            let note = format!(
                "a dead short at the far end draws {fault:.0} A at least; it opens within {}, and \
                 the cable stands that for {}",
                seconds(time.s()),
                seconds(task.withstands().s())
            );
            Check::at_most(CheckRule::DeviceOpens, task.lead, time.s(), &limit, "s").with_note(note)
        }
        None => {
            let note = format!(
                "a dead short at the far end draws only {fault:.0} A, which need not open it; a \
                 thicker or shorter lead would draw more"
            );
            Check::holds(CheckRule::DeviceOpens, task.lead, false, &source).with_note(note)
        }
    }
}

fn interrupting(device: &Protective<'_>, task: &Guarding<'_>) -> Check {
    let limit = Cited {
        value: task.demand.fault.a(),
        citation: device.source.to_owned(),
        basis: Basis::CommonPractice,
    };
    let note = format!(
        "the sources can drive {:.0} A into a short, worked out or from the battery's maker; the device \
         breaks up to {:.0} A",
        task.demand.fault.a(),
        device.interrupting.a()
    );
    let value = device.interrupting.a();
    Check::at_least(CheckRule::Interrupting, task.lead, value, &limit, "A").with_note(note)
}

fn voltage(device: &Protective<'_>, task: &Guarding<'_>) -> Check {
    let limit = Cited {
        value: task.demand.voltage.v(),
        citation: device.source.to_owned(),
        basis: Basis::CommonPractice,
    };
    let note = format!(
        "the system has {} V, the device is good for {} V",
        task.demand.voltage.v(),
        device.voltage.v()
    );
    let value = device.voltage.v();
    Check::at_least(CheckRule::DeviceVoltage, task.lead, value, &limit, "V").with_note(note)
}

fn kind(device: &Protective<'_>, task: &Guarding<'_>) -> Check {
    let source = task.rules.manual_reset_only.map(|_| ());
    let allowed = device.kind_allowed(&task.demand);
    let note = match (allowed, task.demand.vapour && !device.ignition_protected) {
        (true, _) => format!("a {} is allowed here", device.kind),
        (false, true) => {
            "vapour may gather where it stands, and it is not ignition protected".to_owned()
        }
        (false, false) => "a breaker that closes by itself is not allowed here".to_owned(),
    };
    Check::holds(CheckRule::DeviceKind, task.lead, allowed, &source).with_note(note)
}

fn distance(task: &Guarding<'_>) -> Check {
    let rule = if task.sheathed {
        &task.rules.protection_distance_sheathed
    } else {
        &task.rules.protection_distance
    };
    let limit = rule.map(|length| length.mm());
    let note = format!(
        "{:.0} mm of cable lie between the source and the device{}",
        task.distance.mm(),
        if task.sheathed { ", sheathed" } else { "" }
    );
    let value = task.distance.mm();
    Check::at_most(
        CheckRule::ProtectionDistance,
        task.lead,
        value,
        &limit,
        "mm",
    )
    .with_note(note)
}

fn seconds(seconds: f64) -> String {
    match seconds {
        s if s >= 86_400.0 => "days".to_owned(),
        s if s >= 3600.0 => format!("{:.0} h", s / 3600.0),
        s if s >= 120.0 => format!("{:.0} min", s / 60.0),
        s if s >= 10.0 => format!("{s:.0} s"),
        s => format!("{s:.2} s"),
    }
}
