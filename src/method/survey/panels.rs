//! Panels, the holes in them, legs with their clamps, and sleeving.

use std::collections::{BTreeMap, BTreeSet};

use super::cables::lead_facts;
use super::whole::{bare, placed};
use crate::catalog::PartKind;
use crate::fittings::{FittedClamp, FittedPassage, FittedSleeving};
use crate::job::{HazardKind, LeadId, LegId, PanelId, PanelMaterial, PlaceId, Units};
use crate::method::facts::{LegFacts, PanelFacts, PassageFacts, SleevingFacts};
use crate::method::library::Per;
use crate::method::subject::{Key, Measure, Subject};
use crate::method::wording::listed;
use crate::method::work::Work;
use crate::quantity::Length;
use crate::route::Bundle;

/// Panels that leads pass.
pub fn panels(work: &Work) -> Vec<Subject> {
    let used: BTreeSet<PanelId> = work.fittings.passages.iter().map(|p| p.panel).collect();
    let subject = |id: PanelId| {
        let key = Key::Panel(id.0);
        let own = work.fittings.passages.iter().enumerate();
        let own: Vec<usize> = own
            .filter(|(_, passage)| passage.panel == id)
            .map(|(position, _)| position)
            .collect();
        let facts = bare(work).with("panel", &panel_facts(work, id));
        let subject = Subject {
            count: own.len(),
            mentions: vec![work.job.panel(id).name.clone()],
            ..Subject::new(Per::Panel, key, facts)
        };
        match place_of(work, id) {
            Some(place) => subject.at(place, work.access(place)),
            None => subject,
        }
    };
    used.into_iter().map(subject).collect()
}

fn leads_through(work: &Work, panel: PanelId) -> String {
    let passages = work.fittings.passages.iter();
    let own = passages.filter(|passage| passage.panel == panel);
    work.leads(own.map(|passage| passage.lead))
}

fn panel_facts(work: &Work, id: PanelId) -> PanelFacts {
    let panel = work.job.panel(id);
    PanelFacts {
        name: crate::method::wording::named(&panel.name),
        material: panel.material.to_string(),
        metal: matches!(
            panel.material,
            PanelMaterial::Steel | PanelMaterial::Aluminium
        ),
        thickness: work.job.units.on_tape(panel.thickness),
        leads: leads_through(work, id),
        passed: passed(work, id),
    }
}

/// Which leads pass a panel, leg by leg.
fn passed(work: &Work, panel: PanelId) -> Vec<String> {
    let mut by_leg: BTreeMap<LegId, Vec<LeadId>> = BTreeMap::new();
    for passage in work.fittings.passages.iter().filter(|p| p.panel == panel) {
        if let Some((leg, _)) = crossing(work, passage.lead, panel) {
            by_leg.entry(leg).or_default().push(passage.lead);
        }
    }
    let in_words = |(leg, leads): (LegId, Vec<LeadId>)| {
        format!(
            "{} on the leg {}",
            work.leads(leads.into_iter()),
            work.leg(leg)
        )
    };
    by_leg.into_iter().map(in_words).collect()
}

/// The leg on which a lead passes a panel, and how far along it.
fn crossing(work: &Work, lead: LeadId, panel: PanelId) -> Option<(LegId, Length)> {
    let mut crossings = work.route.leads.get(lead.0)?.crossings.iter();
    let leg = crossings.find(|crossing| crossing.panel == panel)?.leg;
    let (_, at) = work.job.leg(leg).crossing?;
    Some((leg, at))
}

/// The place nearest to a panel, on the first leg on which leads pass it.
fn place_of(work: &Work, panel: PanelId) -> Option<PlaceId> {
    let passages = work.fittings.passages.iter();
    let own = passages.filter(|passage| passage.panel == panel);
    let first = own.filter_map(|passage| crossing(work, passage.lead, panel));
    Some(nearest(work, first.min_by_key(|(leg, _)| *leg)?))
}

/// The end of a leg that is nearer to a point on it.
fn nearest(work: &Work, (leg, at): (LegId, Length)) -> PlaceId {
    let leg = work.job.leg(leg);
    if at <= leg.length / 2.0 {
        leg.from
    } else {
        leg.to
    }
}

/// Fittings in panels.
pub fn passages(work: &Work) -> Vec<Subject> {
    let numbered = work.fittings.passages.iter().enumerate();
    numbered
        .map(|(position, passage)| one_passage(work, position, passage))
        .collect()
}

fn one_passage(work: &Work, position: usize, passage: &FittedPassage) -> Subject {
    let lead = work.job.lead(passage.lead);
    let start = work.job.terminal(lead.from).place;
    let crossed = crossing(work, passage.lead, passage.panel);
    let place = crossed.map_or(start, |crossed| nearest(work, crossed));
    let facts = placed(work, place)
        .with("lead", &lead_facts(work, passage.lead))
        .with("panel", &panel_facts(work, passage.panel))
        .with("passage", &passage_facts(work, passage));
    let subject = Subject {
        mentions: vec![
            lead.name.clone(),
            work.job.panel(passage.panel).name.clone(),
        ],
        measure: Measure {
            holes: passage.hole.into_iter().collect(),
            threads: passage.stud.into_iter().collect(),
            ..Measure::default()
        },
        group: Key::Panel(passage.panel.0),
        ..Subject::new(Per::Passage, Key::Passage(position), facts)
    };
    subject
        .touching([Key::Lead(passage.lead.0), Key::Panel(passage.panel.0)])
        .at(place, work.access(place))
        .using(passage.part.as_ref(), None)
}

fn passage_facts(work: &Work, passage: &FittedPassage) -> PassageFacts {
    let units = work.job.units;
    let at = crossing(work, passage.lead, passage.panel).map(|(leg, at)| {
        let from = work.place(work.job.leg(leg).from);
        format!(
            "{} from {from} on the leg {}",
            units.on_tape(at),
            work.leg(leg)
        )
    });
    PassageFacts {
        kind: match passage.kind {
            PartKind::Grommet => "grommet".to_owned(),
            _ => "feed-through".to_owned(),
        },
        part: passage.part.clone().unwrap_or_default(),
        hole: passage.hole.map_or_else(String::new, |h| units.drill(h)),
        stud: passage.stud.map_or_else(String::new, |s| s.to_string()),
        at: at.unwrap_or_default(),
    }
}

/// Legs that leads lie on.
pub fn legs(work: &Work) -> Vec<Subject> {
    let bundles = work.route.bundles.iter();
    bundles.map(|bundle| one_leg(work, bundle)).collect()
}

fn one_leg(work: &Work, bundle: &Bundle) -> Subject {
    let leg = work.job.leg(bundle.leg);
    let clamps: Vec<&FittedClamp> = work
        .fittings
        .clamps
        .iter()
        .filter(|clamp| clamp.leg == bundle.leg)
        .collect();
    let facts = bare(work).with("leg", &leg_facts(work, bundle, &clamps));
    let subject = Subject {
        count: clamps.len().max(1),
        mentions: vec![spoken(work, bundle.leg)],
        measure: Measure {
            holes: clamps.iter().filter_map(|clamp| clamp.hole).collect(),
            threads: bolts(work, &clamps),
            ..Measure::default()
        },
        ..Subject::new(Per::Leg, Key::Leg(bundle.leg.0), facts)
    };
    let subject = subject.touching(on_leg(work, bundle));
    let subject = subject.at(leg.from, Some(leg.access));
    clamps.iter().fold(subject, |subject, clamp| {
        subject.using(clamp.part.as_ref(), None)
    })
}

/// A leg as the purposes of parts speak of it.
fn spoken(work: &Work, leg: LegId) -> String {
    let leg = work.job.leg(leg);
    let name = |place: PlaceId| &work.job.place(place).name;
    format!("{} to {}", name(leg.from), name(leg.to))
}

fn bolts(work: &Work, clamps: &[&FittedClamp]) -> Vec<crate::quantity::Thread> {
    let parts = clamps.iter().filter_map(|clamp| clamp.part.as_ref());
    let rows = parts.filter_map(|part| {
        let mut rows = work.catalog.clamps.iter();
        rows.find(|row| *row.id == *part)
    });
    rows.map(|row| row.bolt).collect()
}

/// The leads that lie on a leg, their sections there and the ends of these.
fn on_leg(work: &Work, bundle: &Bundle) -> Vec<Key> {
    let mut keys = Vec::new();
    for lead in &bundle.leads {
        keys.push(Key::Lead(lead.0));
        for position in 0..work.sections(*lead).len() {
            let under = work.legs_of(*lead, position);
            if under.iter().any(|(leg, _)| *leg == bundle.leg) {
                keys.push(Key::Section(lead.0, position));
                keys.extend(ends_of_section(work, *lead, position));
            }
        }
    }
    keys
}

fn ends_of_section(work: &Work, lead: LeadId, section: usize) -> Vec<Key> {
    let ends = work.fittings.ends.iter().enumerate();
    let own = ends.filter(|(_, end)| end.lead == lead && end.section == section);
    own.map(|(position, _)| Key::End(position)).collect()
}

fn leg_facts(work: &Work, bundle: &Bundle, clamps: &[&FittedClamp]) -> LegFacts {
    let leg = work.job.leg(bundle.leg);
    let units = work.job.units;
    let mut holes: Vec<String> = Vec::new();
    for hole in clamps.iter().filter_map(|clamp| clamp.hole) {
        let hole = units.drill(hole);
        if !holes.contains(&hole) {
            holes.push(hole);
        }
    }
    LegFacts {
        name: work.leg(bundle.leg),
        from: work.place(leg.from),
        to: work.place(leg.to),
        access: leg.access.to_string(),
        leads: work.leads(bundle.leads.iter().copied()),
        clamps: clamps.len(),
        positions: positions(units, clamps),
        holes: listed(&holes),
        hazards: hazards(work, bundle.leg),
        sheathed: leg.sheathed,
    }
}

/// Where clamps sit, to the finest mark of a tape; which clamp, where they are not all alike or there is none.
fn positions(units: Units, clamps: &[&FittedClamp]) -> Vec<String> {
    let alike = clamps.windows(2).all(|pair| match pair {
        [one, other] => one.part == other.part,
        _ => true,
    });
    let position = |clamp: &&FittedClamp| {
        let at = units.on_tape_nearest(clamp.at);
        match &clamp.part {
            Some(_) if alike => at,
            Some(part) => format!("{at} ({part})"),
            None => format!("{at} (no clamp found)"),
        }
    };
    clamps.iter().map(position).collect()
}

/// What a leg runs past, with the distance that the rules ask for.
fn hazards(work: &Work, leg: LegId) -> Vec<String> {
    let (rules, units) = (&work.job.rules, work.job.units);
    let in_words = |kind: HazardKind| {
        let gap = match kind {
            HazardKind::HotSurface => Some(rules.gap_hot_surface.value),
            HazardKind::MovingPart => Some(rules.gap_moving_part.value),
            HazardKind::FuelLine => Some(rules.gap_fuel_line.value),
            HazardKind::BrakeLine => Some(rules.gap_brake_line.value),
            HazardKind::RoadDebris | HazardKind::Chafe => None,
        };
        match gap {
            Some(gap) => format!("{kind}, keep at least {} away", units.on_tape_at_least(gap)),
            None => kind.to_string(),
        }
    };
    let hazards = work.job.leg(leg).hazards.iter();
    hazards.map(|hazard| in_words(hazard.kind)).collect()
}

/// Sleeving over stretches of leads.
pub fn sleevings(work: &Work) -> Vec<Subject> {
    let numbered = work.fittings.sleevings.iter().enumerate();
    numbered
        .map(|(position, sleeving)| one_sleeving(work, position, sleeving))
        .collect()
}

fn one_sleeving(work: &Work, position: usize, sleeving: &FittedSleeving) -> Subject {
    let units = work.job.units;
    let facts = SleevingFacts {
        part: sleeving.part.clone().unwrap_or_default(),
        length: units.on_tape_at_least(sleeving.length),
        against: sleeving.against.clone(),
        leg: work.leg(sleeving.leg),
    };
    let facts = bare(work)
        .with("lead", &lead_facts(work, sleeving.lead))
        .with("sleeving", &facts);
    let numbers = 0..work.sections(sleeving.lead).len();
    let on_leg = numbers.filter(|section| {
        let under = work.legs_of(sleeving.lead, *section);
        under.iter().any(|(leg, _)| *leg == sleeving.leg)
    });
    let sections: Vec<Key> = on_leg
        .map(|section| Key::Section(sleeving.lead.0, section))
        .collect();
    let key = Key::Sleeving(position);
    let subject = Subject {
        mentions: vec![
            work.job.lead(sleeving.lead).name.clone(),
            spoken(work, sleeving.leg),
        ],
        group: sections.first().copied().unwrap_or(key),
        ..Subject::new(Per::Sleeving, key, facts)
    };
    subject
        .touching([Key::Lead(sleeving.lead.0), Key::Leg(sleeving.leg.0)])
        .touching(sections)
        .using(sleeving.part.as_ref(), Some(sleeving.length))
}
