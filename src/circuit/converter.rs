//! Converters: a regulated output with a current limit, fed by constant power at the input.

use std::sync::Arc;

use super::network::{Network, REGULATOR_OHM, Source};
use super::wiring::Wiring;
use crate::catalog::{Assumption, Catalog};
use crate::job::{ConverterKind, Engine, Job, Owner, State, TerminalId};
use crate::quantity::{Current, Voltage};

/// A converter in a network: what goes in follows from what goes out.
#[derive(Debug, Clone)]
pub struct Converter {
    /// Its name.
    pub name: Arc<str>,
    /// Its position in the job.
    pub index: usize,
    /// Nodes of its input, positive and negative.
    pub input: (usize, usize),
    /// Nodes of its output, positive and negative.
    pub output: (usize, usize),
    /// Voltage that the output is regulated to.
    pub volts: f64,
    /// Slope of the regulator.
    pub ohm: f64,
    /// Most current that it gives.
    pub limit_a: f64,
    /// Part of the power taken in that it gives out.
    pub efficiency: f64,
    /// Nominal voltage of what feeds it.
    pub nominal_v: f64,
    /// Below this input voltage it no longer works as stated, and is taken as a resistance.
    pub floor_v: f64,
    /// Whether a battery helps to feed its output, so that it may rest at its limit.
    pub backed: bool,
}

/// What flows at given volts, and how it grows with them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flow {
    /// Amperes into the input.
    pub input_a: f64,
    /// Amperes out of the output.
    pub output_a: f64,
    /// Growth of the input's amperes with the volts of the input.
    pub input_by_input: f64,
    /// Growth of the input's amperes with the volts of the output.
    pub input_by_output: f64,
    /// Growth of the output's amperes with the volts of the output; those of the input do not
    /// count, for the output is regulated.
    pub output_by_output: f64,
}

impl Converter {
    /// What flows at the volts of input and output.
    pub fn flow(&self, input_v: f64, output_v: f64) -> Flow {
        let (output_a, output_by_output) = self.as_source().current(output_v);
        // A reversed output takes nothing in, and gives nothing back to the input.
        let (watts, watts_by_output) = if output_v > 0.0 {
            let by_output = output_a + output_v * output_by_output;
            (
                output_v * output_a / self.efficiency,
                by_output / self.efficiency,
            )
        } else {
            (0.0, 0.0)
        };
        // Amperes for each watt, and how they grow with the volts.
        let (each, each_by_input) = if input_v < self.floor_v {
            let slope = 1.0 / (self.floor_v * self.floor_v);
            (slope * input_v, slope)
        } else {
            (1.0 / input_v, -1.0 / (input_v * input_v))
        };
        Flow {
            input_a: watts * each,
            output_a,
            input_by_input: watts * each_by_input,
            input_by_output: watts_by_output * each,
            output_by_output,
        }
    }

    /// Its output as a source.
    pub fn as_source(&self) -> Source {
        Source {
            name: self.name.clone(),
            positive: self.output.0,
            negative: self.output.1,
            volts: self.volts,
            ohm: self.ohm,
            limit_a: Some(self.limit_a),
        }
    }
}

impl Network {
    /// Adds every converter that is on in a state.
    pub fn add_converters(&mut self, job: &Job, catalog: &Catalog, state: &State) {
        if job.converters.is_empty() {
            return;
        }
        let supply = SupplyVolts::of(job);
        for (index, converter) in job.converters.iter().enumerate() {
            let given = &converter.given;
            if given.kind == ConverterKind::Charger && state.engine != Engine::Running {
                continue;
            }
            let assumed = || catalog.assumed(Assumption::ConverterEfficiency).value;
            let nominal_v = supply.at(converter.input).v();
            let part = self.floor_v / job.system_voltage.v();
            let same_side = |source: &Source| {
                source.limit_a.is_none()
                    && supply.joined(TerminalId(source.positive), converter.output)
            };
            self.converters.push(Converter {
                name: given.name.value.as_str().into(),
                index,
                input: (converter.input.0, converter.input_return.0),
                output: (converter.output.0, converter.output_return.0),
                volts: given.output.v(),
                ohm: REGULATOR_OHM,
                limit_a: given.limit.a(),
                efficiency: given.efficiency.unwrap_or_else(assumed).fraction(),
                nominal_v,
                floor_v: nominal_v * part,
                backed: self.sources.iter().any(same_side),
            });
        }
    }
}

/// The nominal voltage of each part of the wiring: that of the system, or of the converter that
/// feeds it.
#[derive(Debug)]
pub struct SupplyVolts {
    groups: Vec<usize>,
    fed: Vec<(usize, Voltage)>,
    system: Voltage,
}

impl SupplyVolts {
    /// For a job.
    pub fn of(job: &Job) -> Self {
        let groups = if job.converters.is_empty() {
            Vec::new()
        } else {
            job.groups()
        };
        let outputs = job.converters.iter();
        let fed = outputs.map(|converter| (groups[converter.output.0], converter.nominal()));
        Self {
            fed: fed.collect(),
            groups,
            system: job.system_voltage,
        }
    }

    /// At a positive terminal.
    pub fn at(&self, terminal: TerminalId) -> Voltage {
        let group = self.groups.get(terminal.0);
        let mut fed = self.fed.iter();
        let own = fed.find(|(fed, _)| Some(fed) == group);
        own.map_or(self.system, |(_, volts)| *volts)
    }

    fn joined(&self, a: TerminalId, b: TerminalId) -> bool {
        self.groups.get(a.0) == self.groups.get(b.0)
    }
}

/// Every terminal of a converter with the current that flows there while it gives its limit from an
/// input at nominal voltage. The common return may carry as much as the larger of the two.
pub fn at_limit(wiring: &Wiring<'_>) -> Vec<(TerminalId, Current)> {
    let job = wiring.job;
    let supply = SupplyVolts::of(job);
    let assumed = wiring
        .catalog
        .assumed(Assumption::ConverterEfficiency)
        .value;
    let mut all = Vec::new();
    for converter in &job.converters {
        let given = &converter.given;
        let efficiency = given.efficiency.unwrap_or(assumed).fraction();
        let watts = given.output.v() * given.limit.a() / efficiency;
        let input = Current::from_a(watts / supply.at(converter.input).v());
        all.extend([
            (converter.input, input),
            (converter.output, given.limit),
            (converter.input_return, input),
            (converter.output_return, given.limit),
        ]);
    }
    // A case bolted to the body shares its way back with others.
    all.retain(|(terminal, _)| matches!(job.terminal(*terminal).owner, Owner::Converter(_)));
    all
}

#[cfg(test)]
mod tests {
    use super::super::network::{Draw, DrawKind};
    use super::super::solve::Solver;
    use super::*;
    use crate::job::LoadId;

    fn converter() -> Converter {
        Converter {
            name: "converter".into(),
            index: 0,
            input: (1, 0),
            output: (2, 3),
            volts: 12.0,
            ohm: REGULATOR_OHM,
            limit_a: 10.0,
            efficiency: 0.8,
            nominal_v: 24.0,
            floor_v: 12.0,
            backed: false,
        }
    }

    /// A battery of 24 V behind 0.1 ohm, and a load on the isolated output.
    fn network(kind: DrawKind) -> Network {
        let battery = Source {
            name: "battery".into(),
            positive: 1,
            negative: 0,
            volts: 24.0,
            ohm: 0.1,
            limit_a: None,
        };
        let draw = Draw {
            load: LoadId(0),
            name: "load".into(),
            positive: 2,
            negative: 3,
            kind,
            supply: 0.5,
        };
        Network {
            nodes: 4,
            branches: Vec::new(),
            sources: vec![battery],
            draws: vec![draw],
            converters: vec![converter()],
            floor_v: 12.0,
        }
    }

    fn solved(kind: DrawKind) -> (f64, f64) {
        let network = network(kind);
        let solution = Solver::of(&network).solve(&network);
        assert!(solution.converged);
        let volts = solution.volts;
        (volts[1] - volts[0], volts[2] - volts[3])
    }

    #[test]
    fn what_goes_in_is_what_goes_out_and_what_is_lost() {
        let (input_v, output_v) = solved(DrawKind::Ohms(2.0));
        let flow = converter().flow(input_v, output_v);
        assert!((output_v - 12.0).abs() < 0.01);
        let given = output_v * flow.output_a;
        assert!((flow.input_a * input_v * 0.8 - given).abs() < 1e-9);
        assert!((input_v - (24.0 - 0.1 * flow.input_a)).abs() < 1e-9);
    }

    #[test]
    fn at_its_limit_it_holds_the_current_and_lets_the_voltage_sink() {
        let (_, output_v) = solved(DrawKind::Ohms(0.9));
        assert!((output_v - 9.0).abs() < 1e-9);
    }

    #[test]
    fn a_load_of_more_than_its_limit_collapses() {
        let (_, output_v) = solved(DrawKind::Amps(15.0));
        assert!(output_v < 6.0, "{output_v}");
    }

    #[test]
    fn it_never_takes_current_back() {
        let flow = converter().flow(24.0, 13.0);
        assert_eq!((flow.input_a, flow.output_a), (0.0, 0.0));
    }

    #[test]
    fn the_slopes_are_those_of_the_flows() {
        const STEP: f64 = 1e-6;
        let converter = converter();
        for (input_v, output_v) in [(24.0, 11.995), (20.0, 9.0), (8.0, 11.995), (5.0, 3.0)] {
            let here = converter.flow(input_v, output_v);
            let by_input = converter.flow(input_v + STEP, output_v);
            let by_output = converter.flow(input_v, output_v + STEP);
            let slope = |after: f64, before: f64| (after - before) / STEP;
            let pairs = [
                (here.input_by_input, slope(by_input.input_a, here.input_a)),
                (here.input_by_output, slope(by_output.input_a, here.input_a)),
                (
                    here.output_by_output,
                    slope(by_output.output_a, here.output_a),
                ),
            ];
            for (told, found) in pairs {
                assert!(
                    (told - found).abs() < 1e-3 * told.abs().max(1.0),
                    "{told} {found}"
                );
            }
        }
    }
}
