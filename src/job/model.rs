//! The job once every name is resolved and every contradiction ruled out.

use super::file::{
    AlternatorFile, BatteryFile, BondFile, BusFile, ChassisFile, DeviceFile, HazardFile, LoadFile,
};
use super::id::{LeadId, LegId, LoadId, PanelId, PlaceId, SpaceId, TerminalId};
use super::rules::Loosened;
use super::words::{Access, Engine, MovingEnd, PanelMaterial, Passage, Season, Units};
use crate::catalog::{Colour, Polarity, RuleSet, Setting};
use crate::diagnostic::Span;
use crate::quantity::{
    ConductorSize, Currency, Current, Length, Power, Ratio, Resistance, Temperature, Thread,
    Voltage,
};

/// A checked job. Lists keep the order of the file; ids are positions in them.
#[derive(Debug, Clone)]
pub struct Job {
    /// What the job is.
    pub title: String,
    /// Units that documents show.
    pub units: Units,
    /// Currency of the bill.
    pub currency: Currency,
    /// Nominal voltage.
    pub system_voltage: Voltage,
    /// Which rules hold.
    pub setting: Setting,
    /// The setting's rules with the job's own figures in place.
    pub rules: RuleSet,
    /// Rules that the job made less strict.
    pub loosened: Vec<Loosened>,
    /// Coldest day.
    pub cold: Temperature,
    /// Hottest day.
    pub hot: Temperature,
    /// Regions.
    pub spaces: Vec<Space>,
    /// Named points.
    pub places: Vec<Place>,
    /// Walls and floors.
    pub panels: Vec<Panel>,
    /// Measured stretches.
    pub legs: Vec<Leg>,
    /// Batteries.
    pub batteries: Vec<Battery>,
    /// Alternators.
    pub alternators: Vec<Alternator>,
    /// Loads.
    pub loads: Vec<Load>,
    /// Buses.
    pub buses: Vec<Bus>,
    /// Switches, contactors and connectors.
    pub devices: Vec<Device>,
    /// Points of body or engine.
    pub chassis: Vec<Chassis>,
    /// Metal that joins chassis points.
    pub bonds: Vec<Bond>,
    /// Leads to be made.
    pub leads: Vec<Lead>,
    /// States to be judged.
    pub states: Vec<State>,
    /// Every terminal.
    pub terminals: Vec<Terminal>,
}

/// A region with its own surroundings.
#[derive(Debug, Clone)]
pub struct Space {
    /// Its name.
    pub name: String,
    /// Air temperature on the hottest day at work.
    pub temperature: Temperature,
    /// Whether it is an engine space.
    pub engine_space: bool,
    /// Whether people sit or sleep in it.
    pub occupied: bool,
    /// Whether it gets wet.
    pub wet: bool,
    /// Whether devices in it must be ignition protected.
    pub vapour: bool,
}

/// A named point.
#[derive(Debug, Clone)]
pub struct Place {
    /// Its name.
    pub name: String,
    /// The space it lies in.
    pub space: SpaceId,
}

/// A wall or floor.
#[derive(Debug, Clone)]
pub struct Panel {
    /// Its name.
    pub name: String,
    /// Its thickness.
    pub thickness: Length,
    /// What it is made of.
    pub material: PanelMaterial,
    /// How leads go through it.
    pub passage: Passage,
}

/// A measured stretch.
#[derive(Debug, Clone)]
pub struct Leg {
    /// The place at its start.
    pub from: PlaceId,
    /// The place at its end.
    pub to: PlaceId,
    /// Its length.
    pub length: Length,
    /// The space it lies in.
    pub space: SpaceId,
    /// How well it can be reached.
    pub access: Access,
    /// The panel it crosses and the distance of the crossing from `from`.
    pub crossing: Option<(PanelId, Length)>,
    /// Number of bends.
    pub bends: u32,
    /// Tightest bend.
    pub bend_radius: Option<Length>,
    /// Whether the cable is enclosed all along.
    pub sheathed: bool,
    /// What it runs past.
    pub hazards: Vec<HazardFile>,
}

/// A battery with its terminals.
#[derive(Debug, Clone)]
pub struct Battery {
    /// As given.
    pub given: BatteryFile,
    /// Where it stands.
    pub place: PlaceId,
    /// Its positive terminal.
    pub positive: TerminalId,
    /// Its negative terminal.
    pub negative: TerminalId,
}

/// An alternator with its terminals.
#[derive(Debug, Clone)]
pub struct Alternator {
    /// As given.
    pub given: AlternatorFile,
    /// Where it sits.
    pub place: PlaceId,
    /// Its positive terminal.
    pub positive: TerminalId,
    /// Its negative terminal, or the chassis point that its case is bolted to.
    pub negative: TerminalId,
}

/// What a load draws.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Demand {
    /// The same current at any voltage.
    Current(Current),
    /// The same power at any voltage.
    Power(Power),
    /// A resistance.
    Resistance(Resistance),
    /// A starter motor.
    Starter {
        /// Current while it turns the engine.
        running: Current,
        /// Current with the rotor locked, at the first instant.
        locked: Current,
    },
}

/// A load with its terminals.
#[derive(Debug, Clone)]
pub struct Load {
    /// As given.
    pub given: LoadFile,
    /// What it draws.
    pub demand: Demand,
    /// Where it sits.
    pub place: PlaceId,
    /// Its positive terminal.
    pub positive: TerminalId,
    /// Its negative terminal, or the chassis point that its case is bolted to.
    pub negative: TerminalId,
}

impl Load {
    /// Its name.
    pub fn name(&self) -> &str {
        &self.given.name
    }

    /// Whether it is a starter motor.
    pub fn is_starter(&self) -> bool {
        matches!(self.demand, Demand::Starter { .. })
    }

    /// Current at the system's nominal voltage; the running current of a starter.
    pub fn nominal_current(&self, system: Voltage) -> Current {
        match self.demand {
            Demand::Current(current) => current,
            Demand::Power(power) => Current::from_a(power.w() / system.v()),
            Demand::Resistance(resistance) => Current::from_a(system.v() / resistance.ohm()),
            Demand::Starter { running, .. } => running,
        }
    }
}

/// A bus with its terminal.
#[derive(Debug, Clone)]
pub struct Bus {
    /// As given.
    pub given: BusFile,
    /// Where it is mounted.
    pub place: PlaceId,
    /// Its one terminal.
    pub terminal: TerminalId,
}

/// A switch, contactor or connector with its terminals.
#[derive(Debug, Clone)]
pub struct Device {
    /// As given.
    pub given: DeviceFile,
    /// Where it is mounted.
    pub place: PlaceId,
    /// The side nearer the source, by name.
    pub input: TerminalId,
    /// The other side.
    pub output: TerminalId,
}

/// A point of body or engine with its terminal.
#[derive(Debug, Clone)]
pub struct Chassis {
    /// As given.
    pub given: ChassisFile,
    /// Where it is.
    pub place: PlaceId,
    /// Its one terminal.
    pub terminal: TerminalId,
}

/// Metal that joins two chassis points.
#[derive(Debug, Clone)]
pub struct Bond {
    /// As given.
    pub given: BondFile,
    /// One point.
    pub from: TerminalId,
    /// The other point.
    pub to: TerminalId,
}

/// What is wanted of a lead's protection, once `auto` is decided.
#[derive(Debug, Clone, PartialEq)]
pub enum Protected {
    /// No device.
    No {
        /// Why not.
        reason: Unprotected,
    },
    /// A device, chosen by the program.
    Auto,
    /// A device of this rating.
    Rating(Current),
    /// The breaker or fuse with this id.
    Part(String),
}

/// Why a lead has no protection.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unprotected {
    /// It is a return, which needs none.
    Return,
    /// The setting permits leads to a starter without protection.
    StarterPermitted,
    /// The user said so.
    User,
    /// It does not start at a source or bus, and is protected from further up.
    Downstream,
}

/// A lead to be made.
#[derive(Debug, Clone)]
pub struct Lead {
    /// Its name.
    pub name: String,
    /// The terminal it starts at.
    pub from: TerminalId,
    /// The terminal it ends at.
    pub to: TerminalId,
    /// Places it must pass, in order.
    pub via: Vec<PlaceId>,
    /// Places it must not pass.
    pub avoid: Vec<PlaceId>,
    /// Fixed size, or the program's choice.
    pub size: Option<ConductorSize>,
    /// Fixed family, or the program's choice.
    pub family: Option<String>,
    /// Insulation colour, where the user wants a certain one.
    pub colour: Option<Colour>,
    /// Whether it is on the positive side.
    pub polarity: Polarity,
    /// What protection it gets.
    pub protected: Protected,
    /// The place of the protection.
    pub protect_at: PlaceId,
    /// Length of cable from the source to protection at the same place.
    pub link: Length,
    /// Which end moves with the engine.
    pub moves: MovingEnd,
    /// Where it stands in the file.
    pub span: Span,
}

impl Lead {
    /// Insulation colour: as wanted, else red for positive and black for negative.
    pub fn insulation(&self) -> Colour {
        self.colour.unwrap_or(match self.polarity {
            Polarity::Positive => Colour::Red,
            Polarity::Negative => Colour::Black,
        })
    }

    /// Whether it gets a device.
    pub fn is_protected(&self) -> bool {
        !matches!(self.protected, Protected::No { .. })
    }
}

/// An operating state.
#[derive(Debug, Clone)]
pub struct State {
    /// Its name.
    pub name: String,
    /// What the engine does.
    pub engine: Engine,
    /// Cold or hot.
    pub season: Season,
    /// Loads that are on, starters included while the engine is cranked.
    pub loads: Vec<LoadId>,
    /// State of charge of all batteries, where the state sets it.
    pub charge: Option<Ratio>,
}

/// Whose terminal it is; the number is the position in the list of that kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Owner {
    /// A battery.
    Battery(usize),
    /// An alternator.
    Alternator(usize),
    /// A load.
    Load(usize),
    /// A bus.
    Bus(usize),
    /// A switch, contactor or connector.
    Device(usize),
    /// A chassis point.
    Chassis(usize),
}

/// What a lug goes on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stud {
    /// A stud with a known thread.
    Thread(Thread),
    /// A tapered battery post: a battery terminal with a stud goes on first.
    Post,
    /// A stud of the bus that is chosen later.
    Bus,
    /// A stud of the device, by its part.
    Device,
}

/// A point where leads end.
#[derive(Debug, Clone)]
pub struct Terminal {
    /// Its name, such as `start battery +`.
    pub name: String,
    /// Where it is.
    pub place: PlaceId,
    /// Whose it is.
    pub owner: Owner,
    /// What a lug goes on.
    pub stud: Stud,
    /// Its pole, where its owner has poles.
    pub pole: Option<Polarity>,
}

impl Job {
    /// The place behind an id.
    pub fn place(&self, id: PlaceId) -> &Place {
        &self.places[id.0]
    }

    /// The space behind an id.
    pub fn space(&self, id: SpaceId) -> &Space {
        &self.spaces[id.0]
    }

    /// The panel behind an id.
    pub fn panel(&self, id: PanelId) -> &Panel {
        &self.panels[id.0]
    }

    /// The leg behind an id.
    pub fn leg(&self, id: LegId) -> &Leg {
        &self.legs[id.0]
    }

    /// The lead behind an id.
    pub fn lead(&self, id: LeadId) -> &Lead {
        &self.leads[id.0]
    }

    /// The load behind an id.
    pub fn load(&self, id: LoadId) -> &Load {
        &self.loads[id.0]
    }

    /// The terminal behind an id.
    pub fn terminal(&self, id: TerminalId) -> &Terminal {
        &self.terminals[id.0]
    }

    /// Every lead with its id.
    pub fn leads(&self) -> impl Iterator<Item = (LeadId, &Lead)> {
        self.leads
            .iter()
            .enumerate()
            .map(|(i, lead)| (LeadId(i), lead))
    }

    /// Every leg with its id.
    pub fn legs(&self) -> impl Iterator<Item = (LegId, &Leg)> {
        self.legs.iter().enumerate().map(|(i, leg)| (LegId(i), leg))
    }

    /// How many times the 12 V on which some limits are stated.
    pub fn twelfths(&self) -> f64 {
        self.system_voltage.v() / 12.0
    }

    /// Leads that end at a terminal.
    pub fn leads_at(&self, terminal: TerminalId) -> impl Iterator<Item = LeadId> {
        self.leads()
            .filter(move |(_, lead)| lead.from == terminal || lead.to == terminal)
            .map(|(id, _)| id)
    }
}
