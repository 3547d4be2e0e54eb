//! Leads that only sources with a current limit feed.

use crate::catalog::Polarity;
use crate::job::{Job, LeadId};
use crate::quantity::Current;

/// The most that can flow in a positive lead that no battery feeds, only converters and
/// alternators, which hold their limit even into a short: the sum of their limits. `None` where a
/// battery feeds it, or where nothing does.
pub fn limited_feed(job: &Job, lead: LeadId) -> Option<Current> {
    if job.lead(lead).polarity != Polarity::Positive {
        return None;
    }
    if job.alternators.is_empty() && job.converters.is_empty() {
        return None;
    }
    let groups = job.groups();
    let group = groups[job.lead(lead).from.0];
    let mut batteries = job.batteries.iter();
    if batteries
        .any(|battery| groups[battery.positive.0] == group || groups[battery.negative.0] == group)
    {
        return None;
    }
    let alternators = job.alternators.iter();
    let alternators = alternators.filter(|item| groups[item.positive.0] == group);
    let limits: Current = alternators.map(|item| item.given.limit).sum();
    let all = limits + converters(job, lead);
    (all > Current::ZERO).then_some(all)
}

/// What converters can add to a short in a lead.
pub fn converters(job: &Job, lead: LeadId) -> Current {
    if job.converters.is_empty() {
        return Current::ZERO;
    }
    let groups = job.groups();
    let group = groups[job.lead(lead).from.0];
    let feeding = job.converters.iter();
    let feeding = feeding.filter(|item| groups[item.output.0] == group);
    feeding.map(|item| item.given.limit).sum()
}
