//! The network of a job in one state: nodes, branches, sources and loads.

use std::sync::Arc;

use super::alternator;
use super::battery;
use super::converter::{Converter, SupplyVolts};
use super::wiring::Wiring;
use crate::catalog::Catalog;
use crate::job::{BatteryId, Demand, Engine, Job, LeadId, LoadId, State, TerminalId};

/// A network ready to be solved. Nodes are the job's terminals, by position.
#[derive(Debug, Clone)]
pub struct Network {
    /// Number of nodes.
    pub nodes: usize,
    /// Conductors between nodes.
    pub branches: Vec<Branch>,
    /// Batteries and alternators.
    pub sources: Vec<Source>,
    /// What the loads draw.
    pub draws: Vec<Draw>,
    /// Converters.
    pub converters: Vec<Converter>,
    /// Below this voltage a load of fixed current or power no longer works as stated, and is taken
    /// as a resistance.
    pub floor_v: f64,
}

/// What a branch belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BranchOwner {
    /// A lead.
    Lead(LeadId),
    /// A bond, by position.
    Bond(usize),
    /// A switch, contactor or connector, by position.
    Device(usize),
    /// A fault put in to see what flows.
    Fault,
}

/// A resistance between two nodes.
#[derive(Debug, Clone, Copy)]
pub struct Branch {
    /// What it belongs to.
    pub owner: BranchOwner,
    /// Node at its start.
    pub from: usize,
    /// Node at its end.
    pub to: usize,
    /// Resistance from end to end; more than nothing.
    pub ohm: f64,
}

/// A battery or an alternator.
#[derive(Debug, Clone)]
pub struct Source {
    /// Its name.
    pub name: Arc<str>,
    /// Node of its positive terminal.
    pub positive: usize,
    /// Node of its negative terminal.
    pub negative: usize,
    /// Voltage without current.
    pub volts: f64,
    /// Resistance in series.
    pub ohm: f64,
    /// Most current it gives, for an alternator, which also takes none back.
    pub limit_a: Option<f64>,
}

impl Source {
    /// Current given at a voltage between the terminals, and its slope in amperes per volt.
    pub fn current(&self, volts: f64) -> (f64, f64) {
        let amps = (self.volts - volts) / self.ohm;
        match self.limit_a {
            Some(_) if amps < 0.0 => (0.0, 0.0),
            Some(limit) if amps > limit => (limit, 0.0),
            _ => (amps, -1.0 / self.ohm),
        }
    }
}

/// A load that is on.
#[derive(Debug, Clone)]
pub struct Draw {
    /// Which load.
    pub load: LoadId,
    /// Its name.
    pub name: Arc<str>,
    /// Node of its positive terminal.
    pub positive: usize,
    /// Node of its negative terminal.
    pub negative: usize,
    /// What it draws.
    pub kind: DrawKind,
    /// Nominal voltage of what feeds it, as a part of the system's.
    pub supply: f64,
}

/// How a load draws.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum DrawKind {
    /// A fixed current in amperes.
    Amps(f64),
    /// A fixed power in watts.
    Watts(f64),
    /// A resistance in ohms.
    Ohms(f64),
}

impl DrawKind {
    /// The same for a load that draws so many times as much.
    #[must_use]
    pub fn times(self, factor: f64) -> Self {
        match self {
            Self::Amps(amps) => Self::Amps(amps * factor),
            Self::Watts(watts) => Self::Watts(watts * factor),
            Self::Ohms(ohm) => Self::Ohms(ohm / factor),
        }
    }
}

impl Draw {
    /// Current drawn at a voltage between the terminals, and its slope in amperes per volt.
    ///
    /// `floor_v` is that of the network.
    pub fn current(&self, volts: f64, floor_v: f64) -> (f64, f64) {
        let floor_v = self.floor_v(floor_v);
        let folded = volts < floor_v;
        match self.kind {
            DrawKind::Ohms(ohm) => (volts / ohm, 1.0 / ohm),
            DrawKind::Amps(amps) if folded => (amps * volts / floor_v, amps / floor_v),
            DrawKind::Amps(amps) => (amps, 0.0),
            DrawKind::Watts(watts) if folded => {
                let slope = watts / (floor_v * floor_v);
                (slope * volts, slope)
            }
            DrawKind::Watts(watts) => (watts / volts, -watts / (volts * volts)),
        }
    }

    /// Whether it has too little voltage to work as stated.
    pub fn collapsed(&self, volts: f64, floor_v: f64) -> bool {
        !matches!(self.kind, DrawKind::Ohms(_)) && volts < self.floor_v(floor_v)
    }

    /// The voltage below which it no longer works as stated.
    pub fn floor_v(&self, network_floor_v: f64) -> f64 {
        network_floor_v * self.supply
    }
}

/// Alternators regulate at their terminals; this small resistance stands for the slope of the
/// regulator. Judgement.
pub(super) const REGULATOR_OHM: f64 = 1e-3;

/// Part of the system voltage below which loads no longer work as stated. Judgement.
const FLOOR: f64 = 0.5;

impl Network {
    /// The network of a job in a state, the resistances of its leads left open.
    pub fn of_state(job: &Job, catalog: &Catalog, state: &State) -> Self {
        let mut network = Self::conductors(job, catalog);
        network.add_batteries(job, catalog, state);
        if state.engine == Engine::Running {
            network.add_alternators(job, catalog, state);
        }
        network.add_converters(job, catalog, state);
        let supply = SupplyVolts::of(job);
        for load in &state.loads {
            network.add_draw(job, *load, state.engine, &supply);
        }
        network
    }

    /// The pairs of nodes that something joins.
    pub fn pairs(&self) -> impl Iterator<Item = (usize, usize)> {
        let draws = self.draws.iter();
        let converters = self.converters.iter();
        self.conductor_pairs()
            .chain(self.source_pairs())
            .chain(draws.map(|draw| (draw.positive, draw.negative)))
            .chain(converters.flat_map(|converter| [converter.input, converter.output]))
    }

    /// The pairs of nodes that conductors join.
    pub fn conductor_pairs(&self) -> impl Iterator<Item = (usize, usize)> {
        self.branches.iter().map(|branch| (branch.from, branch.to))
    }

    /// The poles of every battery and alternator.
    pub fn source_pairs(&self) -> impl Iterator<Item = (usize, usize)> {
        let sources = self.sources.iter();
        sources.map(|source| (source.positive, source.negative))
    }

    /// The pairs of nodes between which a converter passes power on without joining them.
    pub fn transfers(&self) -> impl Iterator<Item = (usize, usize)> {
        let converters = self.converters.iter();
        converters.flat_map(|converter| {
            let (input, output) = (converter.input, converter.output);
            [
                (input.0, output.0),
                (input.0, output.1),
                (input.1, output.0),
                (input.1, output.1),
            ]
        })
    }

    /// Whether one step solves it: batteries and resistances alone.
    pub fn is_linear(&self) -> bool {
        let ohms = |draw: &Draw| matches!(draw.kind, DrawKind::Ohms(_));
        self.converters.is_empty()
            && self.sources.iter().all(|source| source.limit_a.is_none())
            && self.draws.iter().all(ohms)
    }

    /// Gives every lead the resistance that it has at its temperature.
    pub fn set_lead_ohms(&mut self, wiring: &Wiring<'_>, temperatures_c: &[f64]) {
        for branch in &mut self.branches {
            if let BranchOwner::Lead(lead) = branch.owner {
                let celsius = temperatures_c.get(lead.0).copied().unwrap_or(20.0);
                branch.ohm = at_least_something(wiring.lead_ohms(lead, celsius).sum());
            }
        }
    }

    /// Leads, whose resistances are left open, bonds and devices alone.
    pub fn conductors(job: &Job, catalog: &Catalog) -> Self {
        let mut branches = Vec::new();
        for (lead, given) in job.leads() {
            branches.push(Branch {
                owner: BranchOwner::Lead(lead),
                from: given.from.0,
                to: given.to.0,
                ohm: at_least_something(0.0),
            });
        }
        for (index, bond) in job.bonds.iter().enumerate() {
            branches.push(Branch {
                owner: BranchOwner::Bond(index),
                from: bond.from.0,
                to: bond.to.0,
                ohm: at_least_something(bond.given.resistance.ohm()),
            });
        }
        for (index, device) in job.devices.iter().enumerate() {
            branches.push(Branch {
                owner: BranchOwner::Device(index),
                from: device.input.0,
                to: device.output.0,
                ohm: at_least_something(device_ohm(job, catalog, index)),
            });
        }
        Self {
            nodes: job.terminals.len(),
            branches,
            sources: Vec::new(),
            draws: Vec::new(),
            converters: Vec::new(),
            floor_v: job.system_voltage.v() * FLOOR,
        }
    }

    /// Adds every battery as it is in a state; a dead one is left out.
    pub fn add_batteries(&mut self, job: &Job, catalog: &Catalog, state: &State) {
        let temperature = battery::temperature(job, state.season);
        for (index, battery) in job.batteries.iter().enumerate() {
            if state.dead.contains(&BatteryId(index)) {
                continue;
            }
            let charge = state.charge.unwrap_or(battery.given.charge);
            let (volts, ohm) = battery::model(&battery.given, charge, temperature, catalog);
            self.sources.push(Source {
                name: battery.given.name.value.as_str().into(),
                positive: battery.positive.0,
                negative: battery.negative.0,
                volts,
                ohm,
                limit_a: None,
            });
        }
    }

    /// Adds every alternator with what it gives at the engine's speed and in the day's heat.
    pub fn add_alternators(&mut self, job: &Job, catalog: &Catalog, state: &State) {
        for alternator in &job.alternators {
            self.sources.push(Source {
                name: alternator.given.name.value.as_str().into(),
                positive: alternator.positive.0,
                negative: alternator.negative.0,
                volts: alternator.given.regulated.v(),
                ohm: REGULATOR_OHM,
                limit_a: Some(alternator::most_a(&alternator.given, state, catalog)),
            });
        }
    }

    /// Lets every alternator give its cold rating.
    pub fn give_full_output(&mut self, wiring: &Wiring<'_>) {
        for alternator in &wiring.job.alternators {
            let name = alternator.given.name.value.as_str();
            let same = |source: &&mut Source| *source.name == *name;
            for source in self.sources.iter_mut().filter(same) {
                source.limit_a = Some(alternator.given.limit.a());
            }
        }
    }

    fn add_draw(&mut self, job: &Job, id: LoadId, engine: Engine, supply: &SupplyVolts) {
        let load = job.load(id);
        let kind = match (load.demand, engine) {
            (Demand::Current(current), _) => DrawKind::Amps(current.a()),
            (Demand::Power(power), _) => DrawKind::Watts(power.w()),
            (Demand::Resistance(ohm), _) => DrawKind::Ohms(at_least_something(ohm.ohm())),
            (Demand::Starter { locked, .. }, Engine::Locked) => DrawKind::Amps(locked.a()),
            (Demand::Starter { running, .. }, Engine::Cranking) => DrawKind::Amps(running.a()),
            // A starter is off unless the engine is being turned.
            (Demand::Starter { .. }, Engine::Off | Engine::Running) => return,
        };
        self.draws.push(Draw {
            load: id,
            name: load.name().into(),
            positive: load.positive.0,
            negative: load.negative.0,
            kind,
            supply: supply.at(load.positive) / job.system_voltage,
        });
    }

    /// Puts a fault of a small resistance between two terminals.
    pub fn add_fault(&mut self, from: TerminalId, to: TerminalId, ohm: f64) {
        self.branches.push(Branch {
            owner: BranchOwner::Fault,
            from: from.0,
            to: to.0,
            ohm: at_least_something(ohm),
        });
    }
}

/// Resistance of a switch, contactor or connector when closed.
fn device_ohm(job: &Job, catalog: &Catalog, index: usize) -> f64 {
    let id = job.devices[index].given.part.value.as_str();
    let switches = catalog.switches.iter();
    let contactors = catalog.contactors.iter();
    let connectors = catalog.connectors.iter();
    switches
        .map(|row| (&row.id.value, row.resistance))
        .chain(contactors.map(|row| (&row.id.value, row.resistance)))
        .chain(connectors.map(|row| (&row.id.value, row.resistance)))
        .find(|(part, _)| *part == id)
        .map_or(0.0, |(_, resistance)| resistance.ohm())
}

/// A network cannot hold a resistance of nothing; a microohm is less than any joint has.
fn at_least_something(ohm: f64) -> f64 {
    ohm.max(1e-6)
}

#[cfg(test)]
impl Network {
    /// Batteries (node, volts, ohms) against node 0, the common return, and branches (from, to,
    /// ohms); no loads.
    pub fn of_figures(
        nodes: usize,
        sources: &[(usize, f64, f64)],
        branches: &[(usize, usize, f64)],
    ) -> Self {
        let branch = |(from, to, ohm): &(usize, usize, f64)| Branch {
            owner: BranchOwner::Fault,
            from: *from,
            to: *to,
            ohm: *ohm,
        };
        let source = |(node, volts, ohm): &(usize, f64, f64)| Source {
            name: "".into(),
            positive: *node,
            negative: 0,
            volts: *volts,
            ohm: *ohm,
            limit_a: None,
        };
        Self {
            nodes,
            branches: branches.iter().map(branch).collect(),
            sources: sources.iter().map(source).collect(),
            draws: Vec::new(),
            converters: Vec::new(),
            floor_v: 1.0,
        }
    }
}
