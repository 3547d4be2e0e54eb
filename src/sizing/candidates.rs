//! The cables that a lead may be made of, thinnest first.

use super::price::Pricing;
use crate::catalog::{Allowed, AmpacityTable, Cable, Catalog, ConductorMaterial, Surroundings};
use crate::job::{Job, Lead, LeadId, Stud, Units};
use crate::quantity::ConductorSize;
use crate::route::{LeadRoute, Route};

/// One cable that a lead may be made of.
#[derive(Debug, Clone)]
pub struct Candidate<'a> {
    /// The cable.
    pub cable: &'a Cable,
    /// What it may carry where the lead lies.
    pub allowed: Allowed,
    /// Rough price of the lead made of it, for comparing.
    pub price: f64,
    /// Mass of the lead made of it, in kilograms.
    pub mass_kg: f64,
}

/// The cables of every lead, thinnest first; position = lead id. Never empty for a lead as long
/// as the catalog holds any cable.
pub fn candidates<'a>(
    job: &Job,
    route: &Route,
    catalog: &'a Catalog,
    pricing: &Pricing<'_>,
) -> Vec<Vec<Candidate<'a>>> {
    let table = catalog.ampacity_table(&job.rules.ampacity_table);
    job.leads()
        .map(|(id, lead)| {
            let way = &route.leads[id.0];
            let cables = cables(job, lead, way, catalog).into_iter();
            let candidates = cables.map(|cable| Candidate {
                cable,
                allowed: allowed(cable, way, table, catalog),
                price: pricing.lead(id, lead, cable),
                mass_kg: cable.mass_per_length.of(way.cut()).kg(),
            });
            ladder(candidates.collect())
        })
        .collect()
}

fn cables<'a>(job: &Job, lead: &Lead, way: &LeadRoute, catalog: &'a Catalog) -> Vec<&'a Cable> {
    let families = families(job, lead, catalog);
    let wanted = |cable: &&Cable| families.contains(&cable.family.as_str());
    let all: Vec<&Cable> = catalog.cables.iter().filter(wanted).collect();
    let suitable: Vec<&Cable> = match lead.size {
        Some(size) => all
            .iter()
            .copied()
            .filter(|cable| cable.size == size)
            .collect(),
        None => all
            .iter()
            .copied()
            .filter(|cable| suits(job, lead, way, cable, catalog))
            .collect(),
    };
    // A lead that nothing suits still gets a cable, so that the checks can say what is wrong.
    match (suitable.is_empty(), lead.size) {
        (false, _) => suitable,
        (true, Some(size)) => nearest_size(&all, size),
        (true, None) => all,
    }
}

/// The families that a lead may come from. Jobs in inches take gauge sizes, the others metric
/// ones, where the setting's families leave a choice.
fn families<'a>(job: &'a Job, lead: &'a Lead, catalog: &Catalog) -> Vec<&'a str> {
    if let Some(family) = &lead.family {
        return vec![family];
    }
    let all: Vec<&str> = job.rules.auto_families.iter().map(String::as_str).collect();
    let gauge_wanted = match lead.size {
        Some(size) => matches!(size, ConductorSize::Awg(_)),
        None => job.units == Units::Imperial,
    };
    let of_system: Vec<&str> = all
        .iter()
        .copied()
        .filter(|family| {
            let mut cables = catalog
                .cables
                .iter()
                .filter(|cable| cable.family == **family);
            cables.any(|cable| matches!(cable.size, ConductorSize::Awg(_)) == gauge_wanted)
        })
        .collect();
    if of_system.is_empty() { all } else { of_system }
}

/// Whether a lead could be made of a cable if the job fixed no size: by its family, its bends, the air
/// on its way and the lugs for its studs.
pub fn could_be(job: &Job, lead: LeadId, route: &Route, cable: &Cable, catalog: &Catalog) -> bool {
    let (way, lead) = (&route.leads[lead.0], job.lead(lead));
    families(job, lead, catalog).contains(&cable.family.as_str())
        && suits(job, lead, way, cable, catalog)
        && has_lugs(job, lead, cable, catalog)
}

fn suits(job: &Job, lead: &Lead, way: &LeadRoute, cable: &Cable, catalog: &Catalog) -> bool {
    let fixed_family = lead.family.is_some();
    let metal = fixed_family || cable.material != ConductorMaterial::CladAluminium;
    let bends = way
        .tightest_bend
        .is_none_or(|radius| cable.min_bend_radius <= radius);
    // One part in a hundred: 18 AWG and 0.75 mm2 count as the same smallest size.
    let large_enough =
        cable.size.nominal_area().mm2() >= job.rules.least_size.value.nominal_area().mm2() * 0.99;
    metal
        && bends
        && large_enough
        && cable.rating > way.ambient
        && (fixed_family || has_lugs(job, lead, cable, catalog))
}

/// Whether both ends can be made where their studs are known.
fn has_lugs(job: &Job, lead: &Lead, cable: &Cable, catalog: &Catalog) -> bool {
    [lead.from, lead.to]
        .iter()
        .all(|end| match job.terminal(*end).stud {
            Stud::Thread(thread) => {
                let mut lugs = catalog.lugs.iter();
                lugs.any(|lug| lug.stud == thread && lug.fits(cable))
            }
            Stud::Post | Stud::Bus | Stud::Device => true,
        })
}

fn nearest_size<'a>(all: &[&'a Cable], size: ConductorSize) -> Vec<&'a Cable> {
    let area = size.nominal_area();
    let distance = |cable: &&&Cable| (cable.size.nominal_area().mm2() / area.mm2()).ln().abs();
    let nearest = all
        .iter()
        .min_by(|a, b| distance(a).total_cmp(&distance(b)));
    nearest.into_iter().copied().collect()
}

/// What a cable may carry where a lead lies.
pub fn allowed(
    cable: &Cable,
    way: &LeadRoute,
    table: Option<&AmpacityTable>,
    catalog: &Catalog,
) -> Allowed {
    let around = Surroundings {
        ambient: way.ambient,
        engine_space: way.engine_space,
        bundled: way.bundled_with,
    };
    let nothing = || Allowed {
        current: crate::quantity::Current::ZERO,
        terms: vec![format!(
            "nothing: the insulation is good for {:.0} °C, the surroundings reach {:.0} °C",
            cable.rating.c(),
            way.ambient.c()
        )],
    };
    let found = table.and_then(|table| table.allowed(cable.size, cable.rating, around));
    let mut allowed = found.unwrap_or_else(nothing);
    let metal = catalog.material(cable.material);
    let factor = metal.map_or(1.0, |row| row.ampacity_factor.fraction());
    if factor < 1.0 {
        allowed.current = allowed.current * factor;
        let term = format!(
            "× {factor:.2} for {}, against copper of the same area",
            cable.material
        );
        allowed.terms.push(term);
    }
    allowed
}

/// Only cables that are worth it: each is dearer than the one before, and better in resistance or
/// in what it may carry. Sorted by resistance, thinnest first.
fn ladder(mut candidates: Vec<Candidate<'_>>) -> Vec<Candidate<'_>> {
    candidates.sort_by(|a, b| {
        let ohms = a
            .cable
            .max_resistance
            .get()
            .total_cmp(&b.cable.max_resistance.get());
        let price = a.price.total_cmp(&b.price);
        ohms.reverse().then(price).then(a.cable.id.cmp(&b.cable.id))
    });
    let beaten = |candidate: &Candidate<'_>| {
        candidates.iter().any(|other| {
            let no_worse = other.cable.max_resistance.get() <= candidate.cable.max_resistance.get()
                && other.allowed.current >= candidate.allowed.current
                && other.price <= candidate.price;
            let better = other.cable.max_resistance.get() < candidate.cable.max_resistance.get()
                || other.allowed.current > candidate.allowed.current
                || other.price < candidate.price
                || *other.cable.id < *candidate.cable.id;
            no_worse && better && *other.cable.id != *candidate.cable.id
        })
    };
    let worth: Vec<bool> = candidates
        .iter()
        .map(|candidate| !beaten(candidate))
        .collect();
    let mut keep = worth.into_iter();
    candidates.retain(|_| keep.next().unwrap_or(true));
    candidates
}
