//! The bypass lead: a made-up lead with a fuse of its own that takes the place of any one lead.

use super::bulk::{self, Bulk};
use super::price::{self, Till};
use super::subject::studs_of;
use std::sync::Arc;

use crate::catalog::{
    Cable, Colour, ConductorMaterial, KitRow, Lug, LugAngle, Part, PartKind, Polarity, Protective,
    Sleeve,
};
use crate::circuit::{Faults, Guarding, LeadDuty, Wiring};
use crate::fittings::{Amount, Need};
use crate::job::{LeadId, Units};
use crate::method::Work;
use crate::quantity::{Current, Length, Mass, Money, Resistance, Thread, Volume};
use crate::route::{EndPoint, LeadRoute, Section};
use crate::sizing::{Burden, Candidate, allowed, burden};

/// A lead as it would be made up.
#[derive(Debug, Clone)]
pub(super) struct Bypass<'a> {
    /// Its cable.
    pub cable: &'a Cable,
    /// From end to end.
    pub length: Length,
    /// Its fuse.
    pub fuse: Protective<'a>,
    /// The studs that its end lugs are made for, the larger first.
    pub studs: Studs,
    /// Leads whose place it can take.
    pub covers: Vec<LeadId>,
    /// What it is made of.
    pub needs: Vec<Need>,
    /// Mass and room.
    pub bulk: Bulk,
    /// What its parts cost.
    pub price: Money,
}

/// Two studs, the larger first.
type Studs = (Thread, Thread);

/// Where bypass leads are looked for.
#[derive(Debug, Clone, Copy)]
pub(super) struct Shelf<'a, 'b> {
    pub work: &'b Work<'a>,
    pub wiring: &'b Wiring<'a>,
    pub duties: &'b [LeadDuty],
    pub kit: &'b KitRow,
    pub till: &'b Till<'a>,
}

/// Length of cable from the source to the fuse of the bypass lead.
const TO_FUSE: Length = Length::from_mm(150.0);

/// Its length goes up in steps of so much.
const STEP: Length = Length::from_mm(100.0);

/// The bypass leads that are worth comparing: as long as the longest positive lead, of every size
/// and fuse that can take the place of some lead.
pub(super) fn bypasses<'a>(shelf: Shelf<'a, '_>) -> Vec<Bypass<'a>> {
    let Some((_, longest)) = longest(shelf.work) else {
        return Vec::new();
    };
    let length = STEP * (longest / STEP - 1e-6).ceil();
    let cables = cables(shelf.work);
    let devices = shelf.work.catalog.protective();
    let fuses: Vec<Protective<'a>> = devices
        .into_iter()
        .filter(|device| device.kind == PartKind::Fuse)
        .collect();
    let mut found: Vec<Bypass<'a>> = Vec::new();
    for cable in cables {
        let carried = carried(shelf, cable, length, &fuses);
        for (fuse, leads) in carried {
            for studs in pairs(shelf.work, &leads) {
                let leads = leads
                    .iter()
                    .copied()
                    .filter(|lead| sits_on(shelf, *lead, studs));
                let leads: Vec<LeadId> = leads.collect();
                found.extend(made(shelf, cable, length, fuse, studs, leads));
            }
        }
    }
    worth_it(found)
}

/// The longest positive lead with its cut length.
pub(super) fn longest(work: &Work<'_>) -> Option<(LeadId, Length)> {
    let positive = work
        .job
        .leads()
        .filter(|(_, lead)| lead.polarity == Polarity::Positive);
    let cuts = positive.filter_map(|(id, _)| Some((id, work.route.leads.get(id.0)?.cut())));
    cuts.reduce(|best, next| if next.1 > best.1 { next } else { best })
}

/// Cables of the families that the positive leads are made of; never aluminium, which breaks when
/// it is bent again and again.
fn cables<'a>(work: &Work<'a>) -> Vec<&'a Cable> {
    let sized = work.sizing.leads.iter();
    let positive = sized.filter(|lead| work.job.lead(lead.lead).polarity == Polarity::Positive);
    let families: Vec<&str> = positive
        .filter_map(|lead| work.catalog.cable(&lead.cable))
        .map(|cable| cable.family.as_str())
        .collect();
    let cables = work.catalog.cables.iter();
    cables
        .filter(|cable| families.contains(&cable.family.as_str()))
        .filter(|cable| cable.material != ConductorMaterial::CladAluminium)
        .collect()
}

/// For each fuse worth having, the leads whose place the cable can take behind it: those whose
/// current it carries and its fuse holds, and which no short harms before the fuse opens.
fn carried<'a>(
    shelf: Shelf<'a, '_>,
    cable: &'a Cable,
    length: Length,
    fuses: &[Protective<'a>],
) -> Vec<(Protective<'a>, Vec<LeadId>)> {
    let mut by_fuse: Vec<Vec<LeadId>> = vec![Vec::new(); fuses.len()];
    for (id, _) in shelf.work.job.leads() {
        let guards = guards(shelf, cable, length, id, fuses);
        for (leads, guards) in by_fuse.iter_mut().zip(guards) {
            if guards {
                leads.push(id);
            }
        }
    }
    let mut kept: Vec<(Protective<'a>, Vec<LeadId>)> = Vec::new();
    // Cheapest first: a dearer fuse is worth having for leads that no cheaper one has.
    for (fuse, leads) in fuses.iter().zip(by_fuse) {
        let known = |(_, other): &(Protective<'a>, Vec<LeadId>)| {
            leads.iter().all(|lead| other.contains(lead))
        };
        if !leads.is_empty() && !kept.iter().any(known) {
            kept.push((*fuse, leads));
        }
    }
    kept
}

/// Whether the cable behind each fuse can take the place of a lead.
fn guards(
    shelf: Shelf<'_, '_>,
    cable: &Cable,
    length: Length,
    id: LeadId,
    fuses: &[Protective<'_>],
) -> Vec<bool> {
    let nothing = || vec![false; fuses.len()];
    let Shelf {
        work,
        wiring,
        duties,
        ..
    } = shelf;
    let (Some(way), Some(duty)) = (work.route.leads.get(id.0), duties.get(id.0)) else {
        return nothing();
    };
    if way.cut() > length {
        return nothing();
    }
    let way = loose(way, work.job.lead(id).from, work.job.lead(id).to, length);
    let table = work.catalog.ampacity_table(&work.job.rules.ampacity_table);
    let candidate = Candidate {
        cable,
        allowed: allowed(cable, &way, table, work.catalog),
        price: 0.0,
        mass_kg: 0.0,
    };
    if matches!(
        burden(&candidate, &way, duty, work.catalog),
        Burden::Overloaded { .. }
    ) {
        return nothing();
    }
    let mut route = wiring.route.clone();
    if let Some(place) = route.leads.get_mut(id.0) {
        *place = way;
    }
    let mut cables = wiring.cables.clone();
    let mut ampacities = wiring.ampacities.clone();
    let mut resistances = wiring.guards.clone();
    let places = (
        cables.get_mut(id.0),
        ampacities.get_mut(id.0),
        resistances.get_mut(id.0),
    );
    if let (Some(own), Some(ampacity), Some(resistance)) = places {
        (*own, *ampacity, *resistance) = (cable, candidate.allowed.current, Resistance::ZERO);
    }
    let wired = Wiring {
        job: wiring.job,
        route: &route,
        catalog: wiring.catalog,
        cables,
        ampacities,
        guards: resistances,
        frames: Arc::clone(&wiring.frames),
    };
    let task = Guarding::of(&wired, &Faults::of(&wired), id, duty);
    let positive = work.job.lead(id).polarity == Polarity::Positive;
    let most = task.most_rating();
    let fits = |fuse: &Protective<'_>| match positive {
        true => task.done_by(fuse),
        // A return has no short of its own: its fuse must only carry, and be no larger than the cable.
        false => task.carried_by(fuse) && fuse.rating <= most && task.has_lug_for(fuse),
    };
    fuses.iter().map(fits).collect()
}

/// The way of a lead as the bypass lead lies on it: uncut, by itself, its fuse near its start.
fn loose(
    way: &LeadRoute,
    from: crate::job::TerminalId,
    to: crate::job::TerminalId,
    length: Length,
) -> LeadRoute {
    LeadRoute {
        sections: vec![Section {
            from: EndPoint::Terminal(from),
            to: EndPoint::Terminal(to),
            start: Length::ZERO,
            routed: way.routed(),
            terms: Vec::new(),
            cut: length,
        }],
        bundled_with: 1,
        protection_at: Some(TO_FUSE),
        protection_sheathed: false,
        ..way.clone()
    }
}

/// The studs at the two ends of a lead; `None` where one of them is not known.
fn pair(work: &Work<'_>, lead: LeadId) -> Option<Studs> {
    match studs_of(work, lead).as_slice() {
        [one, other] if one.diameter() >= other.diameter() => Some((*one, *other)),
        [one, other] => Some((*other, *one)),
        _ => None,
    }
}

/// The pairs of studs of leads, each once.
fn pairs(work: &Work<'_>, leads: &[LeadId]) -> Vec<Studs> {
    let mut pairs: Vec<Studs> = leads.iter().filter_map(|lead| pair(work, *lead)).collect();
    pairs.sort();
    pairs.dedup();
    pairs
}

/// Whether lugs for two studs sit, with washers, on the studs of a lead.
fn sits_on(shelf: Shelf<'_, '_>, lead: LeadId, lugs: Studs) -> bool {
    let sits = |stud: Thread, lug: Thread| {
        let least = lug.diameter() * shelf.kit.least_stud.fraction();
        least <= stud.diameter() && stud.diameter() <= lug.diameter()
    };
    pair(shelf.work, lead).is_some_and(|own| sits(own.0, lugs.0) && sits(own.1, lugs.1))
}

/// A bypass lead with everything that it is made of; `None` where a part is not to be had.
fn made<'a>(
    shelf: Shelf<'a, '_>,
    cable: &'a Cable,
    length: Length,
    fuse: Protective<'a>,
    studs: Studs,
    covers: Vec<LeadId>,
) -> Option<Bypass<'a>> {
    let catalog = shelf.work.catalog;
    let (large, small) = (
        lug(shelf.work, cable, studs.0)?,
        lug(shelf.work, cable, studs.1)?,
    );
    let inner = lug(shelf.work, cable, fuse.stud)?;
    let holder: &dyn Part = fuse.holder?;
    let sleeve = |lug: &Lug| -> Option<&'a Sleeve> {
        let mut sleeves = catalog.sleeves.iter();
        sleeves.find(|row| row.covers(lug.barrel_outer, cable.outer_diameter))
    };
    let parts: Vec<(&dyn Part, u32)> = vec![
        (large, 1),
        (small, 1),
        (inner, 2),
        (sleeve(large)?, 1),
        (sleeve(small)?, 1),
        (sleeve(inner)?, 2),
        (catalog.part(fuse.part)?, 1),
        (holder, 1),
    ];
    let colour = [Colour::Red, Colour::Black]
        .into_iter()
        .find(|one| cable.colours.contains(one));
    let colour = colour.or(cable.colours.first().copied());
    let mut needs = vec![price::need(cable, Amount::Length(length), colour)];
    for (part, count) in &parts {
        let need = price::pieces(*part, *count, catalog);
        match needs.iter_mut().find(|known| known.part == need.part) {
            Some(known) => known.amount = both(known.amount, need.amount),
            None => needs.push(need),
        }
    }
    let mut bulk = bulk::of_coil(cable, length, shelf.kit.coil_fill);
    for (part, count) in &parts {
        let own = bulk::of_part(*part, catalog)?;
        let count = f64::from(*count);
        bulk.mass = Mass::from_kg(bulk.mass.kg() + own.mass.kg() * count);
        bulk.volume = Volume::from_l(bulk.volume.l() + own.volume.l() * count);
    }
    Some(Bypass {
        price: shelf.till.price(&needs)?,
        cable,
        length,
        fuse,
        studs,
        covers,
        needs,
        bulk,
    })
}

fn both(a: Amount, b: Amount) -> Amount {
    match (a, b) {
        (Amount::Pieces(a), Amount::Pieces(b)) => Amount::Pieces(a.saturating_add(b)),
        (other, _) => other,
    }
}

fn lug<'a>(work: &Work<'a>, cable: &Cable, stud: Thread) -> Option<&'a Lug> {
    let lugs = work.catalog.lugs.iter();
    let mut fitting = lugs.filter(|lug| lug.stud == stud && lug.fits(cable));
    fitting.find(|lug| lug.angle == LugAngle::Straight)
}

/// Those that no other beats in everything.
fn worth_it(mut found: Vec<Bypass<'_>>) -> Vec<Bypass<'_>> {
    let key = |one: &Bypass<'_>| {
        (
            one.price,
            one.bulk.mass,
            one.bulk.volume,
            one.covers.clone(),
        )
    };
    let all: Vec<_> = found.iter().map(key).collect();
    let beaten = |at: usize| {
        let one = &all[at];
        all.iter().enumerate().any(|(other, than)| {
            let covers = one.3.iter().all(|lead| than.3.contains(lead));
            let no_worse = than.0 <= one.0 && than.1 <= one.1 && than.2 <= one.2 && covers;
            let equal = than == one;
            other != at && no_worse && (!equal || other < at)
        })
    };
    let keep: Vec<bool> = (0..all.len())
        .map(|at| !beaten(at) && !all[at].3.is_empty())
        .collect();
    let mut keep = keep.into_iter();
    found.retain(|_| keep.next().unwrap_or(false));
    found
}

impl Bypass<'_> {
    /// In words, for a bill.
    pub(super) fn words(&self, units: Units) -> String {
        let lugs = match self.studs {
            (one, other) if one == other => format!("lugs {one}"),
            (large, small) => format!("lugs {large} and {small}"),
        };
        format!(
            "Bypass lead, {} of {}, {lugs}, fuse {:.0} A in its holder {} from one end",
            units.shown(self.length),
            self.cable.size,
            self.fuse.rating.a(),
            units.on_tape_nearest(TO_FUSE)
        )
    }

    /// Volts that its cable loses at a current, cold.
    pub(super) fn loses_v(&self, current: Current) -> f64 {
        self.cable.max_resistance.of(self.length).ohm() * current.a()
    }
}
