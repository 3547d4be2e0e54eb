//! What no choice of sizes changes in the networks of a job, worked out once for all choices.
//!
//! Sources, loads and joints of a state are the same whatever the cables; a cable only sets the
//! resistance of its lead.

use std::sync::Arc;

use super::duty::lasting;
use super::limited::limited_feed;
use super::network::Network;
use super::solve::Solver;
use super::tolerance::{Uncertain, items, outputs};
use super::wiring::Wiring;
use crate::catalog::Catalog;
use crate::job::{Engine, Job, LeadId, Season, Speed, State};
use crate::quantity::{Current, Ratio};

/// A state's network with everything but the resistances of its leads, and what solves it.
#[derive(Debug, Clone)]
pub struct Frame {
    /// The state.
    pub state: State,
    /// What solves networks of these joints.
    pub(super) solver: Arc<Solver>,
    /// What is not known exactly of sources and loads.
    pub(super) items: Vec<Uncertain>,
    network: Network,
}

impl Frame {
    fn of(job: &Job, catalog: &Catalog, state: State) -> Self {
        let network = Network::of_state(job, catalog, &state);
        Self::with(job, catalog, state, network)
    }

    /// Of a state in which somebody measures; the outputs of converters count as uncertain too.
    pub fn measured(job: &Job, catalog: &Catalog, state: State) -> Self {
        let mut frame = Self::of(job, catalog, state);
        let outputs = outputs(job, &frame.network);
        frame.items.extend(outputs);
        frame
    }

    /// Conductors and batteries alone.
    fn of_batteries(job: &Job, catalog: &Catalog, state: State) -> Self {
        let mut network = Network::conductors(job, catalog);
        network.add_batteries(job, catalog, &state);
        Self::with(job, catalog, state, network)
    }

    fn with(job: &Job, catalog: &Catalog, state: State, network: Network) -> Self {
        Self {
            solver: Arc::new(Solver::of(&network)),
            items: items(job, catalog, &state, &network),
            state,
            network,
        }
    }

    /// The network of a job so wired, each conductor at the temperature given for its lead.
    pub fn network(&self, wiring: &Wiring<'_>, temperatures_c: &[f64]) -> Network {
        let mut network = self.network.clone();
        network.set_lead_ohms(wiring, temperatures_c);
        network
    }
}

/// The frames of all states of a job.
#[derive(Debug, Clone)]
pub struct Frames {
    /// The states, in order.
    pub states: Vec<Frame>,
    /// What stays on for hours in each of them, where it is less.
    pub lasting: Vec<Option<Frame>>,
    /// Full, warm batteries, which drive the largest current into a short.
    pub(super) strong: Frame,
    /// Cold and aged batteries, which drive the smallest.
    pub(super) weak: Frame,
    /// The most that flows in each lead that only sources with a limit feed; position = lead id.
    pub(super) limited: Vec<Option<Current>>,
}

impl Frames {
    /// The frames of a job.
    pub fn of(job: &Job, catalog: &Catalog) -> Arc<Self> {
        let frame = |state: State| Frame::of(job, catalog, state);
        let batteries =
            |season, charge| Frame::of_batteries(job, catalog, standing(season, charge));
        let mut strong = batteries(Season::Hot, Some(Ratio::from_fraction(1.0)));
        for (source, battery) in strong.network.sources.iter_mut().zip(&job.batteries) {
            if let Some(maker) = battery.given.short_circuit {
                source.ohm = source.volts / maker.a();
            }
        }
        let mut weak = batteries(Season::Cold, None);
        let aged = job.rules.aged_resistance.value.fraction();
        for source in &mut weak.network.sources {
            source.ohm *= aged;
        }
        let states = job.states.iter();
        let leads = (0..job.leads.len()).map(LeadId);
        Arc::new(Self {
            lasting: states
                .clone()
                .map(|state| lasting(job, state).map(frame))
                .collect(),
            states: states.cloned().map(frame).collect(),
            strong,
            weak,
            limited: leads.map(|lead| limited_feed(job, lead)).collect(),
        })
    }
}

/// A state in which nothing is on.
fn standing(season: Season, charge: Option<Ratio>) -> State {
    State {
        name: String::new(),
        engine: Engine::Off,
        season,
        loads: Vec::new(),
        speed: Speed::Cruise,
        dead: Vec::new(),
        charge,
    }
}
