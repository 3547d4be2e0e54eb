//! Cables, leads, sections and their ends.

use super::whole::{bare, placed};
use crate::catalog::{Cable, Polarity};
use crate::fittings::End;
use crate::job::{Access, Lead, LeadId, LegId, MovingEnd, TerminalId};
use crate::method::facts::{CableFacts, EndFacts, Facts, LeadFacts, SectionFacts};
use crate::method::library::Per;
use crate::method::subject::{Key, Measure, Subject};
use crate::method::wording::{listed, milliohms, named};
use crate::method::work::Work;
use crate::quantity::Length;
use crate::route::{EndPoint, LengthTerm, Section};

/// Parts of a cut length that are shorter are not worth a word.
const LEAST_SAID_MM: f64 = 0.05;

/// Ids of the cables used, each once, in the order of the leads.
fn ids<'a>(work: &Work<'a>) -> Vec<&'a str> {
    let mut ids: Vec<&str> = Vec::new();
    for sized in &work.sizing.leads {
        if !ids.contains(&sized.cable.as_str()) {
            ids.push(&sized.cable);
        }
    }
    ids
}

/// The cable of a lead, by its position among those used.
fn cable_key(work: &Work, lead: LeadId) -> Option<Key> {
    let sized = work.sizing.leads.get(lead.0)?;
    let position = ids(work).iter().position(|id| *id == sized.cable)?;
    Some(Key::Cable(position))
}

fn row<'a>(work: &Work<'a>, lead: LeadId) -> Option<&'a Cable> {
    let sized = work.sizing.leads.get(lead.0)?;
    find(work, &sized.cable)
}

fn find<'a>(work: &Work<'a>, id: &str) -> Option<&'a Cable> {
    work.catalog.cables.iter().find(|row| *row.id == id)
}

/// The cables used.
pub fn cables(work: &Work) -> Vec<Subject> {
    let numbered = ids(work).into_iter().enumerate();
    let subject = |(position, id): (usize, &str)| {
        let cable = find(work, id);
        let units = work.job.units;
        let show = |get: &dyn Fn(&Cable) -> String| cable.map_or_else(String::new, get);
        let sized = work.sizing.leads.iter().filter(|sized| sized.cable == id);
        let leads: Vec<LeadId> = sized.map(|sized| sized.lead).collect();
        let facts = CableFacts {
            description: work.describe(id),
            id: id.to_owned(),
            size: show(&|row| row.size.to_string()),
            // One milliohm a metre is one ohm a kilometre, as standards state it.
            resistance: show(&|row| {
                let metre = row.max_resistance.of(Length::from_m(1.0));
                format!("{}/m", milliohms(metre, 4))
            }),
            diameter: show(&|row| units.on_calliper(row.outer_diameter)),
            bend: show(&|row| units.on_tape_at_least(row.min_bend_radius)),
            leads: work.leads(leads.iter().copied()),
        };
        let key = Key::Cable(position);
        Subject::new(Per::Cable, key, bare(work).with("cable", &facts))
            .touching(leads.iter().map(|lead| Key::Lead(lead.0)))
    };
    numbered.map(subject).collect()
}

/// The leads.
pub fn leads(work: &Work) -> Vec<Subject> {
    let subject = |(id, lead): (LeadId, &Lead)| {
        let legs = work.route.leads.get(id.0).map(|route| &route.way.legs);
        let legs: Vec<LegId> = legs.into_iter().flatten().copied().collect();
        let weighed = legs.iter().map(|leg| (*leg, work.job.leg(*leg).length));
        let reach = reach(work, weighed);
        let place = work.job.terminal(lead.from).place;
        let subject = Subject {
            count: legs.len().max(1),
            mentions: vec![lead.name.clone()],
            ..Subject::new(Per::Lead, Key::Lead(id.0), lead_facts_of(work, id))
        };
        let subject = subject.touching(cable_key(work, id));
        let subject = subject.touching(legs.iter().map(|leg| Key::Leg(leg.0)));
        let subject = subject.touching(crossings(work, id));
        let subject = subject.touching([Key::Protection(id.0)]);
        Subject {
            reach,
            ..subject.at(place, None)
        }
    };
    work.job.leads().map(subject).collect()
}

fn reach(work: &Work, legs: impl Iterator<Item = (LegId, Length)>) -> Vec<(Access, f64)> {
    legs.map(|(leg, on)| (work.job.leg(leg).access, on.m()))
        .collect()
}

/// Panels that a lead passes, and its fittings in them.
fn crossings(work: &Work, lead: LeadId) -> Vec<Key> {
    let passages = work.fittings.passages.iter().enumerate();
    let own = passages.filter(|(_, passage)| passage.lead == lead);
    own.flat_map(|(position, passage)| [Key::Passage(position), Key::Panel(passage.panel.0)])
        .collect()
}

/// What can be said of a lead, in every step that has to do with it.
pub fn lead_facts_of(work: &Work, id: LeadId) -> Facts {
    bare(work).with("lead", &lead_facts(work, id))
}

/// What can be said of a lead.
pub fn lead_facts(work: &Work, id: LeadId) -> LeadFacts {
    let lead = work.job.lead(id);
    let units = work.job.units;
    let way = work.route.leads.get(id.0).map(|route| &route.way);
    let name = |terminal| terminal_name(work, terminal);
    let guard = work.protection.guard(id);
    LeadFacts {
        name: named(&lead.name),
        moving: moving_end(work, id).map_or_else(String::new, name),
        from: name(lead.from),
        to: name(lead.to),
        positive: lead.polarity == Polarity::Positive,
        colour: lead.insulation().to_string(),
        way: way.map_or_else(String::new, |way| chain(work, &way.places)),
        routed: way.map_or_else(String::new, |way| units.on_tape(way.length)),
        legs: way.map_or(0, |way| way.legs.len()),
        sections: work.sections(id).len(),
        protection: guard.map_or_else(String::new, |guard| work.describe(&guard.part)),
        bend: row(work, id).map_or_else(String::new, |row| {
            units.on_tape_at_least(row.min_bend_radius)
        }),
        resistance: row(work, id).map_or_else(String::new, |row| {
            let cut: Length = work.sections(id).iter().map(|section| section.cut).sum();
            milliohms(row.max_resistance.of(cut), 2)
        }),
    }
}

fn terminal_name(work: &Work, terminal: TerminalId) -> String {
    named(&work.job.terminal(terminal).name)
}

/// The terminal of a lead that moves with the engine.
fn moving_end(work: &Work, lead: LeadId) -> Option<TerminalId> {
    let lead = work.job.lead(lead);
    match lead.moves {
        MovingEnd::None => None,
        MovingEnd::From => Some(lead.from),
        MovingEnd::To => Some(lead.to),
    }
}

fn chain(work: &Work, places: &[crate::job::PlaceId]) -> String {
    let names = places.iter().map(|place| work.place(*place));
    names.collect::<Vec<_>>().join(" → ")
}

/// The sections of all leads.
pub fn sections(work: &Work) -> Vec<Subject> {
    let leads = work.job.leads().map(|(id, _)| id);
    leads
        .flat_map(|id| {
            let numbered = work.sections(id).iter().enumerate();
            numbered.map(move |(position, section)| one_section(work, id, position, section))
        })
        .collect()
}

fn one_section(work: &Work, lead: LeadId, position: usize, section: &Section) -> Subject {
    let key = Key::Section(lead.0, position);
    let legs = work.legs_of(lead, position);
    let facts = lead_facts_of(work, lead).with("section", &section_facts(work, lead, position));
    let first = work.fittings.ends.iter();
    let mut first = first.filter(|end| end.lead == lead && end.section == position);
    let place = first.next().map(|end| end.place);
    let cable = work.sizing.leads.get(lead.0).map(|sized| &sized.cable);
    let subject = Subject {
        count: legs.len().max(1),
        mentions: vec![
            work.job.lead(lead).name.clone(),
            work.section_name(lead, position),
        ],
        place,
        ..Subject::new(Per::Section, key, facts)
    };
    let subject = subject.touching([Key::Lead(lead.0), Key::Protection(lead.0)]);
    let subject = subject.touching(cable_key(work, lead));
    let subject = subject.touching(legs.iter().map(|(leg, _)| Key::Leg(leg.0)));
    let subject = subject.touching(crossings(work, lead));
    let subject = subject.touching(work.owner(section.from));
    let subject = subject.touching(work.owner(section.to));
    Subject {
        measure: Measure {
            cable: work
                .sizing
                .leads
                .get(lead.0)
                .map(|sized| sized.outer_diameter),
            ..Measure::default()
        },
        reach: reach(work, legs.into_iter()),
        ..subject.using(cable, Some(section.cut))
    }
}

/// What can be said of a section; nothing where there is no such one.
pub fn section_facts(work: &Work, lead: LeadId, position: usize) -> SectionFacts {
    let Some(section) = work.sections(lead).get(position) else {
        return SectionFacts::default();
    };
    let units = work.job.units;
    let cable = work.sizing.leads.get(lead.0).map(|sized| &sized.cable);
    let description = cable.map_or_else(String::new, |id| work.describe(id));
    let said = |term: &&LengthTerm| term.length.mm().abs() >= LEAST_SAID_MM;
    let terms = section.terms.iter().filter(said);
    let terms = terms.map(|term| {
        let amount = units.on_tape(term.length);
        format!("{} {amount}", term.reason)
    });
    let ends = work.fittings.ends.iter();
    let ends: Vec<String> = ends
        .filter(|end| end.lead == lead && end.section == position)
        .map(|end| named(&end.terminal))
        .collect();
    let moving = moving_end(work, lead).filter(|terminal| {
        let end = EndPoint::Terminal(*terminal);
        section.from == end || section.to == end
    });
    SectionFacts {
        name: named(&work.section_name(lead, position)),
        moving: moving.map_or_else(String::new, |terminal| terminal_name(work, terminal)),
        cable: format!("{description}, {}", work.job.lead(lead).insulation()),
        from: ends.first().cloned().unwrap_or_default(),
        to: ends.last().cloned().unwrap_or_default(),
        cut: units.on_tape_at_least(section.cut),
        routed: units.on_tape(section.routed),
        terms: listed(&terms.collect::<Vec<_>>()),
        way: places_of(work, lead, position),
    }
}

/// The places between which a section lies, in the direction of its lead.
fn places_of(work: &Work, lead: LeadId, section: usize) -> String {
    let legs = work.legs_of(lead, section);
    let Some(route) = work.route.leads.get(lead.0) else {
        return String::new();
    };
    let under = |leg: &LegId| legs.iter().any(|(id, _)| id == leg);
    let pairs = route.way.legs.iter().zip(route.way.places.windows(2));
    let mut places = Vec::new();
    for (_, pair) in pairs.filter(|(leg, _)| under(leg)) {
        if places.is_empty() {
            places.extend(pair.first().copied());
        }
        places.extend(pair.last().copied());
    }
    chain(work, &places)
}

/// The ends of all sections.
pub fn ends(work: &Work) -> Vec<Subject> {
    let numbered = work.fittings.ends.iter().enumerate();
    numbered
        .map(|(position, end)| one_end(work, position, end))
        .collect()
}

fn one_end(work: &Work, position: usize, end: &End) -> Subject {
    let facts = placed(work, end.place)
        .with("lead", &lead_facts(work, end.lead))
        .with("section", &section_facts(work, end.lead, end.section))
        .with("end", &end_facts(work, position, end));
    let section = Key::Section(end.lead.0, end.section);
    let sized = work.sizing.leads.get(end.lead.0);
    let subject = Subject {
        count: usize::try_from(end.crimps).map_or(1, |crimps| crimps.max(1)),
        mentions: vec![
            work.section_name(end.lead, end.section),
            end.terminal.clone(),
        ],
        group: section,
        measure: Measure {
            lugs: end.lug.iter().cloned().collect(),
            cable: sized.map(|sized| sized.outer_diameter),
            ..Measure::default()
        },
        ..Subject::new(Per::End, Key::End(position), facts)
    };
    subject
        .touching([Key::Lead(end.lead.0), section])
        .touching(cable_key(work, end.lead))
        .touching(work.owner(end.point))
        .at(end.place, work.access(end.place))
        .using(end.lug.as_ref(), None)
        .using(end.sleeve.as_ref(), None)
        .using(end.boot.as_ref(), None)
}

fn end_facts(work: &Work, position: usize, end: &End) -> EndFacts {
    let units = work.job.units;
    let strip = end.strip.map(|strip| units.on_tape(strip));
    let lug = end.lug.as_ref().map(|id| work.describe(id));
    EndFacts {
        terminal: named(&end.terminal),
        first: work.is_first_end(position, end),
        lug: end.lug.clone().unwrap_or_default(),
        lug_description: lug.unwrap_or_default(),
        die: end.die.clone().unwrap_or_default(),
        crimps: match end.crimps {
            1 => "1 crimp".to_owned(),
            more => format!("{more} crimps"),
        },
        strip: strip.unwrap_or_default(),
        sleeve: end.sleeve.clone().unwrap_or_default(),
        boot: end.boot.clone().unwrap_or_default(),
        stud: end.stud.map_or_else(String::new, |stud| stud.to_string()),
    }
}
