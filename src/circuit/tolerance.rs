//! What the figures of a network may be instead.
//!
//! Nobody knows the charge of a battery or the resistance of a joint exactly. Every such figure has
//! a low and a high end; the rules of the setting say how far apart they lie.

use super::battery;
use super::network::{BranchOwner, Network};
use super::wiring::Wiring;
use crate::catalog::Catalog;
use crate::file::words;
use crate::job::{Job, State};
use crate::quantity::{Ratio, Temperature};

words! {
    /// What makes a figure uncertain.
    pub enum Doubt as "a doubt" {
        /// The length of cables.
        Length = "the length of the cables",
        /// The resistance of conductors.
        Conductor = "the conductors' resistance",
        /// The resistance of joints.
        Joints = "the joints' resistance",
        /// How warm conductors are.
        Warmth = "how warm the cables are",
        /// What loads draw.
        Load = "what the loads draw",
        /// The charge of batteries.
        Charge = "the batteries' charge",
        /// The resistance of batteries.
        Battery = "the batteries' resistance",
        /// The regulated voltage.
        Regulation = "the regulated voltage",
    }
}

/// A figure of a network.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Figure {
    /// Resistance of a branch, by position.
    BranchOhm(usize),
    /// Voltage of a source, by position.
    SourceVolts(usize),
    /// Resistance of a source, by position.
    SourceOhm(usize),
    /// What a load draws, as a factor, by position.
    Draw(usize),
    /// Voltage that a converter regulates to, by position.
    ConverterVolts(usize),
}

/// A figure with its ends.
#[derive(Debug, Clone, Copy)]
pub struct Uncertain {
    /// Which figure.
    pub figure: Figure,
    /// Its lower end.
    pub low: f64,
    /// Its upper end.
    pub high: f64,
    /// Half the distance of the ends, by what makes it.
    pub doubts: [Option<(Doubt, f64)>; MOST_DOUBTS],
}

/// A figure is uncertain for no more reasons than a lead's resistance.
const MOST_DOUBTS: usize = 4;

fn doubts<const COUNT: usize>(given: [(Doubt, f64); COUNT]) -> [Option<(Doubt, f64)>; MOST_DOUBTS] {
    std::array::from_fn(|position| given.get(position).copied())
}

/// Every figure of a state's network that is not known exactly; `items` are those of its sources
/// and loads.
pub fn uncertain(
    wiring: &Wiring<'_>,
    network: &Network,
    temperatures_c: &[f64],
    items: &[Uncertain],
) -> Vec<Uncertain> {
    let mut all = branches(wiring, network, temperatures_c);
    all.retain(|item| item.high > item.low);
    all.extend_from_slice(items);
    all
}

/// The figures of sources and loads that are not known exactly.
pub fn items(job: &Job, catalog: &Catalog, state: &State, network: &Network) -> Vec<Uncertain> {
    let mut all = batteries(job, catalog, state, network);
    all.extend(regulators(job, network));
    let load = job.rules.tolerance_load.value.fraction();
    all.extend((0..network.draws.len()).map(|index| Uncertain {
        figure: Figure::Draw(index),
        low: 1.0 - load,
        high: 1.0 + load,
        doubts: doubts([(Doubt::Load, load)]),
    }));
    all.retain(|item| item.high > item.low);
    all
}

fn branches(wiring: &Wiring<'_>, network: &Network, temperatures_c: &[f64]) -> Vec<Uncertain> {
    let rules = &wiring.job.rules;
    let length = rules.tolerance_length.value.fraction();
    let conductor = rules.tolerance_conductor.value.fraction();
    let joint = rules.tolerance_joint.value.fraction();
    let warmth = rules.tolerance_temperature.value.k();
    let of_branch = |(index, branch): (usize, &super::network::Branch)| {
        let doubts = match branch.owner {
            BranchOwner::Lead(lead) => {
                let celsius = temperatures_c.get(lead.0).copied().unwrap_or(20.0);
                let ohms = wiring.lead_ohms(lead, celsius);
                let warmer = wiring.cable_ohm(lead, celsius + warmth) - ohms.cable;
                doubts([
                    (Doubt::Length, ohms.cable * length),
                    (Doubt::Conductor, ohms.cable * conductor),
                    (Doubt::Warmth, warmer),
                    (Doubt::Joints, (ohms.joints + ohms.guard) * joint),
                ])
            }
            // What the user measured, and what a device's maker states, is as uncertain as a joint.
            BranchOwner::Bond(_) | BranchOwner::Device(_) => {
                doubts([(Doubt::Joints, branch.ohm * joint)])
            }
            BranchOwner::Fault => doubts([]),
        };
        let half: f64 = doubts.iter().flatten().map(|(_, half)| half).sum();
        Uncertain {
            figure: Figure::BranchOhm(index),
            low: branch.ohm - half,
            high: branch.ohm + half,
            doubts,
        }
    };
    let numbered = network.branches.iter().enumerate();
    numbered.map(of_branch).collect()
}

fn batteries(job: &Job, catalog: &Catalog, state: &State, network: &Network) -> Vec<Uncertain> {
    let rules = &job.rules;
    let charge_off = rules.tolerance_charge.value.fraction();
    let ohm_off = rules.tolerance_battery.value.fraction();
    let warmth = rules.tolerance_temperature.value.k();
    let temperature = battery::temperature(job, state.season);
    let mut all = Vec::new();
    let sources = network.sources.iter().enumerate();
    for (index, source) in sources {
        let same = |battery: &&crate::job::Battery| battery.given.name.value == *source.name;
        let Some(battery) = job.batteries.iter().find(same) else {
            continue;
        };
        let charge = state.charge.unwrap_or(battery.given.charge).fraction();
        let at = |charge: f64, kelvin: f64| {
            let charge = Ratio::from_fraction(charge.clamp(0.0, 1.0));
            let celsius = Temperature::from_c(temperature.c() + kelvin);
            battery::model(&battery.given, charge, celsius, catalog)
        };
        let (low, high) = (
            at(charge - charge_off, 0.0).0,
            at(charge + charge_off, 0.0).0,
        );
        all.push(Uncertain {
            figure: Figure::SourceVolts(index),
            low,
            high,
            doubts: doubts([(Doubt::Charge, (high - low) / 2.0)]),
        });
        let (warm, cold) = (at(charge, warmth).1, at(charge, -warmth).1);
        all.push(Uncertain {
            figure: Figure::SourceOhm(index),
            low: warm * (1.0 - ohm_off),
            high: cold * (1.0 + ohm_off),
            doubts: doubts([
                (Doubt::Battery, source.ohm * ohm_off),
                (Doubt::Warmth, (cold - warm) / 2.0),
            ]),
        });
    }
    all
}

fn regulators(job: &Job, network: &Network) -> Vec<Uncertain> {
    let off = job.rules.tolerance_regulation.value.fraction();
    let sources = network.sources.iter().enumerate();
    let regulated = sources.filter(|(_, source)| source.limit_a.is_some());
    regulated
        .map(|(index, source)| Uncertain {
            figure: Figure::SourceVolts(index),
            low: source.volts * (1.0 - off),
            high: source.volts * (1.0 + off),
            doubts: doubts([(Doubt::Regulation, source.volts * off)]),
        })
        .collect()
}

/// The voltages that converters regulate to; uncertain like those of alternators.
pub fn outputs(job: &Job, network: &Network) -> Vec<Uncertain> {
    let off = job.rules.tolerance_regulation.value.fraction();
    let converters = network.converters.iter().enumerate();
    converters
        .map(|(index, converter)| Uncertain {
            figure: Figure::ConverterVolts(index),
            low: converter.volts * (1.0 - off),
            high: converter.volts * (1.0 + off),
            doubts: doubts([(Doubt::Regulation, converter.volts * off)]),
        })
        .collect()
}

impl Network {
    /// Puts a figure in place of the nominal one.
    pub fn put(&mut self, figure: Figure, value: f64) {
        match figure {
            Figure::BranchOhm(index) => self.branches[index].ohm = value,
            Figure::SourceVolts(index) => self.sources[index].volts = value,
            Figure::SourceOhm(index) => self.sources[index].ohm = value,
            Figure::ConverterVolts(index) => self.converters[index].volts = value,
            Figure::Draw(index) => {
                let draw = &mut self.draws[index];
                draw.kind = draw.kind.times(value);
            }
        }
    }
}
