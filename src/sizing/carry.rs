//! Whether a cable carries what its lead must carry.

use super::candidates::Candidate;
use crate::catalog::{Catalog, DeviceDemand};
use crate::circuit::{LeadDuty, Pulse, Wiring, largest};
use crate::job::{Job, LeadId, Protected};
use crate::quantity::{Current, Duration, Resistance};
use crate::route::LeadRoute;

/// What stands against a cable, with how far the figure is from its limit.
#[derive(Debug, Clone, PartialEq)]
pub enum Burden {
    /// It carries everything; the part of its ability that is left.
    Carried {
        /// What is closest to its limit, in words.
        what: String,
        /// Part of the limit that is left, from 0 to 1.
        left: f64,
    },
    /// It does not.
    Overloaded {
        /// What breaks, in words.
        what: String,
    },
}

/// Holds a cable against the duty of its lead and the least device that can guard it.
pub fn burden(
    candidate: &Candidate<'_>,
    way: &LeadRoute,
    duty: &LeadDuty,
    least_device: Option<Current>,
    job: &Job,
    catalog: &Catalog,
) -> Burden {
    let allowed = candidate.allowed.current;
    let over = |what: String| Burden::Overloaded { what };
    if duty.continuous > allowed || allowed <= Current::ZERO {
        return over(format!(
            "{:.0} A in the state `{}` is more than the {:.0} A allowed",
            duty.continuous.a(),
            duty.continuous_in,
            allowed.a()
        ));
    }
    let mut left = 1.0 - duty.continuous / allowed;
    let mut what = format!(
        "{:.0} A for hours of {:.0} A allowed",
        duty.continuous.a(),
        allowed.a()
    );
    for pulse in &duty.pulses {
        let Some(time) = withstands(candidate, way, pulse.current, catalog) else {
            continue;
        };
        if pulse.current > allowed && time < pulse.time {
            return over(format!(
                "{} heats it past its rating in {:.1} s",
                pulse_words(pulse),
                time.s()
            ));
        }
        if pulse.current > allowed {
            let spare = 1.0 - pulse.time / time;
            if spare < left {
                left = spare;
                what = format!("{} of {:.0} s it stands", pulse_words(pulse), time.s());
            }
        }
    }
    if let Some(device) = least_device {
        let most = allowed * job.rules.protection_most.value.fraction();
        if device > most {
            return over(format!(
                "the smallest device that holds its current is {:.0} A, and it may be guarded by \
                 {:.0} A at most",
                device.a(),
                most.a()
            ));
        }
        let spare = 1.0 - device / most;
        if spare < left {
            left = spare;
            what = format!(
                "a device of {:.0} A of {:.0} A at most",
                device.a(),
                most.a()
            );
        }
    }
    Burden::Carried { what, left }
}

fn pulse_words(pulse: &Pulse) -> String {
    format!(
        "{:.0} A for {} s ({})",
        pulse.current.a(),
        pulse.time.s(),
        pulse.when
    )
}

/// How long a current may flow until the conductor, starting at the heat of its surroundings and
/// losing none, reaches its rating: t = (K S / I)² ln((beta + T2) / (beta + T1)), IEC 60949.
fn withstands(
    candidate: &Candidate<'_>,
    way: &LeadRoute,
    current: Current,
    catalog: &Catalog,
) -> Option<Duration> {
    let row = catalog.material(candidate.cable.material)?;
    let (start, end) = (way.ambient.c(), candidate.cable.rating.c());
    let rise = ((row.beta.c() + end) / (row.beta.c() + start))
        .ln()
        .max(0.0);
    let strength = f64::from(row.heating_constant) * candidate.cable.size.nominal_area().mm2();
    Some(Duration::from_s((strength / current.a()).powi(2) * rise))
}

/// The smallest device that can guard a lead at all.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeastDevice {
    /// Its rating.
    pub rating: Current,
    /// Its resistance.
    pub resistance: Resistance,
}

/// The smallest device that carries the continuous current with the rule's margin, holds every
/// pulse, and suits place, voltage and fault. `None` for leads without a device, and where the
/// catalog holds no such device.
pub fn least_device(wiring: &Wiring<'_>, id: LeadId, duty: &LeadDuty) -> Option<LeastDevice> {
    let lead = wiring.job.lead(id);
    let devices = wiring.catalog.protective();
    let found = match &lead.protected {
        Protected::No { .. } => None,
        Protected::Rating(rating) => devices.iter().find(|device| device.rating >= *rating),
        Protected::Part(part) => devices.iter().find(|device| device.part == part),
        Protected::Auto => {
            let demand = DeviceDemand {
                voltage: wiring.job.system_voltage,
                manual_reset_only: wiring.job.rules.manual_reset_only.value,
                vapour: wiring
                    .job
                    .space(wiring.job.place(lead.protect_at).space)
                    .vapour,
                fault: largest(wiring, id),
            };
            let least = duty.continuous * wiring.job.rules.protection_least.value.fraction();
            devices.iter().find(|device| {
                let mut pulses = duty.pulses.iter();
                device.meets(&demand)
                    && device.rating >= least
                    && pulses.all(|pulse| device.holds(pulse.current, pulse.time))
            })
        }
    };
    found.map(|device| LeastDevice {
        rating: device.rating,
        resistance: device.resistance,
    })
}
