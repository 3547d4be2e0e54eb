//! Nuts on studs, with the lugs under them.

use super::whole::placed;
use crate::catalog::Polarity;
use crate::fittings::TorqueStanding;
use crate::fittings::{End, Joint};
use crate::job::{Owner, TerminalId};
use crate::method::facts::JointFacts;
use crate::method::library::Per;
use crate::method::subject::{Key, Measure, Subject};
use crate::method::wording::{listed, named};
use crate::method::work::Work;
use crate::route::EndPoint;

/// The joints.
pub fn joints(work: &Work) -> Vec<Subject> {
    let numbered = work.fittings.joints.iter().enumerate();
    numbered
        .map(|(position, joint)| one_joint(work, position, joint))
        .collect()
}

fn one_joint(work: &Work, position: usize, joint: &Joint) -> Subject {
    let numbers = work.ends_of(joint);
    let ends: Vec<&End> = numbers
        .iter()
        .filter_map(|number| work.fittings.ends.get(*number))
        .collect();
    let facts = placed(work, joint.place).with("joint", &joint_facts(work, joint, &ends));
    let mut subject = Subject {
        count: ends.len().max(1),
        mentions: vec![named(&joint.name)],
        measure: Measure {
            threads: vec![joint.thread],
            wrench: joint.wrench.clone(),
            torque: joint.torque.value,
            ..Measure::default()
        },
        ..Subject::new(Per::Joint, Key::Joint(position), facts)
    };
    for (number, end) in numbers.iter().zip(&ends) {
        subject = subject
            .touching([
                Key::End(*number),
                Key::Section(end.lead.0, end.section),
                Key::Lead(end.lead.0),
            ])
            .touching(work.owner(end.point));
        let legs = work.legs_of(end.lead, end.section);
        subject = subject.touching(legs.iter().map(|(leg, _)| Key::Leg(leg.0)));
    }
    subject.at(joint.place, work.access(joint.place))
}

fn joint_facts(work: &Work, joint: &Joint, ends: &[&End]) -> JointFacts {
    let leads: Vec<String> = joint.leads.iter().map(|lead| named(lead)).collect();
    let pole = work.battery_pole(joint);
    JointFacts {
        name: named(&joint.name),
        on: on(work, ends).to_owned(),
        negative: pole.is_some_and(|(_, pole)| pole == Polarity::Negative),
        link: !ends.is_empty() && ends.iter().all(|end| joins_batteries(work, end)),
        thread: joint.thread.to_string(),
        lugs: leads.len(),
        leads: listed(&leads),
        torque: joint
            .torque
            .value
            .map_or_else(String::new, |value| work.job.units.torque(value)),
        guidance: joint.torque.standing == TorqueStanding::Guidance,
        wrench: joint.wrench.clone().unwrap_or_default(),
        boots: ends.iter().filter(|end| end.boot.is_some()).count(),
    }
}

/// What the stud belongs to.
fn on(work: &Work, ends: &[&End]) -> &'static str {
    match ends.first().map(|end| end.point) {
        None => "",
        Some(EndPoint::ProtectionIn(_) | EndPoint::ProtectionOut(_)) => "protection",
        Some(EndPoint::FeedThroughNear(..) | EndPoint::FeedThroughFar(..)) => "feed-through",
        Some(EndPoint::Terminal(id)) => match work.job.terminal(id).owner {
            Owner::Battery(_) => "battery",
            Owner::Alternator(_) => "alternator",
            Owner::Converter(_) => "converter",
            Owner::Load(_) => "load",
            Owner::Bus(_) => "bus",
            Owner::Device(_) => "device",
            Owner::Chassis(_) => "chassis",
        },
    }
}

/// Whether the lead of an end starts and ends at batteries.
fn joins_batteries(work: &Work, end: &End) -> bool {
    let lead = work.job.lead(end.lead);
    let battery = |id: TerminalId| matches!(work.job.terminal(id).owner, Owner::Battery(_));
    battery(lead.from) && battery(lead.to)
}
