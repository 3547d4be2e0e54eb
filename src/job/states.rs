//! The usual states, made from the loads where the job gives none.

use super::id::LoadId;
use super::model::{Job, State};
use super::words::{Duty, Engine, Season, Speed};

/// Adds the usual states to a job without any, and the starters to every state that cranks.
pub fn complete(job: &mut Job) {
    if job.states.is_empty() {
        job.states = usual(job);
    }
    let starters: Vec<LoadId> = loads(job, |load| load.is_starter());
    for state in &mut job.states {
        if matches!(state.engine, Engine::Cranking | Engine::Locked) {
            for starter in &starters {
                if !state.loads.contains(starter) {
                    state.loads.push(*starter);
                }
            }
        }
    }
}

fn loads(job: &Job, wanted: impl Fn(&super::Load) -> bool) -> Vec<LoadId> {
    let numbered = job.loads.iter().enumerate();
    numbered
        .filter(|(_, load)| wanted(load))
        .map(|(index, _)| LoadId(index))
        .collect()
}

fn usual(job: &Job) -> Vec<State> {
    let state = |name: &str, engine, season, loads| State {
        name: name.to_owned(),
        engine,
        season,
        loads,
        speed: Speed::Cruise,
        dead: Vec::new(),
        charge: None,
    };
    let sensitive = loads(job, |load| load.given.sensitive);
    let running = loads(job, |load| {
        load.given.duty == Duty::Continuous && !load.is_starter()
    });
    let mut states = Vec::new();
    if job.loads.iter().any(super::Load::is_starter) {
        states.push(state(
            "cold crank, first instant",
            Engine::Locked,
            Season::Cold,
            sensitive.clone(),
        ));
        states.push(state(
            "cold crank",
            Engine::Cranking,
            Season::Cold,
            sensitive,
        ));
    }
    let charged = !job.alternators.is_empty();
    if charged {
        states.push(state(
            "charging, all on",
            Engine::Running,
            Season::Hot,
            running.clone(),
        ));
    }
    if !job.batteries.is_empty() && !running.is_empty() {
        states.push(state(
            "engine off, all on",
            Engine::Off,
            Season::Hot,
            running.clone(),
        ));
    }
    let engine = if charged {
        Engine::Running
    } else {
        Engine::Off
    };
    for (index, load) in job.loads.iter().enumerate() {
        if load.given.duty == Duty::Intermittent && !load.is_starter() {
            let mut on = running.clone();
            on.push(LoadId(index));
            let name = format!("{} in use", load.given.name.value);
            states.push(state(&name, engine, Season::Hot, on));
        }
    }
    states
}
