//! What a meter should show where a part is sound, from the operation of the plan.

use serde::Serialize;

use super::subject::{Probe, Subject};
use crate::catalog::{FailureReading, Polarity};
use crate::circuit::{LeadFlow, Operation, StateResult, TerminalVolts};
use crate::job::{Engine, Job, LeadId, Owner, TerminalId};

/// An expected reading.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Reading {
    /// The state in which it is taken.
    pub state: String,
    /// Where the red probe goes.
    pub red: String,
    /// Where the black probe goes.
    pub black: String,
    /// What the meter shows as planned, in volts.
    pub volts: f64,
    /// The least and the largest over the worst corners of the state, in volts.
    pub least_v: f64,
    /// See `least_v`.
    pub most_v: f64,
    /// Current through it, where the reading is of what is lost on the way.
    pub amps: Option<f64>,
    /// Resistance across it, where the reading is of what is lost on the way.
    pub milliohm: Option<f64>,
    /// All that in a sentence.
    pub told: String,
}

/// Reads a plan.
#[derive(Debug, Clone, Copy)]
pub(super) struct Meter<'a> {
    pub job: &'a Job,
    pub operation: &'a Operation,
}

/// Below this current nothing can be told of what is lost on the way.
const LEAST_A: f64 = 0.5;

impl Meter<'_> {
    /// The reading of a failure; `None` where no state has an operating point or nothing is read.
    pub(super) fn reading(&self, kind: FailureReading, subject: &Subject) -> Option<Reading> {
        match kind {
            FailureReading::Eye => None,
            FailureReading::Battery => self.battery(subject.battery?),
            FailureReading::Beyond => self.beyond(*subject.leads.first()?),
            FailureReading::Across => match &subject.probe {
                Probe::Elements(lead, names) => self.elements(*lead, names),
                Probe::Device(device) => self.device(*device),
                Probe::Nowhere | Probe::Battery(_) => None,
            },
        }
    }

    /// States that a person can hold a meter in: that of a first instant is none.
    fn states(&self) -> impl Iterator<Item = (&StateResult, Engine)> {
        let states = self.operation.states.iter().zip(&self.job.states);
        let steady =
            states.filter(|(found, state)| found.operating_point && state.engine != Engine::Locked);
        steady.map(|(found, state)| (found, state.engine))
    }

    /// The state in which a flow is largest, cranking last: it drains the battery and moves the engine.
    fn busiest(&self, amps: impl Fn(&StateResult) -> f64) -> Option<&StateResult> {
        let largest = |cranking: bool| {
            let states = self
                .states()
                .filter(|(_, engine)| (*engine == Engine::Cranking) == cranking);
            let flows = states.map(|(state, _)| (amps(state), state));
            let flows = flows.filter(|(amps, _)| *amps >= LEAST_A);
            // The first of equals.
            flows.reduce(|best, next| if next.0 > best.0 { next } else { best })
        };
        largest(false)
            .or_else(|| largest(true))
            .map(|(_, state)| state)
    }

    fn battery(&self, index: usize) -> Option<Reading> {
        let battery = self.job.batteries.get(index)?;
        let mut states = self.states();
        let (state, _) = states
            .find(|(_, engine)| *engine == Engine::Off)
            .or_else(|| self.states().next())?;
        self.between(state, battery.positive, battery.negative)
    }

    fn flow(&self, state: &StateResult, lead: LeadId) -> f64 {
        let flow = state.leads.iter().find(|flow| flow.lead == lead);
        flow.map_or(0.0, |flow| flow.amps.abs())
    }

    /// A positive lead is read from its far end to the battery's negative post; a return from end to
    /// end, because all that it should show is what it loses.
    fn beyond(&self, id: LeadId) -> Option<Reading> {
        let lead = self.job.lead(id);
        let state = self.busiest(|state| self.flow(state, id))?;
        let negative = self.job.batteries.first().map(|battery| battery.negative);
        match (lead.polarity, negative) {
            (Polarity::Positive, Some(negative)) => {
                let far = self.far_end(state, id);
                self.between(state, far, negative)
            }
            _ => {
                let flow = state.leads.iter().find(|flow| flow.lead == id)?;
                let (from, to) = (
                    &self.job.terminal(lead.from).name,
                    &self.job.terminal(lead.to).name,
                );
                Some(lost(state, from, to, flow.drop_v.abs(), flow.amps.abs()))
            }
        }
    }

    /// The end of a lead that its current comes out of, and where that is a source's, the other.
    fn far_end(&self, state: &StateResult, id: LeadId) -> TerminalId {
        let lead = self.job.lead(id);
        let amps = state
            .leads
            .iter()
            .find(|flow| flow.lead == id)
            .map_or(0.0, |flow| flow.amps);
        let out = if amps < 0.0 { lead.from } else { lead.to };
        let is_source = matches!(self.job.terminal(out).owner, Owner::Battery(_));
        match (is_source, out == lead.to) {
            (false, _) => out,
            (true, true) => lead.from,
            (true, false) => lead.to,
        }
    }

    fn between(&self, state: &StateResult, red: TerminalId, black: TerminalId) -> Option<Reading> {
        let (red, black) = (&self.job.terminal(red).name, &self.job.terminal(black).name);
        let volts = across(&state.terminals, red, black)?;
        let corners = state.corners.iter();
        let corners = corners.filter_map(|corner| across(&corner.terminals, red, black));
        let (least, most) = corners.fold((volts, volts), |(least, most), one| {
            (least.min(one), most.max(one))
        });
        let band = if most - least >= 0.005 {
            format!(" ({least:.2} to {most:.2} V at the worst corners)")
        } else {
            String::new()
        };
        Some(Reading {
            told: format!(
                "In the state `{}`: red on `{red}`, black on `{black}`: {volts:.2} V{band}.",
                state.name
            ),
            state: state.name.clone(),
            red: red.clone(),
            black: black.clone(),
            volts,
            least_v: least,
            most_v: most,
            amps: None,
            milliohm: None,
        })
    }

    fn elements(&self, lead: LeadId, names: &[String]) -> Option<Reading> {
        let state = self.busiest(|state| self.flow(state, lead))?;
        let flow = state.leads.iter().find(|flow| flow.lead == lead)?;
        let volts = lost_on(flow, names)?;
        let mut reading = lost(state, "one side", "the other side", volts, flow.amps.abs());
        reading.told = format!(
            "In the state `{}`: one probe on each side: {}.",
            state.name,
            loss_words(volts, flow.amps.abs())
        );
        Some(reading)
    }

    fn device(&self, index: usize) -> Option<Reading> {
        let device = self.job.devices.get(index)?;
        let (input, output) = (
            &self.job.terminal(device.input).name,
            &self.job.terminal(device.output).name,
        );
        let amps = |state: &StateResult| {
            let leads = self.job.leads_at(device.output).map(|lead| {
                let flow = state.leads.iter().find(|flow| flow.lead == lead);
                let sign = if self.job.lead(lead).from == device.output {
                    1.0
                } else {
                    -1.0
                };
                flow.map_or(0.0, |flow| flow.amps * sign)
            });
            leads.sum::<f64>().abs()
        };
        let state = self.busiest(amps)?;
        let volts = across(&state.terminals, input, output)?;
        Some(lost(state, input, output, volts.abs(), amps(state)))
    }
}

fn across(terminals: &[TerminalVolts], red: &str, black: &str) -> Option<f64> {
    let at = |name: &str| {
        terminals
            .iter()
            .find(|row| row.name == name)
            .map(|row| row.volts)
    };
    Some(at(red)? - at(black)?)
}

fn lost_on(flow: &LeadFlow, names: &[String]) -> Option<f64> {
    let elements = flow
        .elements
        .iter()
        .filter(|element| names.contains(&element.name));
    let millivolts: Vec<f64> = elements.map(|element| element.millivolt.abs()).collect();
    (!millivolts.is_empty()).then(|| millivolts.iter().sum::<f64>() / 1e3)
}

fn lost(state: &StateResult, red: &str, black: &str, volts: f64, amps: f64) -> Reading {
    Reading {
        told: format!(
            "In the state `{}`: from `{red}` to `{black}`: {}.",
            state.name,
            loss_words(volts, amps)
        ),
        state: state.name.clone(),
        red: red.to_owned(),
        black: black.to_owned(),
        volts,
        least_v: volts,
        most_v: volts,
        amps: Some(amps),
        milliohm: (amps > 0.0).then(|| volts / amps * 1e3),
    }
}

fn loss_words(volts: f64, amps: f64) -> String {
    let milliohm = if amps > 0.0 { volts / amps * 1e3 } else { 0.0 };
    format!("{:.1} mV at {amps:.0} A ({milliohm:.2} mΩ)", volts * 1e3)
}
