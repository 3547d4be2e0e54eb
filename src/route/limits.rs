//! Hard limits: what closes a leg to a lead.

use crate::catalog::{Basis, Cable, Catalog, Cited, RuleSet};
use crate::check::{Check, CheckRule, Verdict};
use crate::job::{HazardKind, Job, Lead, Leg, SpaceId};
use crate::quantity::{Length, Temperature};

/// The best insulation that a lead may have.
#[derive(Debug, Clone, PartialEq)]
pub struct Insulation {
    /// Its cable family.
    pub family: String,
    /// Its rating, with the source of it.
    pub rating: Cited<Temperature>,
}

/// What closes a leg.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Closure {
    /// It runs too near to something.
    Gap {
        /// What it is.
        kind: HazardKind,
        /// How near.
        gap: Length,
        /// How near it may be.
        limit: Length,
    },
    /// The space is too hot for the insulation.
    Heat {
        /// The space.
        space: SpaceId,
        /// What the insulation stands.
        rating: Temperature,
    },
}

/// The insulation of a lead: that of its fixed family, else the best among the families that the
/// setting lets the program choose from. `None` where the catalog has no such cable.
pub fn insulation(job: &Job, lead: &Lead, catalog: &Catalog) -> Option<Insulation> {
    let families = match &lead.family {
        Some(family) => std::slice::from_ref(family),
        None => job.rules.auto_families.as_slice(),
    };
    let mut best: Option<Insulation> = None;
    for family in families {
        let Some(cable) = least_rated(family, lead, catalog) else {
            continue;
        };
        let known = best.as_ref().map(|known| known.rating.value);
        if known.is_none_or(|known| cable.rating > known) {
            best = Some(Insulation {
                family: family.clone(),
                rating: Cited {
                    value: cable.rating,
                    citation: cable.source.clone(),
                    basis: Basis::CommonPractice,
                },
            });
        }
    }
    best
}

/// The cable of a family in the lead's size; where its size is still open, the one that stands least.
fn least_rated<'a>(family: &str, lead: &Lead, catalog: &'a Catalog) -> Option<&'a Cable> {
    let cables = || catalog.cables.iter().filter(|row| row.family == family);
    let of_size = cables().find(|row| Some(row.size) == lead.size);
    of_size.or_else(|| cables().min_by(|a, b| a.rating.c().total_cmp(&b.rating.c())))
}

/// Whether insulation stands a temperature all day: it must be rated above it, or no warming by
/// current is left.
pub fn stands(rating: Temperature, ambient: Temperature) -> bool {
    ambient < rating
}

/// The least distance to a kind of hazard; `None` for kinds without one.
pub fn gap_limit(rules: &RuleSet, kind: HazardKind) -> Option<&Cited<Length>> {
    match kind {
        HazardKind::HotSurface => Some(&rules.gap_hot_surface),
        HazardKind::MovingPart => Some(&rules.gap_moving_part),
        HazardKind::FuelLine => Some(&rules.gap_fuel_line),
        HazardKind::BrakeLine => Some(&rules.gap_brake_line),
        HazardKind::RoadDebris | HazardKind::Chafe => None,
    }
}

/// The verdict on one measured gap.
pub fn gap_check(subject: &str, gap: Length, limit: &Cited<Length>) -> Check {
    let limit = limit.map(|limit| limit.mm());
    Check::at_least(CheckRule::Clearance, subject, gap.mm(), &limit, "mm")
}

/// Everything that closes a leg to a lead with such insulation. A gap that was not measured closes
/// nothing: it is an open check.
pub fn closures(job: &Job, leg: &Leg, insulation: Option<&Insulation>) -> Vec<Closure> {
    let mut closures = Vec::new();
    for hazard in &leg.hazards {
        if let (Some(gap), Some(limit)) = (hazard.gap, gap_limit(&job.rules, hazard.kind))
            && gap_check("", gap, limit).verdict == Verdict::Fail
        {
            closures.push(Closure::Gap {
                kind: hazard.kind,
                gap,
                limit: limit.value,
            });
        }
    }
    let ambient = job.space(leg.space).temperature;
    if let Some(rating) = insulation.map(|insulation| insulation.rating.value)
        && !stands(rating, ambient)
    {
        closures.push(Closure::Heat {
            space: leg.space,
            rating,
        });
    }
    closures
}
