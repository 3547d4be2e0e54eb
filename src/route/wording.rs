//! Figures and legs in words, for notes.

use crate::job::{HazardKind, Job, Leg, LegId};

/// A leg by its two places, and by its number in the file where several join the same two.
pub fn leg(job: &Job, id: LegId) -> String {
    let leg = job.leg(id);
    let ends = |leg: &Leg| (leg.from.min(leg.to), leg.from.max(leg.to));
    let twins = job.legs.iter().filter(|other| ends(other) == ends(leg));
    let (from, to) = (&job.place(leg.from).name, &job.place(leg.to).name);
    if twins.count() > 1 {
        format!("{from} to {to} (leg {})", id.0 + 1)
    } else {
        format!("{from} to {to}")
    }
}

/// A kind of hazard with its article.
pub fn hazard(kind: HazardKind) -> String {
    match kind {
        HazardKind::RoadDebris => "the road's stones and water".to_owned(),
        HazardKind::Chafe => "an edge that chafes".to_owned(),
        _ => format!("a {kind}"),
    }
}
