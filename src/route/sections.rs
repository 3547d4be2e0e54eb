//! Where a lead's conductor ends, and so which cables it is made of.

use super::lengths::{self, Kind, Loops};
use super::{Crossing, EndPoint, Section, Way};
use crate::job::{Job, Lead, LeadId, MovingEnd, Passage, PlaceId};
use crate::quantity::Length;

/// The cables of one lead and what lies between them.
pub struct Cables {
    /// The cables, from the first end to the last.
    pub sections: Vec<Section>,
    /// Panels that the lead passes, in order.
    pub crossings: Vec<Crossing>,
    /// Conductor between the source and the protection, for protected leads.
    pub protection_at: Option<Length>,
}

/// A point at which the conductor is cut.
struct Cut {
    at: Length,
    near: EndPoint,
    far: EndPoint,
}

/// A cable before its length is worked out.
struct Stretch {
    from: EndPoint,
    to: EndPoint,
    start: Length,
    routed: Length,
    kind: Kind,
}

/// Cuts a lead into cables.
pub fn cables(job: &Job, id: LeadId, way: &Way) -> Cables {
    let lead = job.lead(id);
    let stretches = stretches(job, id, way);
    let loops = loops(lead, &stretches);
    let rules = &job.rules;
    let mut protection_at = None;
    let mut conductor = Length::ZERO;
    let mut sections = Vec::new();
    for (stretch, loops) in stretches.into_iter().zip(loops) {
        conductor += lengths::conductor(rules, stretch.routed, stretch.kind, loops);
        if stretch.to == EndPoint::ProtectionIn(id) {
            protection_at = Some(conductor);
        }
        let terms = lengths::terms(rules, stretch.routed, stretch.kind, loops);
        sections.push(Section {
            from: stretch.from,
            to: stretch.to,
            start: stretch.start,
            routed: stretch.routed,
            cut: terms.iter().map(|term| term.length).sum(),
            terms,
        });
    }
    Cables {
        sections,
        crossings: crossings(job, way),
        protection_at,
    }
}

/// Position in the way of the place that a lead's protection is at; `None` without protection.
pub fn protection_index(lead: &Lead, way: &Way) -> Option<usize> {
    let place = |place: &PlaceId| *place == lead.protect_at;
    let index = way.places.iter().position(place);
    index.filter(|_| lead.is_protected())
}

/// Whether all of the way before the protection is enclosed.
pub fn protection_sheathed(job: &Job, lead: &Lead, way: &Way) -> bool {
    // A link at the source is open cable.
    protection_index(lead, way).is_some_and(|index| {
        let before = way.legs.iter().take(index);
        index > 0 && before.map(|leg| job.leg(*leg)).all(|leg| leg.sheathed)
    })
}

fn stretches(job: &Job, id: LeadId, way: &Way) -> Vec<Stretch> {
    let lead = job.lead(id);
    let at_source = lead.protect_at == job.terminal(lead.from).place;
    let end = Cut {
        at: way.length,
        near: EndPoint::Terminal(lead.to),
        far: EndPoint::Terminal(lead.to),
    };
    let mut from = EndPoint::Terminal(lead.from);
    let mut start = Length::ZERO;
    let mut stretches = Vec::new();
    for cut in cuts(job, id, way).into_iter().chain([end]) {
        let (routed, kind) = match cut.near {
            EndPoint::ProtectionIn(_) if at_source => (lead.link, Kind::Link),
            _ if cut.at > start => (cut.at - start, Kind::Laid),
            _ => (job.rules.link_length.value, Kind::SamePlace),
        };
        stretches.push(Stretch {
            from,
            to: cut.near,
            start,
            routed,
            kind,
        });
        (from, start) = (cut.far, cut.at);
    }
    stretches
}

/// Every cut between the two ends, in order along the way.
fn cuts(job: &Job, id: LeadId, way: &Way) -> Vec<Cut> {
    let protection = protection_index(job.lead(id), way);
    let mut cuts = Vec::new();
    for (index, at) in distances(job, way).into_iter().enumerate() {
        if protection == Some(index) {
            cuts.push(Cut {
                at,
                near: EndPoint::ProtectionIn(id),
                far: EndPoint::ProtectionOut(id),
            });
        }
        let Some(crossing) = crossing(job, way, index, at) else {
            continue;
        };
        if job.panel(crossing.panel).passage == Passage::FeedThrough {
            cuts.push(Cut {
                at: crossing.at,
                near: EndPoint::FeedThroughNear(id, crossing.panel),
                far: EndPoint::FeedThroughFar(id, crossing.panel),
            });
        }
    }
    cuts
}

/// Distance of each place of a way from its start.
fn distances(job: &Job, way: &Way) -> Vec<Length> {
    let mut at = Length::ZERO;
    let mut distances = vec![at];
    for leg in &way.legs {
        at += job.leg(*leg).length;
        distances.push(at);
    }
    distances
}

/// Panels that a way passes, in order.
fn crossings(job: &Job, way: &Way) -> Vec<Crossing> {
    let distances = distances(job, way).into_iter().enumerate();
    distances
        .filter_map(|(index, at)| crossing(job, way, index, at))
        .collect()
}

/// The panel on the leg at a position of the way that starts `at` so far from its first end.
fn crossing(job: &Job, way: &Way, index: usize, at: Length) -> Option<Crossing> {
    let id = *way.legs.get(index)?;
    let leg = job.leg(id);
    let (panel, from_first) = leg.crossing?;
    let forward = way.places.get(index) == Some(&leg.from);
    let along = if forward {
        from_first
    } else {
        leg.length - from_first
    };
    Some(Crossing {
        panel,
        leg: id,
        at: at + along,
    })
}

/// For each stretch, whether it has the flex loop at its first and at its last end. A link at the
/// source lies beside it on the same body, so it never takes the loop unless there is no other.
fn loops(lead: &Lead, stretches: &[Stretch]) -> Vec<Loops> {
    let mut loops = vec![Loops::default(); stretches.len()];
    let laid = |stretch: &Stretch| stretch.kind == Kind::Laid;
    match lead.moves {
        MovingEnd::None => {}
        MovingEnd::From => {
            let first = stretches.iter().position(laid).unwrap_or(0);
            if let Some(ends) = loops.get_mut(first) {
                ends.first = true;
            }
        }
        MovingEnd::To => {
            let last = stretches.iter().rposition(laid);
            let last = last.unwrap_or(stretches.len().saturating_sub(1));
            if let Some(ends) = loops.get_mut(last) {
                ends.last = true;
            }
        }
    }
    loops
}
