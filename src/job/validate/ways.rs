//! Whether legs lead from one end of every lead to the other.

use super::{Job, report};
use crate::diagnostic::{Diagnostic, Problem};
use crate::job::id::PlaceId;
use crate::job::model::Lead;

/// Every lead can pass all places it must, without those it must not.
pub fn leads_can_be_laid(job: &Job, mistakes: &mut Vec<Diagnostic>) {
    let mut gaps: Vec<(PlaceId, PlaceId)> = Vec::new();
    for lead in &job.leads {
        let stops = job.stops(lead);
        if let Some(place) = lead.avoid.iter().find(|place| stops.contains(place)) {
            report(
                mistakes,
                lead.span,
                format!(
                    "`{}` must both pass and avoid `{}`",
                    lead.name,
                    job.place(*place).name
                ),
                "take the place out of `avoid`, or out of `via`, `protect_at` and the ends",
            );
            continue;
        }
        let Some((from, to)) = gap(job, lead, &stops) else {
            continue;
        };
        if reached(job, from, &[])[to.0] {
            report(
                mistakes,
                lead.span,
                format!(
                    "past what `{}` avoids, no way leads from `{}` to `{}`",
                    lead.name,
                    job.place(from).name,
                    job.place(to).name
                ),
                "take a place out of `avoid`, or add a leg that goes round it",
            );
            continue;
        }
        // One missing leg may cut off many leads: it is told once.
        let (here, there) = (component(job, from), component(job, to));
        if gaps.contains(&(here, there)) || gaps.contains(&(there, here)) {
            continue;
        }
        gaps.push((here, there));
        let problem = Problem::Unreachable {
            from: job.place(from).name.clone(),
            to: job.place(to).name.clone(),
        };
        mistakes.push(Diagnostic::new(problem, lead.span));
    }
}

/// The first stop that cannot be reached from the start.
fn gap(job: &Job, lead: &Lead, stops: &[PlaceId]) -> Option<(PlaceId, PlaceId)> {
    let from = *stops.first()?;
    let reached = reached(job, from, &lead.avoid);
    let missed = stops.iter().find(|stop| !reached[stop.0])?;
    Some((from, *missed))
}

/// The first place of those that legs join to this one.
fn component(job: &Job, place: PlaceId) -> PlaceId {
    let reached = reached(job, place, &[]);
    PlaceId(reached.iter().position(|here| *here).unwrap_or(place.0))
}

fn reached(job: &Job, from: PlaceId, avoid: &[PlaceId]) -> Vec<bool> {
    let mut reached = vec![false; job.places.len()];
    let mut waiting = vec![from];
    while let Some(place) = waiting.pop() {
        if std::mem::replace(&mut reached[place.0], true) {
            continue;
        }
        for leg in &job.legs {
            let next = match place {
                _ if leg.from == place => leg.to,
                _ if leg.to == place => leg.from,
                _ => continue,
            };
            if !avoid.contains(&next) {
                waiting.push(next);
            }
        }
    }
    reached
}
