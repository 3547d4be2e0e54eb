//! What every lead carries: for hours, and for moments.

use super::converter;
use super::network::DrawKind;
use super::operate::Solved;
use super::solve::solve;
use super::wiring::Wiring;
use crate::job::{Duty, Engine, Job, LeadId, LoadId, Owner, State};
use crate::quantity::{Current, Duration};

/// The currents of one lead over all states.
#[derive(Debug, Clone, Default)]
pub struct LeadDuty {
    /// Largest current that flows for hours.
    pub continuous: Current,
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

    fn note(&mut self, amps: f64, time: Option<Duration>, when: &str) {
        let current = Current::from_a(amps.abs());
        match time {
            None if current > self.continuous => {
                self.continuous = current;
                when.clone_into(&mut self.continuous_in);
            }
            None => {}
            Some(time) => self.pulses.push(Pulse {
                current,
                time,
                when: when.to_owned(),
            }),
        }
    }
}

/// The duty of every lead; position = lead id.
pub fn duties(wiring: &Wiring<'_>) -> Vec<LeadDuty> {
    let job = wiring.job;
    let mut duties = vec![LeadDuty::default(); job.leads.len()];
    for state in &job.states {
        let solved = Solved::with_full_output(wiring, state);
        let time = state_time(wiring, state);
        note_all(&mut duties, &solved, time, &state.name);
        if let Some(lasting) = lasting(wiring.job, state) {
            let solved = Solved::with_full_output(wiring, &lasting);
            note_all(&mut duties, &solved, None, &lasting.name);
        }
        for load in &state.loads {
            if let Some((solved, time)) = switched_on(wiring, state, *load, &solved) {
                let when = format!("{} switched on", job.load(*load).name());
                note_all(&mut duties, &solved, Some(time), &when);
            }
        }
    }
    // A charger may give its limit for hours, whatever a long cable leaves of it today.
    for alternator in &job.alternators {
        for terminal in [alternator.positive, alternator.negative] {
            if matches!(job.terminal(terminal).owner, Owner::Alternator(_)) {
                for lead in job.leads_at(terminal) {
                    duties[lead.0].note(alternator.given.limit.a(), None, "charger at its limit");
                }
            }
        }
    }
    for (terminal, current) in converter::at_limit(wiring) {
        for lead in job.leads_at(terminal) {
            duties[lead.0].note(current.a(), None, "converter at its limit");
        }
    }
    // A pulse no larger than the continuous current decides nothing.
    for duty in &mut duties {
        let continuous = duty.continuous;
        duty.pulses.retain(|pulse| pulse.current > continuous);
    }
    duties
}

fn note_all(duties: &mut [LeadDuty], solved: &Solved, time: Option<Duration>, when: &str) {
    for (lead, duty) in duties.iter_mut().enumerate() {
        duty.note(solved.lead_amps(LeadId(lead)), time, when);
    }
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

/// How long a state lasts; `None` for hours.
fn state_time(wiring: &Wiring<'_>, state: &State) -> Option<Duration> {
    let job = wiring.job;
    let loads = state.loads.iter().map(|load| job.load(*load));
    match state.engine {
        Engine::Locked => Some(job.rules.locked_time.value),
        Engine::Cranking => {
            let given = loads.filter(|load| load.is_starter());
            let times = given.map(|load| load.given.longest.unwrap_or(job.rules.crank_time.value));
            Some(times.fold(Duration::ZERO, Duration::max))
        }
        Engine::Off | Engine::Running => {
            let short = loads.filter(|load| load.given.duty == Duty::Intermittent);
            // An intermittent load without a longest run may run for hours.
            let times: Option<Vec<Duration>> = short.map(|load| load.given.longest).collect();
            times?.into_iter().reduce(Duration::max)
        }
    }
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
    let mut network = running.network.clone();
    for draw in &mut network.draws {
        if draw.load == load {
            draw.kind = DrawKind::Amps(inrush.a());
        }
    }
    let solution = solve(&network);
    Some((Solved { network, solution }, time))
}
