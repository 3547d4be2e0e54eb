//! Whether some device can guard a lead as it is wired.

use crate::catalog::Protective;
use crate::circuit::{Faults, Guarding, LeadDuty, Wiring, wanted};
use crate::job::LeadId;
use crate::quantity::{Current, Resistance};

/// What can guard a lead.
#[derive(Debug, Clone, PartialEq)]
pub enum Guardable {
    /// The lead goes without a device.
    NotNeeded,
    /// Some device does everything.
    Yes(Chosen),
    /// Thicker cable would help.
    WithThicker {
        /// Why, in words.
        what: String,
        /// The lead that is too thin, which may be the return of the load.
        lead: LeadId,
    },
    /// No device holds the currents, whatever the cable.
    Never,
}

/// The device that sizing reckons with.
#[derive(Debug, Clone, PartialEq)]
pub struct Chosen {
    /// Id of the breaker or fuse.
    pub part: String,
    /// Its resistance.
    pub resistance: Resistance,
}

/// How much larger a device may be for losing less voltage: a load that draws too much must still
/// open it. Judgement.
const LARGEST_STEP_UP: f64 = 1.6;

/// Which device to take where several do everything.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Taste {
    /// The cheapest.
    Cheapest,
    /// The one that loses least voltage, because the lead's load lacks it.
    LeastLoss,
}

impl Guardable {
    /// Looks for a device for a lead; `devices` stand cheapest first.
    pub fn of(
        wiring: &Wiring<'_>,
        faults: &Faults,
        devices: &[Protective<'_>],
        id: LeadId,
        duty: &LeadDuty,
        taste: Taste,
    ) -> Self {
        let lead = wiring.job.lead(id);
        if !lead.is_protected() {
            return Self::NotNeeded;
        }
        let task = Guarding::of(wiring, faults, id, duty);
        let choice = wanted(devices, &lead.protected);
        let mut able = choice.iter().filter(|device| task.done_by(device));
        let taken = match taste {
            Taste::Cheapest => able.next(),
            Taste::LeastLoss => {
                let able: Vec<_> = able.collect();
                let smallest = able.iter().map(|device| device.rating).reduce(Current::min);
                let near = smallest.unwrap_or(Current::ZERO) * LARGEST_STEP_UP;
                let near = able.into_iter().filter(|device| device.rating <= near);
                near.min_by(|a, b| a.resistance.total_cmp(&b.resistance))
            }
        };
        if let Some(device) = taken {
            return Self::Yes(Chosen {
                part: device.part.to_owned(),
                resistance: device.resistance,
            });
        }
        let able: Vec<&Protective<'_>> = choice
            .iter()
            .filter(|device| task.demand_met_by(device))
            .collect();
        // One that the cable has no lug for decides only where there is no other.
        let order = |device: &&&Protective<'_>| (!task.has_lug_for(device), device.rating);
        let smallest = able.iter().min_by(|a, b| {
            let ((a_lacks, a), (b_lacks, b)) = (order(a), order(b));
            a_lacks.cmp(&b_lacks).then(a.total_cmp(&b))
        });
        let Some(least) = smallest else {
            return Self::Never;
        };
        let most = task.most_rating().a();
        if least.rating.a() > most {
            let what = format!(
                "the smallest device that holds its current is {:.0} A, and the cable may be \
                 guarded by {most:.0} A at most",
                least.rating.a()
            );
            let lead = task.weakest().lead;
            return Self::WithThicker { what, lead };
        }
        let what = format!(
            "a dead short at the far end, {:.0} A, harms the cable after {:.2} s, before any \
             device that holds its current is sure to open",
            task.fault_far.a(),
            task.withstands().s()
        );
        let lead = task.harmed_before(least).unwrap_or(id);
        Self::WithThicker { what, lead }
    }
}
