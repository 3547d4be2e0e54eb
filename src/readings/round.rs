//! One state on one day, with what was measured in it.

use super::day::Occasion;
use super::points::{Measured, Point};
use crate::circuit::{Element, Network, Wiring};
use crate::job::LeadId;

/// A reading that was taken.
#[derive(Debug, Clone, Copy)]
pub struct Taken {
    /// Position of the point among those of the job.
    pub point: usize,
    /// What lies between the probes.
    pub measured: Measured,
    /// What the meter showed, first probe against second, in volts.
    pub volts: f64,
    /// Standard deviation of what it shows, in volts.
    pub spread_v: f64,
}

/// A state on a day, as planned, and what was measured in it.
#[derive(Debug)]
pub struct Round {
    /// The state, solved as planned.
    pub occasion: Occasion,
    /// The parts of every lead in air of that day; position = lead id.
    pub elements: Vec<Vec<Element>>,
    /// How much more a lead's conductor resists when it is warmer by the tolerance, as a part of its
    /// resistance; position = lead id.
    pub warmer: Vec<f64>,
    /// The readings.
    pub taken: Vec<Taken>,
}

impl Round {
    /// A round of readings in a state of the day's job.
    pub fn of(wiring: &Wiring<'_>, occasion: Occasion, taken: Vec<Taken>) -> Self {
        let temperatures_c = &occasion.corners.solved.temperatures_c;
        let leads = temperatures_c.iter().enumerate();
        let leads = leads.map(|(lead, celsius)| (LeadId(lead), *celsius));
        let warmth = wiring.job.rules.tolerance_temperature.value.k();
        let warmer = |(lead, celsius): (LeadId, f64)| {
            let ohm = wiring.cable_ohm(lead, celsius);
            wiring.cable_ohm(lead, celsius + warmth) / ohm.max(f64::MIN_POSITIVE) - 1.0
        };
        Self {
            elements: leads
                .clone()
                .map(|(lead, celsius)| wiring.elements(lead, celsius))
                .collect(),
            warmer: leads.map(warmer).collect(),
            occasion,
            taken,
        }
    }

    /// The network as planned.
    pub fn network(&self) -> &Network {
        &self.occasion.corners.solved.network
    }
}

impl Taken {
    /// A reading at a point.
    pub fn at(points: &[Point], point: usize, volts: f64, spread_v: f64) -> Self {
        Self {
            point,
            measured: points[point].measured,
            volts,
            spread_v,
        }
    }
}
