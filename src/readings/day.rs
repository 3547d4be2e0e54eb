//! The vehicle on the day on which somebody measures: everything as warm as the air, batteries at
//! the charge that the job gives them.

use crate::circuit::{Corners, Frame, Wiring};
use crate::job::{Duty, Engine, Job, LoadId, Season, State};
use crate::quantity::Temperature;

/// The job on a day: the same, in air of one temperature. States are of that day, whatever their
/// own season and charge.
pub fn on_the_day(job: &Job, air: Temperature) -> Job {
    let mut day = job.clone();
    (day.cold, day.hot) = (air, air);
    for state in &mut day.states {
        // Conductors are still as warm as the air when the meter is read.
        state.season = Season::Cold;
        state.charge = None;
    }
    day
}

/// A state with its network solved, and the corners of its figures.
#[derive(Debug)]
pub struct Occasion {
    /// Position of the state in the job.
    pub state: usize,
    /// Its network, and the corners looked at so far.
    pub corners: Corners,
}

impl Occasion {
    /// Solves a state of a job as it is on a day.
    pub fn of(wiring: &Wiring<'_>, state: usize) -> Self {
        let given = wiring.job.states[state].clone();
        let frame = Frame::measured(wiring.job, wiring.catalog, given);
        Self {
            state,
            corners: Corners::of(wiring, &frame),
        }
    }

    /// Whether everything works in it.
    pub fn works(&self) -> bool {
        let solved = &self.corners.solved;
        solved.solution.converged && solved.collapsed().is_empty()
    }
}

/// Why nobody can hold a meter in a state; `None` where it can be done.
pub fn hindrance(state: &State) -> Option<&'static str> {
    if state.engine == Engine::Locked {
        Some("the first instant is over before a hand meter shows it")
    } else if !state.dead.is_empty() {
        Some("it supposes that a battery is dead")
    } else {
        None
    }
}

/// Whether a state can last while one walks round with a meter.
pub fn lasts(job: &Job, state: &State) -> bool {
    let short = |load: &LoadId| job.load(*load).given.duty == Duty::Intermittent;
    state.engine != Engine::Cranking && !state.loads.iter().any(short)
}
