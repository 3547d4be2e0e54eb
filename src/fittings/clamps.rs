//! Clamps: one for each cable or bundle at each support.

use super::FittedClamp;
use super::choose::{Lacks, choose, in_words};
use super::fasteners;
use super::ledger::{Hole, Ledger};
use super::room;
use super::site::Site;
use super::words::{celsius, mm, practice, source_of};
use crate::catalog::{Clamp, FastenerKind};
use crate::check::{Check, CheckRule};
use crate::job::{Access, LeadId, LegId};
use crate::quantity::Length;
use crate::route::Support;

/// Cables held by one clamp.
#[derive(Debug)]
pub(super) struct Group<'a> {
    cables: Vec<(LeadId, Length)>,
    /// The clamp, where one grips them.
    pub part: Option<&'a Clamp>,
}

impl Group<'_> {
    /// Diameter of the circle round its cables.
    pub fn diameter(&self) -> Length {
        bundle_diameter(&self.cables)
    }
}

/// Fits the clamps of every support.
pub(super) fn fit(site: Site<'_>, ledger: &mut Ledger) -> Vec<FittedClamp> {
    let mut clamps = Vec::new();
    let mut legs: Vec<(LegId, Vec<Group<'_>>)> = Vec::new();
    for support in &site.route.supports {
        let known = legs.iter().position(|(leg, _)| *leg == support.leg);
        let position = known.unwrap_or_else(|| {
            legs.push((support.leg, fit_leg(site, support.leg, ledger)));
            legs.len() - 1
        });
        for group in legs.get(position).map_or(&[][..], |(_, groups)| groups) {
            clamps.push(place(site, support, group, ledger));
        }
    }
    clamps
}

/// Groups the cables of a leg so that each group has a clamp, in as few groups as will do.
fn fit_leg<'a>(site: Site<'a>, leg: LegId, ledger: &mut Ledger) -> Vec<Group<'a>> {
    let leads = site.leads_on(leg).into_iter();
    let sized = leads.filter_map(|lead| Some((lead, site.diameter(lead)?)));
    let apart = |cable: &(LeadId, Length)| site.job.lead(cable.0).own_clamps;
    let (own, mut cables): (Vec<_>, Vec<(LeadId, Length)>) = sized.partition(apart);
    cables.sort_by(|a, b| b.1.total_cmp(&a.1));
    let mut groups: Vec<Group<'a>> = Vec::new();
    for cable in own {
        let part = find(site, leg, cable.1).ok();
        let cables = vec![cable];
        groups.push(Group { cables, part });
    }
    while !cables.is_empty() {
        // The longest run of cables, thickest first, that some clamp grips.
        let gripped = (1..=cables.len()).rev().find_map(|count| {
            let part = find(site, leg, bundle_diameter(&cables[..count])).ok()?;
            Some((count, part))
        });
        let (count, part) = gripped.map_or((1, None), |(count, part)| (count, Some(part)));
        let rest = cables.split_off(count);
        groups.push(Group { cables, part });
        cables = rest;
    }
    check(site, leg, &groups, ledger);
    room::check(site, leg, &groups, ledger);
    groups
}

/// Diameter of the circle round cables that lie together: one its own, two side by side, more by
/// 1.2 times the root of the sum of squares, which is common practice for random lay.
fn bundle_diameter(cables: &[(LeadId, Length)]) -> Length {
    let mut largest: Vec<Length> = cables.iter().map(|cable| cable.1).collect();
    largest.sort_by(|a, b| b.total_cmp(a));
    let side_by_side: Length = largest.iter().take(2).copied().sum();
    if cables.len() <= 2 {
        return side_by_side;
    }
    let squares: f64 = largest.iter().map(|one| one.mm() * one.mm()).sum();
    side_by_side.max(Length::from_mm(1.2 * squares.sqrt()))
}

fn find<'a>(
    site: Site<'a>,
    leg: LegId,
    diameter: Length,
) -> Result<&'a Clamp, Vec<super::NearMiss>> {
    let ambient = site.job.space(site.job.leg(leg).space).temperature;
    let judge = |clamp: &Clamp, lacks: &mut Lacks| {
        let nearest = diameter.max(clamp.min_diameter).min(clamp.max_diameter);
        lacks.compare(clamp.grips(diameter), nearest.mm(), diameter.mm(), || {
            let (least, most) = (mm(clamp.min_diameter), mm(clamp.max_diameter));
            format!(
                "it grips from {least} to {most}, the bundle is {}",
                mm(diameter)
            )
        });
        lacks.at_least(clamp.rating.c(), ambient.c(), || {
            let (has, needs) = (celsius(clamp.rating), celsius(ambient));
            format!("its cushion stands {has}, the space gets {needs}")
        });
    };
    let rank = |clamp: &Clamp| [clamp.max_diameter.mm(), clamp.rating.c()];
    choose(&site.catalog.clamps, judge, rank)
}

fn check(site: Site<'_>, leg: LegId, groups: &[Group<'_>], ledger: &mut Ledger) {
    let subject = site.leg_name(leg);
    let mut failing = None;
    for group in groups.iter().filter(|group| group.part.is_none()) {
        let diameter = bundle_diameter(&group.cables);
        if let Err(nearest) = find(site, leg, diameter) {
            failing = Some(in_words(&nearest));
            ledger.misfit(
                format!("a clamp for {} at {subject}", mm(diameter)),
                nearest,
            );
        }
    }
    let part = groups.first().and_then(|group| group.part);
    let source = part.map_or_else(practice, |part| source_of(part));
    let check = Check::holds(CheckRule::Clamp, &subject, failing.is_none(), &source);
    let note = match (failing, groups.len()) {
        (Some(nearest), _) => format!("no clamp grips it; {nearest}. Add a clamp to the catalog"),
        (None, 0) => return,
        (None, 1) => "one clamp at each support".to_owned(),
        (None, many) => format!("no clamp takes all cables: {many} clamps at each support"),
    };
    ledger.checks.push(check.with_note(note));
}

fn place(site: Site<'_>, support: &Support, group: &Group<'_>, ledger: &mut Ledger) -> FittedClamp {
    let mut clamp = FittedClamp {
        leg: support.leg,
        at: support.at,
        diameter: bundle_diameter(&group.cables),
        leads: Vec::new(),
        part: None,
        hole: None,
    };
    clamp.leads = group
        .cables
        .iter()
        .map(|cable| site.name(cable.0).to_owned())
        .collect();
    if let Some(part) = group.part {
        let purpose = format!(
            "support at {} on {}",
            mm(support.at),
            site.leg_name(support.leg)
        );
        ledger.need(part, 1, &purpose);
        clamp.part = Some(part.id.value.clone());
        clamp.hole = fasten(site, support.leg, part, &purpose, ledger);
    }
    clamp
}

/// A bolt with washer and locking nut; a rivet nut where no hand gets behind.
fn fasten(
    site: Site<'_>,
    leg: LegId,
    part: &Clamp,
    purpose: &str,
    ledger: &mut Ledger,
) -> Option<Length> {
    let thread = part.bolt;
    fasteners::bolt(
        site,
        thread,
        fasteners::bolt_length(thread, 1),
        purpose,
        ledger,
    );
    fasteners::small(site, FastenerKind::PlainWasher, thread, 1, purpose, ledger);
    if site.job.leg(leg).access == Access::Hard {
        let rivet = fasteners::find(site, FastenerKind::RivetNut, thread, Length::ZERO).ok();
        if let Some((rivet, diameter)) = rivet.and_then(|rivet| Some((rivet, rivet.hole?))) {
            ledger.need(rivet, 1, purpose);
            ledger.rivet_nuts = true;
            ledger.holes.push(Hole {
                diameter,
                steel: fasteners::body_is_steel(site),
            });
            return Some(diameter);
        }
    }
    fasteners::small(site, FastenerKind::LockingNut, thread, 1, purpose, ledger);
    fasteners::drill(site, thread, ledger)
}
