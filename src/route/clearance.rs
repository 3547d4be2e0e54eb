//! Verdicts on what a lead passes and on the heat that it lies in.

use super::limits::{Insulation, gap_check, gap_limit, stands};
use super::{Way, survey, wording};
use crate::catalog::{Basis, Catalog, Cited, ConductorMaterial};
use crate::check::{Check, CheckRule, Verdict};
use crate::job::{HazardFile, HazardKind, Job, Lead, LegId, SpaceId};
use crate::quantity::{Length, Temperature};

/// One verdict for each hazard that keeps a distance, on each leg of a way.
pub fn clearances(job: &Job, lead: &Lead, way: &Way) -> Vec<Check> {
    let mut checks = Vec::new();
    for (position, leg) in way.legs.iter().enumerate() {
        if way.legs[..position].contains(leg) {
            continue;
        }
        for hazard in &job.leg(*leg).hazards {
            if let Some(limit) = gap_limit(&job.rules, hazard.kind) {
                checks.push(clearance(job, lead, *leg, hazard, limit));
            }
        }
    }
    checks
}

fn clearance(
    job: &Job,
    lead: &Lead,
    leg: LegId,
    hazard: &HazardFile,
    limit: &Cited<Length>,
) -> Check {
    let (name, leg) = (wording::hazard(hazard.kind), wording::leg(job, leg));
    let needed = job.units.shown_at_least(limit.value);
    let Some(gap) = hazard.gap else {
        let reason = format!(
            "{leg} passes {name}, but how near was not measured; it must keep {needed}. \
             Measure it and give `gap`."
        );
        return Check::open(CheckRule::Clearance, &lead.name, &reason);
    };
    let check = gap_check(&lead.name, gap, limit);
    let note = match check.verdict {
        // Rounded as the limit is, so that a gap just wide enough does not read as too small.
        Verdict::Pass => {
            let found = job.units.shown_at_least(gap);
            format!("{leg} passes {name} at {found}, {needed} needed.")
        }
        Verdict::Fail | Verdict::Open => format!(
            "{leg} passes {name} at {}, {needed} needed, and no other way is free. {}",
            job.units.shown(gap),
            cure(hazard.kind)
        ),
    };
    check.with_note(note)
}

fn cure(kind: HazardKind) -> &'static str {
    match kind {
        HazardKind::HotSurface => {
            "Lay the cable farther off and measure again, or measure another leg round it."
        }
        HazardKind::MovingPart => {
            "Clip the cable farther off, clear at full travel, and measure again, or measure \
             another leg."
        }
        HazardKind::FuelLine | HazardKind::BrakeLine => {
            "Move the cable or the line apart and measure again, or measure another leg."
        }
        HazardKind::RoadDebris | HazardKind::Chafe => "Sleeve the cable there.",
    }
}

/// The verdict on a lead whose places no chain of legs joins.
pub fn unjoined(lead: &Lead) -> Check {
    let source = Cited {
        value: (),
        citation: "the job file".to_owned(),
        basis: Basis::User,
    };
    Check::holds(CheckRule::Clearance, &lead.name, false, &source).with_note(
        "no chain of legs joins the places that the lead must pass; measure the missing leg, or \
         take places out of `avoid`",
    )
}

/// The verdict on the heat of a way. A lead whose cable is yet to be chosen gets its passing verdict
/// with the choice, from the cable's own rating.
pub fn insulation_check(
    job: &Job,
    catalog: &Catalog,
    lead: &Lead,
    way: &Way,
    insulation: Option<&Insulation>,
) -> Option<Check> {
    let space = survey::hottest(job, way)?;
    let Some(insulation) = insulation else {
        let reason = "the catalog has no cable that this lead may be made of, so nothing tells \
                      what its insulation stands. Choose another `cable`.";
        return Some(Check::open(CheckRule::Insulation, &lead.name, reason));
    };
    let ambient = job.space(space).temperature;
    let limit = insulation.rating.map(|rating| rating.c());
    let mut check = Check::at_most(CheckRule::Insulation, &lead.name, ambient.c(), &limit, "°C");
    let rating = insulation.rating.value;
    let kept = stands(rating, ambient);
    // Air as hot as the rating leaves nothing for the current.
    check.verdict = if kept { Verdict::Pass } else { Verdict::Fail };
    if kept && lead.family.is_none() {
        return None;
    }
    let note = if kept {
        let (heat, rating) = (heat(job, space), job.units.temperature(rating));
        format!("{heat}; `{}` is rated {rating}.", insulation.family)
    } else {
        too_hot(job, catalog, way, space, insulation)
    };
    Some(check.with_note(note))
}

fn heat(job: &Job, space: SpaceId) -> String {
    let space = job.space(space);
    let temperature = job.units.temperature(space.temperature);
    format!(
        "the hottest air on the way is {temperature}, in `{}`",
        space.name
    )
}

fn too_hot(
    job: &Job,
    catalog: &Catalog,
    way: &Way,
    space: SpaceId,
    insulation: &Insulation,
) -> String {
    let ambient = job.space(space).temperature;
    let hot = |leg: &&LegId| job.leg(**leg).space == space;
    let at = match way.legs.iter().find(hot) {
        Some(leg) => format!(" on {}, and no cooler way is free", wording::leg(job, *leg)),
        None => String::new(),
    };
    let heat = heat(job, space);
    let rating = job.units.temperature(insulation.rating.value);
    let cure = match enduring_family(catalog, ambient) {
        Some((family, rating)) => {
            let rating = job.units.temperature(rating);
            format!(
                "Fix `cable` to a family rated higher, such as `{family}` at {rating}, or move the way to a cooler space."
            )
        }
        None => "The catalog has no cable rated higher: move the way to a cooler space.".to_owned(),
    };
    format!(
        "{heat}{at}; `{}` is rated {rating}, which must be above the air. {cure}",
        insulation.family
    )
}

/// The family that stands an ambient with least to spare. Copper-clad aluminium is in the catalog
/// to be judged, not to be built with.
fn enduring_family(catalog: &Catalog, ambient: Temperature) -> Option<(&str, Temperature)> {
    let families = catalog.cable_families().into_iter();
    let rated = families.filter_map(|family| {
        let cables = catalog
            .cables
            .iter()
            .filter(|row| row.family == family && row.material != ConductorMaterial::CladAluminium);
        let least = cables.map(|row| row.rating).reduce(Temperature::min)?;
        Some((family, least))
    });
    rated
        .filter(|(_, rating)| stands(*rating, ambient))
        .min_by(|a, b| a.1.c().total_cmp(&b.1.c()))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::super::testing::{catalog, checks, job, lead, leg, leg_with, traced};
    use super::super::trace;
    use super::*;

    #[test]
    fn every_hazard_with_a_distance_gets_its_verdict_in_millimetres() {
        let keys = "hazard = [{ kind = 'fuel line', gap = '200 mm' }, { kind = 'brake line' }, \
                    { kind = 'chafe' }]";
        let legs = [leg_with("a", "b", 1.0, keys), lead("a", "b", "")];
        let (_, route) = traced(&["a", "b"], &legs);
        let passed = checks(&route, CheckRule::Clearance, Verdict::Pass);
        assert_eq!(passed.len(), 1);
        assert_eq!(
            (passed[0].value, passed[0].limit),
            (Some(200.0), Some(150.0))
        );
        let open = checks(&route, CheckRule::Clearance, Verdict::Open);
        assert_eq!(open.len(), 1);
        assert!(open[0].note.contains("a brake line"));
        assert_eq!(open[0].subject, "lead");
    }

    #[test]
    fn insulation_is_held_against_the_hottest_air_of_legs_and_places() {
        let legs = [
            leg_with("a", "b", 1.0, "space = 'engine bay'"),
            lead("a", "b", "cable = 'plain'"),
        ];
        let (_, route) = traced(&["a", "b"], &legs);
        let passed = checks(&route, CheckRule::Insulation, Verdict::Pass);
        assert_eq!(
            (passed[0].value, passed[0].limit),
            (Some(90.0), Some(105.0))
        );
        assert_eq!(route.leads[0].ambient.c(), 90.0);
        assert!(route.leads[0].engine_space);
    }

    #[test]
    fn air_as_hot_as_the_rating_fails_and_names_the_leg_and_the_cure() {
        let legs = [
            leg_with("a", "b", 1.0, "space = 'furnace'"),
            lead("a", "b", ""),
        ];
        let (_, route) = traced(&["a", "b"], &legs);
        let failed = checks(&route, CheckRule::Insulation, Verdict::Fail);
        assert_eq!(failed.len(), 1);
        assert!(failed[0].note.contains("on a to b"), "{}", failed[0].note);
        assert!(failed[0].note.contains("such as `hot` at 150 °C"));
    }

    #[test]
    fn a_catalog_without_the_cable_leaves_the_insulation_open() {
        let mut catalog = catalog();
        let job = job(
            &["a", "b"],
            &[leg("a", "b", 1.0), lead("a", "b", "")].concat(),
        );
        catalog.cables.clear();
        let route = trace(&job, &catalog);
        assert_eq!(
            checks(&route, CheckRule::Insulation, Verdict::Open).len(),
            1
        );
    }

    #[test]
    fn a_lead_whose_legs_were_taken_away_fails_instead_of_stopping_the_plan() {
        let mut job = job(
            &["a", "b"],
            &[leg("a", "b", 1.0), lead("a", "b", "")].concat(),
        );
        job.legs.clear();
        let route = trace(&job, &catalog());
        assert_eq!(checks(&route, CheckRule::Clearance, Verdict::Fail).len(), 1);
        assert_eq!(route.leads[0].way.places.len(), 1);
    }

    #[test]
    fn a_gap_just_wide_enough_never_reads_as_too_small() {
        // 150 mm, the limit itself, lie between 5-7/8 and 5-15/16 in.
        let keys = "hazard = [{ kind = 'fuel line', gap = '150 mm' }]";
        let legs = leg_with("a", "b", 1.0, keys) + &lead("a", "b", "");
        let mut job = job(&["a", "b"], &legs);
        job.units = crate::job::Units::Imperial;
        let route = trace(&job, &catalog());
        let passed = checks(&route, CheckRule::Clearance, Verdict::Pass);
        assert_eq!(
            passed[0].note,
            "a to b passes a fuel line at 5-15/16 in, 5-15/16 in needed."
        );
    }

    #[test]
    fn figures_and_names_come_as_the_job_has_them() {
        let places = ["caf\u{e9} \\\"x\\\" | <b>", "b"];
        let keys = "hazard = [{ kind = 'hot surface', gap = '6 in' }]";
        let legs = leg_with(places[0], places[1], 1.0, keys) + &lead(places[0], places[1], "");
        let mut job = job(&places, &legs);
        job.units = crate::job::Units::Imperial;
        let route = trace(&job, &catalog());
        let passed = checks(&route, CheckRule::Clearance, Verdict::Pass);
        assert_eq!(
            passed[0].note,
            "caf\u{e9} \"x\" | <b> to b passes a hot surface at 6 in, 3-15/16 in needed."
        );
    }
}
