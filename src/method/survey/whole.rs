//! The job, its batteries and its states.

use crate::catalog::{PostKind, Setting};
use crate::check::{Check, Verdict};
use crate::job::{Access, Chemistry, Engine, PlaceId};
use crate::method::facts::{BatteryFacts, Facts, JobFacts, PlaceFacts, StateFacts};
use crate::method::library::Per;
use crate::method::subject::{Key, Subject};
use crate::method::wording::{listed, named};
use crate::method::work::Work;
use crate::quantity::figure;

/// The job.
pub fn job(work: &Work) -> Subject {
    Subject {
        count: work.job.leads.len(),
        ..Subject::new(Per::Job, Key::Job, bare(work))
    }
}

/// What can be said in every step.
pub fn bare(work: &Work) -> Facts {
    Facts::default().with("job", &job_facts(work))
}

/// The same and a place.
pub fn placed(work: &Work, place: PlaceId) -> Facts {
    bare(work).with("place", &place_facts(work, place))
}

fn job_facts(work: &Work) -> JobFacts {
    let job = work.job;
    let batteries = job.batteries.iter();
    let made_of =
        |wanted: Chemistry| move |battery: &crate::job::Battery| battery.given.chemistry == wanted;
    let mut used = work.route.bundles.iter().map(|bundle| job.leg(bundle.leg));
    let sensitive = job.loads.iter().filter(|load| load.given.sensitive);
    JobFacts {
        title: job.title.clone(),
        voltage: format!("{} V", figure(job.system_voltage.v(), 1)),
        boat: job.setting == Setting::SmallCraft,
        flooded: batteries.clone().any(made_of(Chemistry::Flooded)),
        lithium: batteries
            .clone()
            .any(made_of(Chemistry::LithiumIronPhosphate)),
        underneath: used.any(|leg| leg.access >= Access::Awkward),
        alternator: !job.alternators.is_empty(),
        sensitive: names(sensitive.map(|load| load.name())),
        leads: job.leads.len(),
        joints: work.fittings.joints.len(),
        unsettled: unsettled(work),
        misfits: misfits(work),
    }
}

fn names<'a>(names: impl Iterator<Item = &'a str>) -> String {
    listed(&names.map(named).collect::<Vec<_>>())
}

fn unsettled(work: &Work) -> usize {
    let checks = work.route.checks.iter();
    let checks = checks.chain(&work.sizing.checks);
    let checks = checks.chain(&work.protection.checks);
    let checks = checks.chain(&work.fittings.checks);
    let judged = |check: &&Check| check.verdict != Verdict::Pass;
    checks.filter(judged).count()
}

fn misfits(work: &Work) -> Vec<String> {
    let misfits = work.fittings.misfits.iter();
    misfits.map(|misfit| misfit.wanted.clone()).collect()
}

fn place_facts(work: &Work, id: PlaceId) -> PlaceFacts {
    let space = work.job.space(work.job.place(id).space);
    PlaceFacts {
        name: work.place(id),
        space: named(&space.name),
        vapour: space.vapour,
        wet: space.wet,
    }
}

/// The batteries.
pub fn batteries(work: &Work) -> Vec<Subject> {
    let numbered = work.job.batteries.iter().enumerate();
    let subject = |(position, battery): (usize, &crate::job::Battery)| {
        let facts = placed(work, battery.place).with("battery", &battery_facts(work, position));
        Subject {
            mentions: vec![named(&battery.given.name)],
            ..Subject::new(Per::Battery, Key::Battery(position), facts)
        }
        .touching(work.battery(position))
        .at(battery.place, work.access(battery.place))
    };
    numbered.map(subject).collect()
}

/// What can be said of a battery; nothing where there is no such one.
pub fn battery_facts(work: &Work, position: usize) -> BatteryFacts {
    let Some(battery) = work.job.batteries.get(position) else {
        return BatteryFacts::default();
    };
    let given = &battery.given;
    let units = work.job.units;
    BatteryFacts {
        name: named(&given.name),
        chemistry: given.chemistry.to_string(),
        lithium: given.chemistry == Chemistry::LithiumIronPhosphate,
        mass: given.mass.map_or_else(String::new, |m| units.mass(m)),
        tapered: given.post == PostKind::Tapered,
        boxed: work.battery(position).len() > 1,
    }
}

/// The states.
pub fn states(work: &Work) -> Vec<Subject> {
    let numbered = work.job.states.iter().enumerate();
    let subject = |(position, state): (usize, &crate::job::State)| {
        let loads = state.loads.iter().map(|load| work.job.load(*load).name());
        let facts = StateFacts {
            name: named(&state.name),
            engine: state.engine.to_string(),
            season: state.season.to_string(),
            turning: state.engine != Engine::Off,
            loads: names(loads),
        };
        Subject {
            count: state.loads.len().max(1),
            ..Subject::new(
                Per::State,
                Key::State(position),
                bare(work).with("state", &facts),
            )
        }
    };
    numbered.map(subject).collect()
}
