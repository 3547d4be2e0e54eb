//! What every lead carries: for hours, and for moments.

use std::sync::Arc;

use rayon::prelude::*;

use super::converter;
use super::corner::Corners;
use super::network::DrawKind;
use super::operate::Solved;
use super::wiring::Wiring;
use crate::heat::Times;
use crate::job::{Duty, Engine, Job, LeadId, Load, LoadId, Owner, State};
use crate::quantity::{Current, Duration};

/// The currents of one lead over all states.
#[derive(Debug, Clone, Default)]
pub struct LeadDuty {
    /// Largest current that flows for hours, at its worst corner.
    pub continuous: Current,
    /// The same with every figure as planned.
    pub planned: Current,
    /// The state in which it flows.
    pub continuous_in: String,
    /// Larger currents that flow for a time.
    pub pulses: Vec<Pulse>,
}

/// A current that flows for a time.
#[derive(Debug, Clone, PartialEq)]
pub struct Pulse {
    /// The current.
    pub current: Current,
    /// How long it flows.
    pub time: Duration,
    /// How many times it comes.
    pub times: Times,
    /// How long it rests in between.
    pub rest: Duration,
    /// The state or the moment in which it flows.
    pub when: String,
}

impl LeadDuty {
    /// The largest current of all.
    pub fn largest(&self) -> Current {
        self.pulses
            .iter()
            .map(|pulse| pulse.current)
            .fold(self.continuous, Current::max)
    }

    fn note(&mut self, flow: Flow, spell: Option<Spell>, when: &str) {
        let current = flow.worst;
        match spell {
            None if current > self.continuous => {
                self.continuous = current;
                self.planned = flow.planned;
                when.clone_into(&mut self.continuous_in);
            }
            None => {}
            Some(spell) => self.pulses.push(Pulse {
                current,
                time: spell.time,
                times: spell.times,
                rest: spell.rest,
                when: when.to_owned(),
            }),
        }
    }
}

/// A current as planned and at its worst corner.
#[derive(Debug, Clone, Copy)]
struct Flow {
    planned: Current,
    worst: Current,
}

impl Flow {
    fn exactly(current: Current) -> Self {
        Self {
            planned: current,
            worst: current,
        }
    }
}

/// How long something flows, and how often.
#[derive(Debug, Clone, Copy)]
struct Spell {
    time: Duration,
    times: Times,
    rest: Duration,
}

impl Spell {
    fn once(time: Duration) -> Self {
        Self {
            time,
            times: Times::Count(1),
            rest: Duration::ZERO,
        }
    }
}

/// The duty of every lead; position = lead id. `runs` are the job's states, solved.
pub fn duties(wiring: &Wiring<'_>, runs: &mut [Corners]) -> Vec<LeadDuty> {
    duties_where(wiring, runs, |_, _| true)
}

/// The part of every lead's duty that no choice of sizes takes from it, where `runs` are solved with
/// the thickest cables: what flows where the lead is the only way.
pub fn sure_duties(wiring: &Wiring<'_>, runs: &mut [Corners]) -> Vec<LeadDuty> {
    duties_where(wiring, runs, |solved, lead| solved.solver.is_bridge(lead))
}

/// The duty of every lead by the states in which it counts.
fn duties_where(
    wiring: &Wiring<'_>,
    runs: &mut [Corners],
    counts: fn(&Solved, usize) -> bool,
) -> Vec<LeadDuty> {
    let job = wiring.job;
    let mut duties = vec![LeadDuty::default(); job.leads.len()];
    let states = runs.par_iter_mut().enumerate();
    let found = states.map(|(state, run)| in_state(wiring, state, run, counts));
    let found: Vec<Vec<Flows>> = found.collect();
    for flows in found.into_iter().flatten() {
        for (lead, flow) in flows.leads {
            duties[lead].note(flow, flows.spell, &flows.when);
        }
    }
    // A charger may give its limit for hours, whatever a long cable leaves of it today.
    for alternator in &job.alternators {
        for terminal in [alternator.positive, alternator.negative] {
            if matches!(job.terminal(terminal).owner, Owner::Alternator(_)) {
                for lead in job.leads_at(terminal) {
                    let limit = Flow::exactly(alternator.given.limit);
                    duties[lead.0].note(limit, None, "charger at its limit");
                }
            }
        }
    }
    for (terminal, current) in converter::at_limit(wiring) {
        for lead in job.leads_at(terminal) {
            duties[lead.0].note(Flow::exactly(current), None, "converter at its limit");
        }
    }
    // A pulse no larger than the continuous current decides nothing.
    for duty in &mut duties {
        let continuous = duty.continuous;
        duty.pulses.retain(|pulse| pulse.current > continuous);
    }
    duties
}

/// The moment at which a load is switched on, in words.
pub fn switched_on_words(load: &str) -> String {
    format!("{load} switched on")
}

/// What flows in the leads that count at one time.
struct Flows {
    leads: Vec<(usize, Flow)>,
    spell: Option<Spell>,
    when: String,
}

/// What flows in a state, in its lasting part, and when its loads are switched on.
fn in_state(
    wiring: &Wiring<'_>,
    position: usize,
    run: &mut Corners,
    counts: fn(&Solved, usize) -> bool,
) -> Vec<Flows> {
    let (job, frames) = (wiring.job, &wiring.frames);
    let frame = &frames.states[position];
    let state = &frame.state;
    let mut full = Corners::at_full_output(wiring, frame, run);
    let run = full.as_mut().unwrap_or(run);
    let spell = state_spell(job, state);
    let mut found = vec![Flows::at_worst(run, spell, &state.name, counts)];
    if let Some(lasting) = &frames.lasting[position] {
        let mut run = Corners::of(wiring, lasting);
        let mut full = Corners::at_full_output(wiring, lasting, &run);
        let run = full.as_mut().unwrap_or(&mut run);
        found.push(Flows::at_worst(run, None, &lasting.state.name, counts));
    }
    for load in &state.loads {
        if let Some((solved, time)) = switched_on(wiring, state, *load, &run.solved) {
            let exactly = |lead| Flow::exactly(planned(&solved, lead));
            found.push(Flows {
                leads: in_leads(&solved, counts, exactly),
                spell: Some(Spell::once(time)),
                when: switched_on_words(job.load(*load).name()),
            });
        }
    }
    found
}

impl Flows {
    /// What flows in a state, as planned and at its worst corner.
    fn at_worst(
        run: &mut Corners,
        spell: Option<Spell>,
        when: &str,
        counts: fn(&Solved, usize) -> bool,
    ) -> Self {
        let solved = Arc::clone(&run.solved);
        let flow = |lead: usize| Flow {
            planned: planned(&solved, lead),
            // Leads are the first branches, in order.
            worst: Current::from_a(run.most_amps(lead)),
        };
        Self {
            leads: in_leads(&solved, counts, flow),
            spell,
            when: when.to_owned(),
        }
    }
}

fn planned(solved: &Solved, lead: usize) -> Current {
    Current::from_a(solved.lead_amps(LeadId(lead)).abs())
}

/// What flows in each of the leads that count.
fn in_leads(
    solved: &Solved,
    counts: fn(&Solved, usize) -> bool,
    mut flow: impl FnMut(usize) -> Flow,
) -> Vec<(usize, Flow)> {
    let leads = 0..solved.temperatures_c.len();
    let counting = leads.filter(|lead| counts(solved, *lead));
    counting.map(|lead| (lead, flow(lead))).collect()
}

/// Whether the currents of a state flow for hours.
pub fn is_lasting(job: &Job, state: &State) -> bool {
    state_spell(job, state).is_none()
}

/// What stays on for hours in a state that does not itself last: the same without its loads of
/// short runs. `None` while the engine is turned, and where nothing is left out.
pub fn lasting(job: &Job, state: &State) -> Option<State> {
    let lasts = |load: &LoadId| {
        let given = &job.load(*load).given;
        given.duty == Duty::Continuous || given.longest.is_none()
    };
    let loads: Vec<LoadId> = state.loads.iter().copied().filter(lasts).collect();
    let turning = matches!(state.engine, Engine::Cranking | Engine::Locked);
    (!turning && loads.len() < state.loads.len()).then(|| State {
        name: format!("{}, what stays on", state.name),
        loads,
        ..state.clone()
    })
}

/// How long a state lasts and how often it comes; `None` for hours.
fn state_spell(job: &Job, state: &State) -> Option<Spell> {
    match state.engine {
        Engine::Locked => Some(cranked(job, state, job.rules.locked_time.value)),
        Engine::Cranking => {
            let given = starters(job, state).map(|load| load.given.longest);
            let times = given.map(|longest| longest.unwrap_or(job.rules.crank_time.value));
            Some(cranked(
                job,
                state,
                times.fold(Duration::ZERO, Duration::max),
            ))
        }
        Engine::Off | Engine::Running => short_runs(job, state),
    }
}

fn starters<'a>(job: &'a Job, state: &'a State) -> impl Iterator<Item = &'a Load> {
    let loads = state.loads.iter().map(|load| job.load(*load));
    loads.filter(|load| load.is_starter())
}

/// A try to crank, as often as the setting has it, with the shortest rest of any starter.
fn cranked(job: &Job, state: &State, time: Duration) -> Spell {
    let usual = job.rules.crank_rest.value;
    let rests = starters(job, state).map(|load| load.given.rest.unwrap_or(usual));
    Spell {
        time,
        times: Times::Count(job.rules.crank_tries.value),
        rest: rests.reduce(Duration::min).unwrap_or(usual),
    }
}

/// The longest run of the loads that run for a time. They come again and again where any of them
/// does, with the shortest rest, as if all came together, which is cautious.
fn short_runs(job: &Job, state: &State) -> Option<Spell> {
    let loads = state.loads.iter().map(|load| &job.load(*load).given);
    let short = loads.filter(|given| given.duty == Duty::Intermittent);
    // An intermittent load without a longest run may run for hours.
    let times: Option<Vec<Duration>> = short.clone().map(|given| given.longest).collect();
    let time = times?.into_iter().reduce(Duration::max)?;
    let rest = short.filter_map(|given| given.rest).reduce(Duration::min);
    Some(match rest {
        None => Spell::once(time),
        Some(rest) => Spell {
            time,
            times: Times::WithoutEnd,
            rest,
        },
    })
}

/// The state at the moment when a load is switched on.
fn switched_on(
    wiring: &Wiring<'_>,
    state: &State,
    load: LoadId,
    running: &Solved,
) -> Option<(Solved, Duration)> {
    if matches!(state.engine, Engine::Cranking | Engine::Locked) {
        return None;
    }
    let given = &wiring.job.load(load).given;
    let (inrush, time) = (given.inrush?, given.inrush_time?);
    let mut solved = running.clone();
    for draw in &mut solved.network.draws {
        if draw.load == load {
            draw.kind = DrawKind::Amps(inrush.a());
        }
    }
    solved.solution = solved.solver.solve(&solved.network);
    Some((solved, time))
}
