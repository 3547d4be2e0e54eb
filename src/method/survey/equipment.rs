//! Buses, protection, devices and boxes: everything that is mounted.

use super::cables::lead_facts;
use super::whole::{battery_facts, placed};
use crate::catalog::{FastenerKind, Part, PartKind};
use crate::job::{Converter, Device, PlaceId};
use crate::method::facts::{EnclosureFacts, PartFacts, ProtectionFacts};
use crate::method::library::Per;
use crate::method::subject::{Key, Measure, Subject};
use crate::method::wording::named;
use crate::method::work::Work;
use crate::protection::Guard;
use crate::quantity::{Thread, figure};

fn screws(count: u32, thread: Thread) -> String {
    match count {
        1 => format!("1 screw {thread}"),
        more => format!("{more} screws {thread}"),
    }
}

/// The buses.
pub fn buses(work: &Work) -> Vec<Subject> {
    let numbered = work.job.buses.iter().enumerate();
    let subject = |(position, bus): (usize, &crate::job::Bus)| {
        let name = &bus.given.name.value;
        let fitted = work.fittings.buses.iter().find(|row| row.name == *name);
        let part = fitted.and_then(|row| row.part.as_ref());
        let mut rows = work.catalog.buses.iter();
        let row = rows.find(|row| part.is_some_and(|part| **part == *row.id.value));
        let facts = PartFacts {
            name: named(name),
            part: part.cloned().unwrap_or_default(),
            description: part.map_or_else(String::new, |part| work.describe(part)),
            kind: "bus".to_owned(),
            mounting: row.map_or_else(String::new, |row| screws(row.mounts, row.mount)),
            cover: row.is_some_and(|row| row.cover),
        };
        let facts = placed(work, bus.place).with("bus", &facts);
        let subject = Subject {
            count: row.map_or(1, |row| row.mounts as usize),
            mentions: vec![named(name)],
            measure: mounting(work, row.map(|row| row.mount)),
            ..Subject::new(Per::Bus, Key::Bus(position), facts)
        };
        subject
            .at(bus.place, work.access(bus.place))
            .using(part, None)
    };
    numbered.map(subject).collect()
}

/// The hole and wrench of mounting bolts, or that there are screws in their place.
fn mounting(work: &Work, thread: Option<Thread>) -> Measure {
    if thread.is_some_and(|thread| screwed(work, thread)) {
        return Measure {
            screws: true,
            ..Measure::default()
        };
    }
    let row = thread.and_then(|thread| work.catalog.thread(thread));
    Measure {
        holes: row.map(|row| row.hole).into_iter().collect(),
        threads: thread.into_iter().collect(),
        ..Measure::default()
    }
}

/// Whether the fittings hold equipment of a thread by screws.
fn screwed(work: &Work, thread: Thread) -> bool {
    let fasteners = work.catalog.fasteners.iter();
    let mut screws = fasteners
        .filter(|row| row.kind == FastenerKind::Screw && row.thread == thread)
        .map(|row| row.id.as_str());
    screws.any(|screw| work.fittings.needs.iter().any(|need| need.part == screw))
}

/// The breakers and fuses.
pub fn protections(work: &Work) -> Vec<Subject> {
    let guards = work.protection.guards.iter();
    guards.map(|guard| one_protection(work, guard)).collect()
}

fn one_protection(work: &Work, guard: &Guard) -> Subject {
    let mut rows = work.catalog.holders.iter();
    let holder = guard.holder.as_ref();
    let row = rows.find(|row| holder.is_some_and(|id| *id == *row.id.value));
    let facts = ProtectionFacts {
        kind: match guard.kind {
            PartKind::Fuse => "fuse".to_owned(),
            _ => "breaker".to_owned(),
        },
        part: guard.part.clone(),
        rating: format!("{} A", figure(guard.rating.a(), 1)),
        holder: guard.holder.clone().unwrap_or_default(),
        mounting: row.map_or_else(String::new, |row| screws(row.mounts, row.mount)),
        stud: guard.stud.to_string(),
    };
    let facts = placed(work, guard.place)
        .with("lead", &lead_facts(work, guard.lead))
        .with("protection", &facts);
    let subject = Subject {
        mentions: vec![format!("protection of {}", work.job.lead(guard.lead).name)],
        measure: mounting(work, row.map(|row| row.mount)),
        ..Subject::new(Per::Protection, Key::Protection(guard.lead.0), facts)
    };
    subject
        .touching([Key::Lead(guard.lead.0)])
        .at(guard.place, work.access(guard.place))
        .using(Some(&guard.part), None)
        .using(guard.holder.as_ref(), None)
}

/// Switches, contactors and connectors.
pub fn devices(work: &Work) -> Vec<Subject> {
    let numbered = work.job.devices.iter().enumerate();
    let subject = |(position, device): (usize, &Device)| {
        let part = &device.given.part.value;
        let kind = work.catalog.part(part).map(Part::kind);
        let facts = PartFacts {
            name: named(&device.given.name),
            part: part.clone(),
            description: work.describe(part),
            kind: kind.map_or_else(|| "device".to_owned(), |kind| kind.to_string()),
            mounting: String::new(),
            cover: false,
        };
        let facts = placed(work, device.place).with("device", &facts);
        let subject = Subject {
            mentions: vec![named(&device.given.name)],
            ..Subject::new(Per::Device, Key::Device(position), facts)
        };
        subject
            .at(device.place, work.access(device.place))
            .using(Some(part), None)
    };
    numbered.map(subject).collect()
}

/// Converters, which the job brings along.
pub fn converters(work: &Work) -> Vec<Subject> {
    let numbered = work.job.converters.iter().enumerate();
    let subject = |(position, converter): (usize, &Converter)| {
        let given = &converter.given;
        let facts = PartFacts {
            name: named(&given.name),
            part: String::new(),
            description: format!(
                "{} V, {} A",
                figure(given.output.v(), 1),
                figure(given.limit.a(), 1)
            ),
            kind: "converter".to_owned(),
            mounting: String::new(),
            cover: false,
        };
        let facts = placed(work, converter.place).with("device", &facts);
        let subject = Subject {
            mentions: vec![named(&given.name)],
            ..Subject::new(Per::Device, Key::Converter(position), facts)
        };
        subject.at(converter.place, work.access(converter.place))
    };
    numbered.map(subject).collect()
}

/// The boxes of batteries.
pub fn enclosures(work: &Work) -> Vec<Subject> {
    let numbered = work.fittings.enclosures.iter().enumerate();
    let subject = |(position, fitted): (usize, &crate::fittings::FittedEnclosure)| {
        let mut rows = work.catalog.enclosures.iter();
        let part = fitted.part.as_ref();
        let row = rows.find(|row| part.is_some_and(|part| *part == *row.id.value));
        let mut batteries = work.job.batteries.iter();
        let battery = batteries.position(|battery| *battery.given.name == fitted.battery);
        let facts = EnclosureFacts {
            part: part.cloned().unwrap_or_default(),
            description: part.map_or_else(String::new, |part| work.describe(part)),
            vent: fitted.vent.clone().unwrap_or_default(),
            hold_down: row.is_some_and(|row| row.hold_down),
        };
        let own = battery.map(|battery| battery_facts(work, battery));
        let facts = placed(work, fitted.place)
            .with("battery", &own.unwrap_or_default())
            .with("enclosure", &facts);
        let subject = Subject {
            mentions: vec![format!("box of {}", named(&fitted.battery))],
            ..Subject::new(Per::Enclosure, Key::Enclosure(position), facts)
        };
        subject
            .touching(battery.map(Key::Battery))
            .at(fitted.place, work.access(fitted.place))
            .using(part, None)
            .using(fitted.vent.as_ref(), hose(work, fitted.place, battery))
    };
    numbered.map(subject).collect()
}

/// Length of vent hose that the job asks for.
fn hose(work: &Work, place: PlaceId, battery: Option<usize>) -> Option<crate::quantity::Length> {
    let battery = work.job.batteries.get(battery?)?;
    battery.given.vent_hose.filter(|_| battery.place == place)
}
