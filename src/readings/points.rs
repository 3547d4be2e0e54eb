//! The points between which a meter is held.

use std::collections::BTreeSet;

use crate::circuit::{PartKind, Wiring};
use crate::file::words;
use crate::job::{Job, LeadId, PanelId, PlaceId, TerminalId};
use crate::quantity::{Length, Temperature};
use crate::route::{EndPoint, Section};

words! {
    /// What a reading is taken of.
    pub enum PointKind as "a kind of test point" {
        /// The poles of a battery, an alternator or a converter.
        Source = "source",
        /// The terminals of a load.
        Load = "load",
        /// A made-up cable from stud to stud.
        Cable = "cable",
        /// A crimp with its stud.
        Joint = "joint",
        /// A breaker or fuse.
        Protection = "protection",
        /// A switch, contactor or connector.
        Device = "device",
        /// Metal that joins two points of body or engine.
        Body = "body",
    }
}

/// What lies between the two probes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measured {
    /// All that is between two terminals.
    Between(TerminalId, TerminalId),
    /// Parts of a lead, by position among its elements, the last included.
    Elements {
        /// The lead.
        lead: LeadId,
        /// The first part.
        first: usize,
        /// The last part.
        last: usize,
    },
}

/// A test point.
#[derive(Debug, Clone)]
pub struct Point {
    /// Its name, which no other point of the job has.
    pub name: String,
    /// What it is.
    pub kind: PointKind,
    /// What is measured.
    pub measured: Measured,
    /// Where the first probe goes, and its place.
    pub first: (String, PlaceId),
    /// Where the second probe goes, and its place.
    pub second: (String, PlaceId),
    /// How far apart the probes are along the cable.
    pub apart: Length,
    /// The cable whose crimp it is.
    pub of_cable: Option<String>,
}

impl Point {
    /// The lead that is measured, or a part of it.
    pub fn lead(&self) -> Option<LeadId> {
        match self.measured {
            Measured::Elements { lead, .. } => Some(lead),
            Measured::Between(..) => None,
        }
    }
}

/// Every test point of a job.
pub fn points(wiring: &Wiring<'_>) -> Vec<Point> {
    let job = wiring.job;
    let mut all = Vec::new();
    for battery in &job.batteries {
        let poles = (battery.positive, battery.negative);
        all.push(at(job, &battery.given.name, PointKind::Source, poles));
    }
    for alternator in &job.alternators {
        let poles = (alternator.positive, alternator.negative);
        all.push(at(job, &alternator.given.name, PointKind::Source, poles));
    }
    for converter in &job.converters {
        let name = converter.given.name.as_str();
        let input = (converter.input, converter.input_return);
        let output = (converter.output, converter.output_return);
        all.push(at(job, &format!("{name}, input"), PointKind::Load, input));
        all.push(at(
            job,
            &format!("{name}, output"),
            PointKind::Source,
            output,
        ));
    }
    for load in &job.loads {
        let poles = (load.positive, load.negative);
        all.push(at(job, load.name(), PointKind::Load, poles));
    }
    for (lead, _) in job.leads() {
        all.extend(of_lead(wiring, lead));
    }
    for device in &job.devices {
        let name = format!("across {}", device.given.name.value);
        let ends = (device.input, device.output);
        all.push(between(job, name, PointKind::Device, ends));
    }
    for bond in &job.bonds {
        let name = format!("across {} to {}", *bond.given.from, *bond.given.to);
        all.push(between(job, name, PointKind::Body, (bond.from, bond.to)));
    }
    told_apart(all)
}

/// The same points, those whose name another has already with a number after it.
fn told_apart(mut points: Vec<Point>) -> Vec<Point> {
    let mut seen: BTreeSet<String> = BTreeSet::new();
    for point in &mut points {
        let plain = point.name.clone();
        let mut number = 1;
        while !seen.insert(point.name.clone()) {
            number += 1;
            point.name = format!("{plain} ({number})");
        }
    }
    points
}

fn at(job: &Job, name: &str, kind: PointKind, poles: (TerminalId, TerminalId)) -> Point {
    between(job, format!("at {name}"), kind, poles)
}

fn between(
    job: &Job,
    name: String,
    kind: PointKind,
    (first, second): (TerminalId, TerminalId),
) -> Point {
    let probe = |terminal: TerminalId| {
        let terminal = job.terminal(terminal);
        (terminal.name.clone(), terminal.place)
    };
    Point {
        name,
        kind,
        measured: Measured::Between(first, second),
        first: probe(first),
        second: probe(second),
        apart: Length::ZERO,
        of_cable: None,
    }
}

fn of_lead(wiring: &Wiring<'_>, lead: LeadId) -> Vec<Point> {
    const ANY: Temperature = Temperature::from_c(20.0);
    let elements = wiring.elements(lead, ANY.c());
    let sections = &wiring.route.leads[lead.0].sections;
    let mut all = Vec::new();
    let mut first = 0;
    for (index, section) in sections.iter().enumerate() {
        all.extend(of_cable(wiring, lead, index, section, first));
        first += 3;
        let guarded = elements.get(first);
        if guarded.is_some_and(|element| element.kind == PartKind::Protection) {
            all.push(guard(wiring, lead, section, first));
            first += 1;
        }
    }
    all
}

/// A cable from stud to stud, and the crimps at both its ends; `first` is the position of its first
/// crimp among the parts of the lead.
fn of_cable(
    wiring: &Wiring<'_>,
    lead: LeadId,
    index: usize,
    section: &Section,
    first: usize,
) -> [Point; 3] {
    let job = wiring.job;
    let name = wiring.route.leads[lead.0].section_name(&job.lead(lead).name, index);
    let place = |end: &EndPoint| place(wiring, lead, end);
    let stud = |end: &EndPoint| (end.words(job), place(end));
    let elements = |first: usize, last: usize| Measured::Elements { lead, first, last };
    let joint = |end: &EndPoint, at: usize| Point {
        name: format!("{name}, crimp at {}", end.words(job)),
        kind: PointKind::Joint,
        measured: elements(at, at),
        first: ("the stud".to_owned(), place(end)),
        second: ("the cable".to_owned(), place(end)),
        apart: Length::ZERO,
        of_cable: Some(name.clone()),
    };
    // Both crimps are read from stud to cable or from cable to stud, as the cable runs.
    let near = joint(&section.from, first);
    let far = joint(&section.to, first + 2);
    let far = Point {
        first: far.second.clone(),
        second: far.first.clone(),
        ..far
    };
    let cable = Point {
        kind: PointKind::Cable,
        measured: elements(first, first + 2),
        first: stud(&section.from),
        second: stud(&section.to),
        apart: section.cut,
        of_cable: None,
        name,
    };
    [cable, near, far]
}

fn guard(wiring: &Wiring<'_>, lead: LeadId, section: &Section, at: usize) -> Point {
    let job = wiring.job;
    let place = place(wiring, lead, &section.to);
    Point {
        name: format!("protection of {}", job.lead(lead).name),
        kind: PointKind::Protection,
        measured: Measured::Elements {
            lead,
            first: at,
            last: at,
        },
        first: (EndPoint::ProtectionIn(lead).words(job), place),
        second: (EndPoint::ProtectionOut(lead).words(job), place),
        apart: Length::ZERO,
        of_cable: None,
    }
}

/// Where an end can be reached: each side of a feed-through from the place on that side.
fn place(wiring: &Wiring<'_>, lead: LeadId, end: &EndPoint) -> PlaceId {
    let job = wiring.job;
    let beside = |panel: PanelId, far: usize| {
        let route = &wiring.route.leads[lead.0];
        let mut crossings = route.crossings.iter();
        let crossing = crossings.find(|crossing| crossing.panel == panel);
        let leg = crossing.and_then(|crossing| {
            let mut legs = route.way.legs.iter();
            legs.position(|leg| *leg == crossing.leg)
        });
        let place = leg.and_then(|leg| route.way.places.get(leg + far));
        place.copied().unwrap_or(job.lead(lead).protect_at)
    };
    match *end {
        EndPoint::Terminal(terminal) => job.terminal(terminal).place,
        EndPoint::ProtectionIn(_) | EndPoint::ProtectionOut(_) => job.lead(lead).protect_at,
        EndPoint::FeedThroughNear(_, panel) => beside(panel, 0),
        EndPoint::FeedThroughFar(_, panel) => beside(panel, 1),
    }
}
