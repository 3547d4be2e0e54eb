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

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::super::testing::{lead, leg, leg_with, traced};
    use super::super::{EndPoint, LeadRoute};
    use crate::job::{LeadId, PanelId};

    const LEAD: LeadId = LeadId(0);

    fn only_lead(places: &[&str], rest: &[String]) -> LeadRoute {
        let (_, route) = traced(places, rest);
        route.leads[0].clone()
    }

    fn metres(lead: &LeadRoute) -> Vec<f64> {
        let sections = lead.sections.iter();
        sections
            .map(|section| (section.routed.mm()).round() / 1000.0)
            .collect()
    }

    #[test]
    fn the_terms_of_a_cut_length_are_those_of_a_hand_calculation_and_add_up() {
        let lead = only_lead(
            &["a", "b"],
            &[leg("a", "b", 1.234), lead("a", "b", "moves = 'to'")],
        );
        let section = &lead.sections[0];
        let millimetres: Vec<f64> = section
            .terms
            .iter()
            .map(|term| (term.length.mm() * 100.0).round() / 100.0)
            .collect();
        // Routed; slack and re-making first; slack, loop and re-making last; 2 % of 1234 mm; two
        // lugs; 1234 + 50 + 25 + 50 + 150 + 25 + 24.68 - 40 = 1518.68, so 1.32 mm to 1520.
        assert_eq!(
            millimetres,
            [
                1234.0, 50.0, 25.0, 50.0, 150.0, 25.0, 24.68, -20.0, -20.0, 1.32
            ]
        );
        assert!((section.cut.mm() - 1520.0).abs() < 1e-9);
        let sum: f64 = section.terms.iter().map(|term| term.length.m()).sum();
        assert_eq!(sum, section.cut.m());
        assert_eq!(section.terms[5].reason, "kept for making the last end anew");
    }

    #[test]
    fn a_feed_through_cuts_the_lead_and_a_grommet_does_not() {
        let crossed = |panel: &str| {
            only_lead(
                &["a", "b", "c"],
                &[
                    leg("a", "b", 1.0),
                    // Measured from the far end, so the panel is 0.5 m from b.
                    leg_with(
                        "c",
                        "b",
                        2.0,
                        &format!("panel = '{panel}'\npanel_at = '1.5 m'"),
                    ),
                    lead("a", "c", ""),
                ],
            )
        };
        let cut = crossed("floor");
        assert_eq!(metres(&cut), [1.5, 1.5]);
        assert_eq!(
            (cut.sections[0].to, cut.sections[1].from),
            (
                EndPoint::FeedThroughNear(LEAD, PanelId(0)),
                EndPoint::FeedThroughFar(LEAD, PanelId(0))
            )
        );
        assert_eq!(cut.stretch(1).unwrap().0, cut.crossings[0].at);
        let whole = crossed("shelf");
        assert_eq!(metres(&whole), [3.0]);
        assert_eq!(whole.crossings.len(), 1);
    }

    #[test]
    fn protection_at_the_source_hangs_on_a_link_of_the_length_given() {
        let keys = "protect = '100 A'\nlink = '120 mm'\nmoves = 'from'";
        let lead = only_lead(&["a", "b"], &[leg("a", "b", 2.0), lead("a", "b", keys)]);
        assert_eq!(metres(&lead), [0.12, 2.0]);
        assert_eq!(lead.sections[0].to, EndPoint::ProtectionIn(LEAD));
        assert_eq!(lead.sections[1].from, EndPoint::ProtectionOut(LEAD));
        assert_eq!(lead.protection_at.unwrap().mm(), 120.0);
        assert!(!lead.protection_sheathed);
        // 120 mm less two lugs; slack would only put the protection farther off.
        assert!((lead.sections[0].cut.mm() - 80.0).abs() < 1e-9);
        let loops = |section: usize| {
            let terms = lead.sections[section].terms.iter();
            terms.filter(|term| term.reason.starts_with("flex")).count()
        };
        assert_eq!((loops(0), loops(1)), (0, 1));
        assert_eq!(lead.stretch(0).unwrap().1.m(), 0.0);
        assert_eq!(lead.stretch(1).unwrap().1.m(), 2.0);
    }

    #[test]
    fn protection_on_the_way_divides_the_lead_and_its_distance_counts_the_slack() {
        let keys = "protect = '100 A'\nprotect_at = 'b'";
        let sheathed = |sheath: &str| {
            only_lead(
                &["a", "b", "c"],
                &[
                    leg_with("a", "b", 0.5, sheath),
                    leg("b", "c", 2.0),
                    lead("a", "c", keys),
                ],
            )
        };
        let lead = sheathed("sheathed = true");
        assert_eq!(metres(&lead), [0.5, 2.0]);
        // 500 mm and twice 50 mm of slack and 25 mm for re-making.
        assert!((lead.protection_at.unwrap().mm() - 650.0).abs() < 1e-9);
        assert!(lead.protection_sheathed);
        assert!(!sheathed("").protection_sheathed);
    }

    #[test]
    fn a_lead_between_two_studs_at_one_place_has_the_least_length_and_says_so() {
        let second = "[[chassis]]\nname = 'second'\nplace = 'a'\nstud = 'M8'\n".to_owned();
        let lead = only_lead(&["a"], &[second, lead("a", "second", "")]);
        assert!(lead.way.legs.is_empty());
        assert_eq!(metres(&lead), [0.15]);
        assert!(lead.sections[0].terms[0].reason.contains("one place"));
        assert_eq!(lead.bundled_with, 1);
    }

    #[test]
    fn a_panel_passed_twice_cuts_twice() {
        let floor = "panel = 'floor'\npanel_at = '0 m'";
        let lead = only_lead(
            &["a", "b", "c"],
            &[
                leg_with("a", "b", 1.0, floor),
                leg_with("b", "c", 1.0, "panel = 'floor'\npanel_at = '1 m'"),
                lead("a", "c", ""),
            ],
        );
        // A feed-through right at a stud still takes a short cable to reach.
        assert_eq!(metres(&lead), [0.15, 2.0, 0.15]);
    }
}
