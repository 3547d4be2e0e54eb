//! Everything in a plan that may fail.

use crate::catalog::{Access, BatteryTerminal, FailingPart, PartKind, Polarity};
use crate::circuit::EndName;
use crate::job::{LeadId, PlaceId, Stud};
use crate::method::Work;
use crate::quantity::Thread;
use crate::route::EndPoint;

/// Where a meter is held.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Probe {
    /// Nowhere.
    Nowhere,
    /// Across elements of a lead, by the names that the operation gives them.
    Elements(LeadId, Vec<String>),
    /// From one side of a device to the other.
    Device(usize),
    /// On the posts of a battery.
    Battery(usize),
}

/// Something that may fail.
#[derive(Debug, Clone)]
pub(super) struct Subject {
    /// What kind of part.
    pub of: FailingPart,
    /// Its name, in words.
    pub name: String,
    /// Where it is, in words.
    pub place: String,
    /// How well it is reached.
    pub access: Access,
    /// Leads that no longer conduct when it fails.
    pub leads: Vec<LeadId>,
    /// The device that it is.
    pub device: Option<usize>,
    /// The battery that it is.
    pub battery: Option<usize>,
    /// Id of the part.
    pub part: Option<String>,
    /// Threads of the nuts on it.
    pub threads: Vec<Thread>,
    /// Position of the end that it is.
    pub end: Option<usize>,
    /// Where a meter is held across it.
    pub probe: Probe,
}

impl Subject {
    fn at(work: &Work<'_>, of: FailingPart, name: String, place: PlaceId) -> Self {
        Self {
            of,
            name,
            place: work.job.place(place).name.clone(),
            access: access(work, place),
            leads: Vec::new(),
            device: None,
            battery: None,
            part: None,
            threads: Vec::new(),
            end: None,
            probe: Probe::Nowhere,
        }
    }
}

/// How well a place is reached; as usual where no leg says.
pub(super) fn access(work: &Work<'_>, place: PlaceId) -> Access {
    work.access(place).unwrap_or(Access::Easy)
}

/// All of them, from the sources outwards as far as the lists of the plan go.
pub(super) fn subjects(work: &Work<'_>) -> Vec<Subject> {
    let mut all = batteries(work);
    all.extend(guards(work));
    all.extend(devices(work));
    all.extend(buses(work));
    all.extend(joints(work));
    all.extend(ends(work));
    all.extend(leads(work));
    all.extend(feed_throughs(work));
    all.extend(clamps(work));
    all
}

fn batteries(work: &Work<'_>) -> Vec<Subject> {
    let mut found = Vec::new();
    for (index, battery) in work.job.batteries.iter().enumerate() {
        let name = battery.given.name.value.clone();
        let mut subject = Subject::at(work, FailingPart::Battery, name, battery.place);
        subject.battery = Some(index);
        subject.probe = Probe::Battery(index);
        found.push(subject);
        for terminal in [battery.positive, battery.negative] {
            found.extend(post(work, terminal.0));
        }
    }
    found
}

/// The clamp on a tapered post that leads land on.
fn post(work: &Work<'_>, index: usize) -> Option<Subject> {
    let terminal = work.job.terminals.get(index)?;
    let (Stud::Post, Some(pole)) = (terminal.stud, terminal.pole) else {
        return None;
    };
    let leads: Vec<LeadId> = work.job.leads_at(crate::job::TerminalId(index)).collect();
    let part = post_clamp(work, &terminal.name, pole)?;
    let name = format!("clamp on {}", terminal.name);
    let mut subject = Subject::at(work, FailingPart::BatteryTerminal, name, terminal.place);
    subject.threads = vec![part.stud];
    subject.part = Some(part.id.value.clone());
    subject.probe = crimp_of(
        work,
        leads.first().copied(),
        EndPoint::Terminal(crate::job::TerminalId(index)),
    );
    subject.leads = leads;
    Some(subject)
}

/// The part that the fittings stage chose for a post.
fn post_clamp<'a>(work: &Work<'a>, name: &str, pole: Polarity) -> Option<&'a BatteryTerminal> {
    let purpose = format!("post `{name}`");
    let mut needs = work.fittings.needs.iter();
    let need =
        needs.find(|need| need.kind == PartKind::BatteryTerminal && need.purpose == purpose)?;
    let mut rows = work.catalog.battery_terminals.iter();
    rows.find(|row| *row.id == need.part && row.polarity == pole)
}

fn crimp_of(work: &Work<'_>, lead: Option<LeadId>, point: EndPoint) -> Probe {
    lead.map_or(Probe::Nowhere, |lead| {
        Probe::Elements(lead, vec![EndName::of(work.job, &point)])
    })
}

fn guards(work: &Work<'_>) -> Vec<Subject> {
    let mut found = Vec::new();
    for guard in &work.protection.guards {
        let lead = &work.job.lead(guard.lead).name;
        let mut device = |of: FailingPart, word: &str, part: &str, threads: Vec<Thread>| {
            let name = format!("{word} of {lead}, {:.0} A", guard.rating.a());
            let mut subject = Subject::at(work, of, name, guard.place);
            subject.leads = vec![guard.lead];
            subject.part = Some(part.to_owned());
            subject.threads = threads;
            subject.probe = Probe::Elements(guard.lead, vec![EndName::PROTECTION.to_owned()]);
            found.push(subject);
        };
        if guard.kind == PartKind::Breaker {
            device(
                FailingPart::Breaker,
                "breaker",
                &guard.part,
                vec![guard.stud],
            );
            continue;
        }
        let row = work.catalog.fuses.iter().find(|row| *row.id == guard.part);
        let is_plugged = row.is_some_and(|row| row.is_plugged());
        let threads = if is_plugged {
            Vec::new()
        } else {
            vec![guard.stud]
        };
        device(FailingPart::Fuse, "fuse", &guard.part, threads);
        if let Some(holder) = &guard.holder {
            device(FailingPart::Holder, "fuse holder", holder, vec![guard.stud]);
        }
    }
    found
}

fn devices(work: &Work<'_>) -> Vec<Subject> {
    let devices = work.job.devices.iter().enumerate();
    let subjects = devices.map(|(index, device)| {
        let part = device.given.part.value.as_str();
        let switches = work
            .catalog
            .switches
            .iter()
            .map(|row| (&row.id.value, row.stud));
        let contactors = work
            .catalog
            .contactors
            .iter()
            .map(|row| (&row.id.value, row.stud));
        let stud = switches.chain(contactors).find(|(id, _)| *id == part);
        let name = device.given.name.value.clone();
        let mut subject = Subject::at(work, FailingPart::Device, name, device.place);
        subject.device = Some(index);
        subject.part = Some(part.to_owned());
        subject.threads = stud.map(|(_, stud)| stud).into_iter().collect();
        subject.probe = Probe::Device(index);
        subject
    });
    subjects.collect()
}

fn buses(work: &Work<'_>) -> Vec<Subject> {
    let mut found = Vec::new();
    for bus in &work.fittings.buses {
        for (stud, names) in bus
            .studs
            .iter()
            .enumerate()
            .filter(|(_, names)| !names.is_empty())
        {
            let name = format!("{}, stud {}", bus.name, stud + 1);
            let mut subject = Subject::at(work, FailingPart::Bus, name, bus.place);
            subject.leads = ids(work, names);
            subject.threads = bus.stud.into_iter().collect();
            found.push(subject);
        }
    }
    found
}

fn ids(work: &Work<'_>, names: &[String]) -> Vec<LeadId> {
    let leads = work
        .job
        .leads()
        .filter(|(_, lead)| names.contains(&lead.name));
    leads.map(|(id, _)| id).collect()
}

fn joints(work: &Work<'_>) -> Vec<Subject> {
    let joints = work.fittings.joints.iter().map(|joint| {
        let mut subject = Subject::at(work, FailingPart::Joint, joint.name.clone(), joint.place);
        subject.leads = ids(work, &joint.leads);
        subject.threads = vec![joint.thread];
        // The lead of the thickest cable is the first under the nut.
        let ends = work.ends_of(joint).into_iter();
        let mut ends = ends.filter_map(|end| work.fittings.ends.get(end));
        if let Some(end) = ends.next() {
            subject.probe = crimp_of(work, Some(end.lead), end.point);
        }
        subject
    });
    joints.collect()
}

fn ends(work: &Work<'_>) -> Vec<Subject> {
    let ends = work.fittings.ends.iter().enumerate();
    let made = ends.filter(|(_, end)| end.lug.is_some());
    let subjects = made.map(|(position, end)| {
        let lead = &work.job.lead(end.lead).name;
        let name = format!("{lead} on {}", end.terminal);
        let mut subject = Subject::at(work, FailingPart::End, name, end.place);
        subject.leads = vec![end.lead];
        subject.threads = end.stud.into_iter().collect();
        subject.end = Some(position);
        subject.probe = crimp_of(work, Some(end.lead), end.point);
        subject
    });
    subjects.collect()
}

fn leads(work: &Work<'_>) -> Vec<Subject> {
    let leads = work.job.leads().filter_map(|(id, lead)| {
        let way = &work.route.leads.get(id.0)?.way;
        let legs = way.legs.iter().map(|leg| work.job.leg(*leg).access);
        let first = *way.places.first()?;
        let last = way.places.last().copied().unwrap_or(first);
        let mut subject = Subject::at(work, FailingPart::Lead, lead.name.clone(), first);
        // Nobody knows beforehand where on its way it fails.
        subject.access = legs.max().unwrap_or_else(|| access(work, first));
        if last != first {
            let last = &work.job.place(last).name;
            subject.place = format!("{} to {last}", subject.place);
        }
        subject.leads = vec![id];
        subject.threads = studs_of(work, id);
        Some(subject)
    });
    leads.collect()
}

/// Threads of the studs at the two ends of a lead.
pub(super) fn studs_of(work: &Work<'_>, id: LeadId) -> Vec<Thread> {
    let lead = work.job.lead(id);
    let outer = [EndPoint::Terminal(lead.from), EndPoint::Terminal(lead.to)];
    let ends = work.fittings.ends.iter();
    let ends = ends.filter(|end| end.lead == id && outer.contains(&end.point));
    ends.filter_map(|end| end.stud).collect()
}

fn feed_throughs(work: &Work<'_>) -> Vec<Subject> {
    let passages = work.fittings.passages.iter();
    let studs = passages.filter(|passage| passage.kind == PartKind::FeedThrough);
    let subjects = studs.filter_map(|passage| {
        let (lead, panel) = (passage.lead, passage.panel);
        let sides = [
            EndPoint::FeedThroughNear(lead, panel),
            EndPoint::FeedThroughFar(lead, panel),
        ];
        let places = sides.iter().filter_map(|side| {
            let mut ends = work.fittings.ends.iter();
            ends.find(|end| end.point == *side).map(|end| end.place)
        });
        let places: Vec<PlaceId> = places.collect();
        let name = format!(
            "feed-through of {} in {}",
            work.job.lead(lead).name,
            work.job.panel(panel).name
        );
        let mut subject = Subject::at(work, FailingPart::FeedThrough, name, *places.first()?);
        let hardest = places.iter().map(|place| access(work, *place)).max();
        subject.access = hardest.unwrap_or(subject.access);
        subject.leads = vec![lead];
        subject.part.clone_from(&passage.part);
        subject.threads = passage.stud.into_iter().collect();
        subject.probe = Probe::Elements(
            lead,
            sides
                .iter()
                .map(|side| EndName::of(work.job, side))
                .collect(),
        );
        Some(subject)
    });
    subjects.collect()
}

/// The clamps of a leg, all together.
fn clamps(work: &Work<'_>) -> Vec<Subject> {
    let mut found = Vec::new();
    for (id, leg) in work.job.legs() {
        let held = work.fittings.clamps.iter().any(|clamp| clamp.leg == id);
        if !held {
            continue;
        }
        let (from, to) = (&work.job.place(leg.from).name, &work.job.place(leg.to).name);
        let name = format!("{from} to {to}");
        let mut subject = Subject::at(work, FailingPart::Clamps, name.clone(), leg.from);
        subject.place = name;
        subject.access = leg.access;
        found.push(subject);
    }
    found
}
