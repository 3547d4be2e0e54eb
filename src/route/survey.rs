//! What a lead meets on its way.

use super::{Bundle, Way};
use crate::job::{Job, LeadId, LegId, SpaceId};
use crate::quantity::{Length, Temperature};

/// Leads by legs, for every leg that is used. A lead that passes a leg twice stands there twice,
/// for there are two cables to hold.
pub fn bundles(job: &Job, ways: &[Way]) -> Vec<Bundle> {
    let on_leg = |leg: LegId| -> Vec<LeadId> {
        let passes = ways.iter().enumerate().flat_map(|(lead, way)| {
            let passes = way.legs.iter().filter(move |used| **used == leg);
            passes.map(move |_| LeadId(lead))
        });
        passes.collect()
    };
    job.legs()
        .map(|(leg, _)| Bundle {
            leg,
            leads: on_leg(leg),
        })
        .filter(|bundle| !bundle.leads.is_empty())
        .collect()
}

/// Most cables that lie together anywhere on a lead's way; one with clamps of its own lies alone.
pub fn bundled_with(job: &Job, lead: LeadId, bundles: &[Bundle], way: &Way) -> usize {
    if job.lead(lead).own_clamps {
        return 1;
    }
    let together = |bundle: &Bundle| {
        let leads = bundle.leads.iter();
        leads.filter(|lead| !job.lead(**lead).own_clamps).count()
    };
    bundles
        .iter()
        .filter(|bundle| way.legs.contains(&bundle.leg))
        .map(together)
        .max()
        .unwrap_or(1)
}

/// Every space that a way touches: those of its legs and those of its places.
fn spaces<'a>(job: &'a Job, way: &'a Way) -> impl Iterator<Item = SpaceId> + 'a {
    let places = way.places.iter().map(|place| job.place(*place).space);
    places.chain(way.legs.iter().map(|leg| job.leg(*leg).space))
}

/// The hottest space of a way, the first of equals; none only for a way without a place.
pub fn hottest(job: &Job, way: &Way) -> Option<SpaceId> {
    spaces(job, way).reduce(|known, space| {
        let hotter = job.space(space).temperature > job.space(known).temperature;
        if hotter { space } else { known }
    })
}

/// Hottest air on a way.
pub fn ambient(job: &Job, way: &Way) -> Temperature {
    hottest(job, way).map_or(job.hot, |space| job.space(space).temperature)
}

/// Whether any of a way is in an engine space.
pub fn engine_space(job: &Job, way: &Way) -> bool {
    spaces(job, way).any(|space| job.space(space).engine_space)
}

/// Number of bends of a way.
pub fn bends(job: &Job, way: &Way) -> u32 {
    way.legs
        .iter()
        .map(|leg| job.leg(*leg).bends)
        .fold(0, u32::saturating_add)
}

/// Tightest bend of a way, where one was measured.
pub fn tightest_bend(job: &Job, way: &Way) -> Option<Length> {
    let radii = way.legs.iter().filter_map(|leg| job.leg(*leg).bend_radius);
    radii.reduce(Length::min)
}
