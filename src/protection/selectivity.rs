//! Whether a short opens the device nearest to it alone, or others nearer to the source too.

use serde::Serialize;

use super::watch::{End, Watch};
use crate::check::{Check, CheckRule};
use crate::job::LeadId;
use crate::quantity::{Current, Length};

/// Up to which current of a short the device next to it opens alone.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Alone {
    /// At every short that the lead can have.
    Always,
    /// Up to a current.
    UpTo(Current),
    /// Not even at the smallest.
    Never,
}

/// A device and the next one towards the loads.
#[derive(Debug, Clone, Serialize)]
pub struct Selectivity {
    /// The lead of the next device.
    pub downstream: LeadId,
    /// Up to which short in that lead its own device opens alone.
    pub alone: Alone,
    /// Smallest short in that lead.
    pub least: Current,
    /// Largest short in that lead.
    pub largest: Current,
}

/// Every device that comes next after that of a lead.
pub fn next_to(watch: &Watch<'_>, lead: LeadId) -> Vec<Selectivity> {
    let next = watch.downstream(lead).into_iter();
    next.filter_map(|next| between(watch, lead, next)).collect()
}

/// How finely the currents between smallest and largest are looked at.
const STEPS: i32 = 64;

/// How the device of a lead stands to that of a lead after it.
pub fn between(watch: &Watch<'_>, upstream: LeadId, downstream: LeadId) -> Option<Selectivity> {
    let (above, below) = (watch.kept(upstream)?, watch.kept(downstream)?);
    let end = watch.wiring.route.leads[downstream.0].cut();
    let seen = |guard: LeadId, at: Length| {
        let spot = watch.faults.at(watch.wiring, downstream, at);
        watch.seen(guard, downstream, End::Near, &spot)
    };
    let (near, far) = (seen(downstream, below.at), seen(downstream, end));
    let (least, largest) = (far.least, near.largest);
    if least <= Current::ZERO {
        return None;
    }
    // Where others feed the short too, the device above carries less of it than the one below.
    let share =
        (seen(upstream, end).least / least).max(seen(upstream, below.at).least / near.least);
    let alone = |current: Current| {
        let opens = below.cold.opens_within(current);
        let holds = above
            .hot
            .curve
            .holds_for(above.hot.of_rating(current * share));
        opens.is_some_and(|time| time < holds)
    };
    let step = (largest / least).powf(1.0 / f64::from(STEPS));
    let currents = (0..=STEPS).map(|count| least * step.powi(count));
    let first = currents.clone().find(|current| !alone(*current));
    let alone = match first {
        None => Alone::Always,
        Some(first) if first <= least => Alone::Never,
        Some(first) => Alone::UpTo(first / step),
    };
    Some(Selectivity {
        downstream,
        alone,
        least,
        largest,
    })
}

/// One verdict for each pair, where the job asks for them.
pub fn judge(watch: &Watch<'_>, upstream: LeadId, pairs: &[Selectivity]) -> Vec<Check> {
    let job = watch.wiring.job;
    let rule = &job.rules.selectivity;
    if !rule.value {
        return Vec::new();
    }
    let above = &job.lead(upstream).name;
    let check = |pair: &Selectivity| {
        let name = &job.lead(pair.downstream).name;
        let alone = pair.alone == Alone::Always;
        let note = match pair.alone {
            Alone::Always => format!("a short in it never opens the device of {above}"),
            Alone::UpTo(most) => format!(
                "a short in it of more than {:.0} A may open the device of {above} too; take a \
                 slower or larger device there or a quicker one here",
                most.a()
            ),
            Alone::Never => format!(
                "a short in it may open the device of {above} first; take a slower or larger device \
                 there or a quicker one here"
            ),
        };
        Check::holds(CheckRule::Selectivity, name, alone, &rule.map(|_| ())).with_note(note)
    };
    pairs.iter().map(check).collect()
}
