//! What a leg costs a lead: its length, weighted by exposure and access.

use std::collections::BTreeMap;

use super::graph::Toll;
use super::limits::{Insulation, closures, gap_limit};
use crate::catalog::{Catalog, RoutingWord};
use crate::job::{Access, HazardFile, HazardKind, Job, Leg};
use crate::quantity::Temperature;

/// Air at which a space takes nothing from the insulation: the reference temperature of conductor
/// resistance in IEC 60228.
const MILD: Temperature = Temperature::from_c(20.0);

/// What every leg costs a lead with such insulation; position = leg id.
pub fn tolls(job: &Job, catalog: &Catalog, insulation: Option<&Insulation>) -> Vec<Toll> {
    let rating = insulation.map(|insulation| insulation.rating.value);
    let toll = |leg| Toll {
        closed: !closures(job, leg, insulation).is_empty(),
        cost_m: cost_m(job, catalog, leg, rating),
    };
    job.legs.iter().map(toll).collect()
}

/// Weighted length, in metres. What the catalog has no factor for does not count.
fn cost_m(job: &Job, catalog: &Catalog, leg: &Leg, rating: Option<Temperature>) -> f64 {
    let factor = |word| {
        let factor = catalog.routing_factor(word);
        factor.map(|factor| factor.fraction())
    };
    let mut nearest: BTreeMap<HazardKind, f64> = BTreeMap::new();
    for hazard in &leg.hazards {
        let share = nearness(job, hazard);
        let known = nearest.entry(hazard.kind).or_insert(share);
        *known = known.max(share);
    }
    let exposure: f64 = nearest
        .into_iter()
        .map(|(kind, share)| share * factor(hazard_word(kind)).unwrap_or(0.0))
        .sum();
    let heat = heat_share(job.space(leg.space).temperature, rating)
        * factor(RoutingWord::Heat).unwrap_or(0.0);
    let access = factor(access_word(leg.access)).unwrap_or(1.0);
    leg.length.m() * (1.0 + exposure + heat) * access
}

/// How much of a hazard's factor counts: all of it up to the least clearance, half at twice that.
/// A hazard without a clearance, or without a measured gap, counts in full.
fn nearness(job: &Job, hazard: &HazardFile) -> f64 {
    match (hazard.gap, gap_limit(&job.rules, hazard.kind)) {
        (Some(gap), Some(limit)) if gap > limit.value => limit.value / gap,
        _ => 1.0,
    }
}

/// The part of the insulation's rating that the space uses up, counted from [`MILD`].
fn heat_share(ambient: Temperature, rating: Option<Temperature>) -> f64 {
    match rating {
        Some(rating) if rating > ambient => {
            ((ambient.c() - MILD.c()).max(0.0) / (rating.c() - MILD.c())).max(0.0)
        }
        Some(_) => 1.0,
        None => 0.0,
    }
}

fn hazard_word(kind: HazardKind) -> RoutingWord {
    match kind {
        HazardKind::HotSurface => RoutingWord::HotSurface,
        HazardKind::MovingPart => RoutingWord::MovingPart,
        HazardKind::FuelLine => RoutingWord::FuelLine,
        HazardKind::BrakeLine => RoutingWord::BrakeLine,
        HazardKind::RoadDebris => RoutingWord::RoadDebris,
        HazardKind::Chafe => RoutingWord::Chafe,
    }
}

fn access_word(access: Access) -> RoutingWord {
    match access {
        Access::Open => RoutingWord::Open,
        Access::Easy => RoutingWord::Easy,
        Access::Awkward => RoutingWord::Awkward,
        Access::Hard => RoutingWord::Hard,
    }
}
