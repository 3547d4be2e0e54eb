//! Where supports stand, and the verdict on their spacing.

use std::collections::BTreeSet;

use super::windows::{before, beside_obstacles, beyond, fewest, filled};
use super::{Bundle, Support, SupportReason, Way, sections, wording};
use crate::catalog::Cited;
use crate::check::{Check, CheckRule, Verdict};
use crate::job::{Job, LeadId, LegId, Owner, PlaceId};
use crate::quantity::Length;

/// What a support's neighbourhood depends on, for the whole job.
struct Surroundings {
    /// Legs with the place at which the conductor of a lead on them ends.
    ends: BTreeSet<(LegId, PlaceId)>,
    /// Places at which a panel is passed, at the very end of a leg.
    panels: BTreeSet<PlaceId>,
}

/// Every support, in the order of legs and distance.
///
/// Each leg keeps its own first and last support within half the spacing of its ends, so that the
/// spacing holds from one leg to the next whichever way the leads go on.
pub fn layout(job: &Job, ways: &[Way], bundles: &[Bundle]) -> Vec<Support> {
    let surroundings = Surroundings::of(job, ways, bundles);
    let mut supports = Vec::new();
    for bundle in bundles {
        let on_leg = on_leg(job, bundle, &surroundings);
        supports.extend(on_leg.into_iter().map(|(at, reason)| Support {
            leg: bundle.leg,
            at,
            reason,
        }));
    }
    supports
}

fn on_leg(job: &Job, bundle: &Bundle, surroundings: &Surroundings) -> Vec<(Length, SupportReason)> {
    let id = bundle.leg;
    let leg = job.leg(id);
    let mut windows = beside_obstacles(leg, job.rules.support_near_bend.value);
    let (reach, reason) = surroundings.reach(job, id, leg.from);
    windows.push(beyond(Length::ZERO, reach.min(leg.length), reason));
    let (reach, reason) = surroundings.reach(job, id, leg.to);
    windows.push(before(leg.length, reach.min(leg.length), reason));
    filled(fewest(windows), leg.length, spacing(job, bundle).value)
}

/// The rule for the spacing on a leg: the closer one where a lead from a battery is held.
fn spacing<'a>(job: &'a Job, bundle: &Bundle) -> &'a Cited<Length> {
    let (usual, battery) = (
        &job.rules.support_spacing,
        &job.rules.support_spacing_battery,
    );
    let from_battery = |lead: &LeadId| {
        let lead = job.lead(*lead);
        let ends = [lead.from, lead.to];
        ends.iter()
            .any(|end| matches!(job.terminal(*end).owner, Owner::Battery(_)))
    };
    let closer = battery.value < usual.value && bundle.leads.iter().any(from_battery);
    if closer { battery } else { usual }
}

impl Surroundings {
    fn of(job: &Job, ways: &[Way], bundles: &[Bundle]) -> Self {
        let mut ends = BTreeSet::new();
        for (lead, way) in ways.iter().enumerate() {
            ends.extend(conductor_ends(job, LeadId(lead), way));
        }
        let mut panels = BTreeSet::new();
        for bundle in bundles {
            let leg = job.leg(bundle.leg);
            if let Some((_, at)) = leg.crossing {
                if at <= Length::ZERO {
                    panels.insert(leg.from);
                }
                if at >= leg.length {
                    panels.insert(leg.to);
                }
            }
        }
        Self { ends, panels }
    }

    /// How far the first support of a leg may be from one of its places, and why.
    fn reach(&self, job: &Job, leg: LegId, place: PlaceId) -> (Length, SupportReason) {
        let rules = &job.rules;
        // The closer of both spacings, for a lead may come from a leg that a battery's lead is on.
        let spacing = &rules.support_spacing;
        let mut reach = spacing.value.min(rules.support_spacing_battery.value) * 0.5;
        let mut reason = SupportReason::Spacing;
        if self.panels.contains(&place) {
            reach = reach.min(rules.support_near_bend.value);
            reason = SupportReason::Panel;
        }
        if self.ends.contains(&(leg, place)) {
            reach = reach.min(rules.support_near_end.value);
            reason = SupportReason::NearEnd;
        }
        (reach, reason)
    }
}

/// The legs and places of a way at which the conductor ends: at the terminals and on both sides of
/// the protection.
fn conductor_ends(job: &Job, lead: LeadId, way: &Way) -> Vec<(LegId, PlaceId)> {
    let mut ends = Vec::new();
    ends.extend(way.legs.first().copied().zip(way.places.first().copied()));
    ends.extend(way.legs.last().copied().zip(way.places.last().copied()));
    if let Some(index) = sections::protection_index(job.lead(lead), way) {
        let place = way.places.get(index).copied();
        let leg_before = index.checked_sub(1).and_then(|leg| way.legs.get(leg));
        ends.extend(leg_before.copied().zip(place));
        ends.extend(way.legs.get(index).copied().zip(place));
    }
    ends
}

/// One verdict for each leg that is used: the largest distance between neighbouring supports on it
/// and across its ends.
pub fn checks(job: &Job, ways: &[Way], bundles: &[Bundle], supports: &[Support]) -> Vec<Check> {
    bundles
        .iter()
        .map(|bundle| {
            let name = wording::leg(job, bundle.leg);
            let limit = spacing(job, bundle).map(|limit| limit.mm());
            let gap = largest_gap(job, ways, bundle.leg, supports);
            let check = Check::at_most(CheckRule::Support, &name, gap.mm(), &limit, "mm");
            let count = supports.iter().filter(|row| row.leg == bundle.leg).count();
            let note = if check.verdict == Verdict::Pass {
                format!("supports on this leg: {count}")
            } else {
                "no supports fit so close together: give `support_spacing` a length that can be \
                 built, or divide the leg"
                    .to_owned()
            };
            check.with_note(note)
        })
        .collect()
}

fn largest_gap(job: &Job, ways: &[Way], leg: LegId, supports: &[Support]) -> Length {
    let on_leg: Vec<Length> = positions(supports, leg).collect();
    let inside = on_leg.windows(2).map(|pair| pair[1] - pair[0]);
    let ends = [job.leg(leg).from, job.leg(leg).to];
    let own = ends.map(|place| (place, to_nearest(job, leg, place, supports)));
    let across = ways.iter().flat_map(|way| {
        let joints = way.legs.windows(2).zip(way.places.iter().skip(1));
        joints.filter_map(move |(pair, place)| {
            let other = match pair {
                [one, other] if *one == leg => *other,
                [other, one] if *one == leg => *other,
                _ => return None,
            };
            let (_, own) = own.iter().find(|(end, _)| end == place)?;
            Some(*own + to_nearest(job, other, *place, supports))
        })
    });
    inside
        .chain(across)
        .chain(own.map(|(_, distance)| distance))
        .fold(Length::ZERO, Length::max)
}

fn positions(supports: &[Support], leg: LegId) -> impl Iterator<Item = Length> {
    let on_leg = supports.iter().filter(move |support| support.leg == leg);
    on_leg.map(|support| support.at)
}

/// Distance from a place to the nearest support on a leg that touches it.
fn to_nearest(job: &Job, id: LegId, place: PlaceId, supports: &[Support]) -> Length {
    let leg = job.leg(id);
    let distance = |at: Length| {
        if leg.from == place {
            at
        } else {
            leg.length - at
        }
    };
    let distances = positions(supports, id).map(distance);
    distances.fold(leg.length, Length::min)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use proptest::prelude::*;

    use super::super::testing::{catalog, checks, job, lead, leg, leg_with, traced};
    use super::super::{Route, trace};
    use super::*;

    const SPACING: f64 = 0.45 + 1e-6;

    /// Positions of the supports along the way of the first lead, from its first end.
    fn along(job: &Job, route: &Route) -> Vec<f64> {
        let way = &route.leads[0].way;
        let mut start = 0.0;
        let mut along = Vec::new();
        for (leg, place) in way.legs.iter().zip(&way.places) {
            let length = job.leg(*leg).length.m();
            let forward = job.leg(*leg).from == *place;
            for at in positions(&route.supports, *leg) {
                along.push(start + if forward { at.m() } else { length - at.m() });
            }
            start += length;
        }
        along.sort_by(f64::total_cmp);
        along
    }

    #[test]
    fn a_metre_gets_a_support_near_each_end_and_one_between() {
        let (job, route) = traced(&["a", "b"], &[leg("a", "b", 1.0), lead("a", "b", "")]);
        let along = along(&job, &route);
        let expected = [0.2, 0.55, 0.9];
        assert_eq!(along.len(), 3);
        for (at, expected) in along.iter().zip(expected) {
            assert!((at - expected).abs() < 1e-9, "{along:?}");
        }
        let passed = checks(&route, CheckRule::Support, Verdict::Pass);
        assert!((passed[0].value.unwrap() - 350.0).abs() < 1e-6);
        assert_eq!(passed[0].subject, "a to b");
    }

    #[test]
    fn panels_and_bends_have_a_support_within_reach_on_each_side() {
        let keys = "panel = 'shelf'\npanel_at = '0.6 m'\nbends = 2";
        let legs = [leg_with("a", "b", 3.0, keys), lead("a", "b", "")];
        let (job, route) = traced(&["a", "b"], &legs);
        let along = along(&job, &route);
        for obstacle in [0.6, 1.0, 2.0] {
            let near = |from: f64, to: f64| along.iter().any(|at| *at > from && *at < to);
            assert!(near(obstacle - 0.1501, obstacle - 0.01), "{along:?}");
            assert!(near(obstacle + 0.01, obstacle + 0.1501), "{along:?}");
        }
        let reasons = |wanted| route.supports.iter().filter(|s| s.reason == wanted).count();
        assert_eq!(reasons(SupportReason::NearEnd), 2);
        assert_eq!(reasons(SupportReason::Panel), 2);
        assert_eq!(reasons(SupportReason::Bend), 4);
    }

    #[test]
    fn a_panel_at_the_end_of_a_leg_is_supported_on_the_next_leg_too() {
        let legs = [
            leg_with("a", "b", 2.0, "panel = 'shelf'\npanel_at = '2 m'"),
            leg("b", "c", 2.0),
            lead("a", "c", ""),
        ];
        let (job, route) = traced(&["a", "b", "c"], &legs);
        let after: Vec<f64> = along(&job, &route)
            .into_iter()
            .filter(|at| *at > 2.0)
            .collect();
        assert!(after[0] <= 2.15 + 1e-9, "{after:?}");
    }

    #[test]
    fn leads_on_one_leg_share_its_supports_and_count_as_a_bundle() {
        let second = lead("b", "a", "").replace("'lead'", "'second'");
        let rest = [leg("a", "b", 1.0), lead("a", "b", ""), second];
        let (_, route) = traced(&["a", "b"], &rest);
        assert_eq!(route.supports.len(), 3);
        assert_eq!(route.bundles[0].leads, [LeadId(0), LeadId(1)]);
        assert_eq!(route.leads[1].bundled_with, 2);
    }

    #[test]
    fn a_spacing_that_cannot_be_built_fails_instead_of_asking_for_supports_without_end() {
        let rest = [leg_with("a", "b", 1.0, "bends = 50"), lead("a", "b", "")].concat();
        let mut job = job(&["a", "b"], &rest);
        job.rules.support_spacing.value = Length::ZERO;
        let route = trace(&job, &catalog());
        assert_eq!(checks(&route, CheckRule::Support, Verdict::Fail).len(), 1);
        assert!(route.supports.len() < 6_000);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(60))]
        #[test]
        fn no_gap_along_a_lead_is_above_the_spacing_and_the_ends_are_held(
            lengths in proptest::collection::vec((1_u32..4000, 0_u32..4, any::<bool>()), 1..6),
        ) {
            let names = ["a", "b", "c", "d", "e", "f"];
            let mut rest = Vec::new();
            for (index, (millimetres, bends, turned)) in lengths.iter().enumerate() {
                let metres = f64::from(*millimetres) / 1000.0;
                let mut ends = [names[index], names[index + 1]];
                if *turned {
                    ends.reverse();
                }
                rest.push(leg_with(ends[0], ends[1], metres, &format!("bends = {bends}")));
            }
            rest.push(lead("a", names[lengths.len()], ""));
            let (job, route) = traced(&names, &rest);
            let along = along(&job, &route);
            let total = route.leads[0].way.length.m();
            prop_assert!(along[0] <= 0.2 + 1e-6);
            prop_assert!(total - along[along.len() - 1] <= 0.2 + 1e-6);
            for pair in along.windows(2) {
                prop_assert!(pair[1] - pair[0] <= SPACING, "{:?}", along);
            }
            prop_assert!(checks(&route, CheckRule::Support, Verdict::Fail).is_empty());
        }
    }
}
