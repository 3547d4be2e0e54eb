//! Sleeving over leads that pass edges, stones or heat.

use super::choose::{Lacks, choose, in_words};
use super::ledger::Ledger;
use super::site::Site;
use super::words::{celsius, demand, mm};
use super::{Amount, FittedSleeving};
use crate::catalog::{Sleeving, SleevingKind};
use crate::check::{Check, CheckRule};
use crate::job::{HazardKind, LeadId, LegId};
use crate::quantity::{Length, Temperature};

/// Sleeving creeps and is gathered at its ends: so much longer than the leg. Common practice.
const GATHERING: f64 = 1.1;

/// Fits sleeving on every leg that hurts cables, unless a conduit already guards them.
pub(super) fn fit(site: Site<'_>, ledger: &mut Ledger) -> Vec<FittedSleeving> {
    let mut fitted = Vec::new();
    for (leg, measured) in site.job.legs() {
        if measured.sheathed || !demand(site.job.rules.chafe_guarded.as_ref()).value {
            continue;
        }
        for kind in [SleevingKind::Abrasion, SleevingKind::Heat] {
            let hazards = measured.hazards.iter().map(|hazard| hazard.kind);
            let mut words: Vec<&str> = hazards
                .filter(|hazard| guard(*hazard) == Some(kind))
                .map(HazardKind::as_str)
                .collect();
            words.dedup();
            if words.is_empty() {
                continue;
            }
            for lead in site.leads_on(leg) {
                fitted.push(fit_lead(site, leg, lead, kind, &words.join(", "), ledger));
            }
        }
    }
    fitted
}

fn guard(hazard: HazardKind) -> Option<SleevingKind> {
    match hazard {
        HazardKind::RoadDebris | HazardKind::Chafe => Some(SleevingKind::Abrasion),
        HazardKind::HotSurface => Some(SleevingKind::Heat),
        HazardKind::MovingPart | HazardKind::FuelLine | HazardKind::BrakeLine => None,
    }
}

fn fit_lead(
    site: Site<'_>,
    leg: LegId,
    lead: LeadId,
    kind: SleevingKind,
    against: &str,
    ledger: &mut Ledger,
) -> FittedSleeving {
    let length = site.job.leg(leg).length * GATHERING;
    let diameter = site.diameter(lead).unwrap_or(Length::ZERO);
    let subject = format!("{} from {}", site.name(lead), site.leg_name(leg));
    let ambient = site.job.space(site.job.leg(leg).space).temperature;
    let rank = |part: &Sleeving| [part.max_cable.mm(), part.rating.c()];
    let judge = |part: &Sleeving, lacks: &mut Lacks| {
        judge(part, kind, diameter, ambient, lacks);
    };
    let found = choose(&site.catalog.sleevings, judge, rank);
    let rule = demand(site.job.rules.chafe_guarded.as_ref()).map(|_| ());
    let check = Check::holds(CheckRule::Sleeving, &subject, found.is_ok(), &rule);
    let mut fitted = FittedSleeving {
        lead,
        leg,
        part: None,
        length,
        against: against.to_owned(),
    };
    let note = match found {
        Ok(part) => {
            fitted.part = Some(part.id.value.clone());
            let purpose = format!("{subject}, against {against}");
            ledger.need_in(part, None, Amount::Length(length), purpose);
            format!("{kind} sleeving against {against}")
        }
        Err(nearest) => {
            let words = in_words(&nearest);
            let (cable, heat) = (mm(diameter), celsius(ambient));
            ledger.misfit(
                format!("{kind} sleeving for {cable} cable at {heat}"),
                nearest,
            );
            format!("no {kind} sleeving fits; {words}. Lead it another way, or in a conduit")
        }
    };
    ledger.checks.push(check.with_note(note));
    fitted
}

fn judge(
    part: &Sleeving,
    kind: SleevingKind,
    cable: Length,
    ambient: Temperature,
    lacks: &mut Lacks,
) {
    lacks.unless(part.kind == kind, || {
        format!("it guards against {}", part.kind)
    });
    lacks.unless(part.min_cable <= cable && cable <= part.max_cable, || {
        let (least, most) = (mm(part.min_cable), mm(part.max_cable));
        format!(
            "it takes cables from {least} to {most}, this one is {}",
            mm(cable)
        )
    });
    lacks.at_least(part.rating.c(), ambient.c(), || {
        let (has, needs) = (celsius(part.rating), celsius(ambient));
        format!("it stands {has}, the space gets {needs}")
    });
}
