//! Pulses that follow one another: a device that has been warmed by one has less left for the next.

use super::duty::{LeadDuty, Pulse, switched_on_words};
use crate::catalog::Protective;
use crate::job::{Engine, Job, State};

/// Pulses of one lead in the order in which they come.
pub type Sequence = Vec<Pulse>;

/// Every sequence of a lead: locked rotor, then cranking in the same season; the inrush of a load,
/// then what flows while the load runs; and every other pulse by itself.
pub fn sequences(job: &Job, duty: &LeadDuty) -> Vec<Sequence> {
    let pulses = duty.pulses.iter();
    pulses
        .flat_map(|first| {
            let next = duty.pulses.iter().filter(|next| follows(job, first, next));
            let pairs: Vec<Sequence> = next.map(|next| vec![first.clone(), next.clone()]).collect();
            if pairs.is_empty() {
                vec![vec![first.clone()]]
            } else {
                pairs
            }
        })
        .collect()
}

fn follows(job: &Job, first: &Pulse, next: &Pulse) -> bool {
    let state_of = |pulse: &Pulse| job.states.iter().find(|state| state.name == pulse.when);
    let Some(next) = state_of(next) else {
        return false;
    };
    match state_of(first) {
        Some(first) => {
            first.engine == Engine::Locked
                && next.engine == Engine::Cranking
                && first.season == next.season
        }
        None => switches_on(job, next, first),
    }
}

/// Whether a pulse is the inrush of a load that is on in a state.
fn switches_on(job: &Job, state: &State, pulse: &Pulse) -> bool {
    let mut loads = state.loads.iter();
    let turning = matches!(state.engine, Engine::Cranking | Engine::Locked);
    !turning && loads.any(|load| switched_on_words(job.load(*load).name()) == pulse.when)
}

/// Part of what a device holds that a sequence uses up, from 0; more than 1 may open it. Each
/// current uses its time over the time for which it is certainly held.
pub fn used_part(device: &Protective<'_>, sequence: &[Pulse]) -> f64 {
    let part = |pulse: &Pulse| {
        let held = device.curve.holds_for(device.of_rating(pulse.current)).s();
        if held > 0.0 {
            pulse.time.s() / held
        } else {
            f64::INFINITY
        }
    };
    sequence.iter().map(part).sum()
}
