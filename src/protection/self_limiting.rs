//! Leads that only sources with a current limit feed: the limit itself may be their protection.

use crate::catalog::{Basis, Cited, Protective};
use crate::check::{Check, CheckRule};
use crate::circuit::{Guarding, Wiring, limited_feed};
use crate::job::{LeadId, Owner};

/// Where the exemption stands.
fn source() -> Cited<()> {
    Cited {
        value: (),
        citation: "ABYC E-11 11.10.2.8.4: self-limiting sources need no overcurrent protection"
            .to_owned(),
        basis: Basis::Published,
    }
}

/// The verdict on whether a device opens, where the limit of the sources decides that it does not.
/// `None` where a device is to be judged as anywhere else.
pub fn opens(device: &Protective<'_>, task: &Guarding<'_>) -> Option<Check> {
    let limit = task.limited?;
    let opened = device.opens_within(limit);
    if opened.is_some_and(|time| time <= task.withstands()) {
        return None;
    }
    let (kind, rating) = (device.kind, device.rating.a());
    let mut note = format!(
        "what feeds the lead gives at most {:.0} A, which need not open a {rating:.0} A {kind}",
        limit.a()
    );
    let carries = task.weakest().ampacity.a();
    let safe = task.is_self_limited();
    note += &if safe {
        format!("; the limit itself protects, for lead and return carry {carries:.0} A for hours")
    } else {
        format!(
            ", and lead and return carry only {carries:.0} A: size them for the limit, or take a \
             smaller {kind}"
        )
    };
    let check = Check::holds(CheckRule::DeviceOpens, task.lead, safe, &source());
    Some(check.with_note(note))
}

/// The verdict on a lead without a device that starts at a converter's output, or that the limit of
/// its sources protects. `None` where neither is so.
pub fn unguarded(wiring: &Wiring<'_>, id: LeadId) -> Option<Check> {
    let job = wiring.job;
    let lead = job.lead(id);
    let starts_at_output = match job.terminal(lead.from).owner {
        Owner::Converter(index) => job.converters[index].output == lead.from,
        _ => false,
    };
    let carries = wiring.ampacities[id.0];
    let (holds, note) = match limited_feed(job, id) {
        Some(limit) if limit <= carries => (
            true,
            format!(
                "what feeds it gives at most {:.0} A, and it carries {:.0} A for hours: it needs \
                 no device",
                limit.a(),
                carries.a()
            ),
        ),
        Some(limit) if starts_at_output => (
            false,
            format!(
                "the converter gives {:.0} A, and it carries only {:.0} A; take a thicker lead or \
                 give it `protect`",
                limit.a(),
                carries.a()
            ),
        ),
        None if starts_at_output => (
            false,
            "a battery feeds it too, from its other end; write the lead from that end, so that its \
             protection sits there"
                .to_owned(),
        ),
        _ => return None,
    };
    let check = Check::holds(CheckRule::Protected, &lead.name, holds, &source());
    Some(check.with_note(note))
}
