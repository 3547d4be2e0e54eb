//! Where supports stand, and the verdict on their spacing.

use std::collections::BTreeSet;

use super::windows::{before, beside_obstacles, beyond, fewest, filled};
use super::{Bundle, Support, SupportReason, Way, sections, wording};
use crate::check::{Check, CheckRule, Verdict};
use crate::job::{Job, LeadId, LegId, PlaceId};
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
        let on_leg = on_leg(job, bundle.leg, &surroundings);
        supports.extend(on_leg.into_iter().map(|(at, reason)| Support {
            leg: bundle.leg,
            at,
            reason,
        }));
    }
    supports
}

fn on_leg(job: &Job, id: LegId, surroundings: &Surroundings) -> Vec<(Length, SupportReason)> {
    let leg = job.leg(id);
    let mut windows = beside_obstacles(leg, job.rules.support_near_bend.value);
    let (reach, reason) = surroundings.reach(job, id, leg.from);
    // A rule of no distance at all still puts a support at the very end.
    let reach = reach.min(leg.length).max(SMALLEST_REACH);
    windows.extend(beyond(Length::ZERO, reach, reason));
    let (reach, reason) = surroundings.reach(job, id, leg.to);
    let reach = reach.min(leg.length).max(SMALLEST_REACH);
    windows.extend(before(leg.length, reach, reason));
    filled(fewest(windows), leg.length, job.rules.support_spacing.value)
}

/// See [`on_leg`].
const SMALLEST_REACH: Length = Length::from_mm(1.0);

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
        let mut reach = rules.support_spacing.value * 0.5;
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
    let limit = job.rules.support_spacing.map(|limit| limit.mm());
    bundles
        .iter()
        .map(|bundle| {
            let name = wording::leg(job, bundle.leg);
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
