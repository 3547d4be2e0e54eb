//! Sources, loads and the points where leads end.

use crate::catalog::Polarity;
use crate::job::charger_file::{AlternatorFile, ConverterFile};
use crate::job::file::{BatteryFile, BondFile, BusFile, ChassisFile, DeviceFile, LoadFile};
use crate::job::id::{PlaceId, TerminalId};
use crate::quantity::{Current, Power, Resistance, Thread, Voltage};

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

/// A converter with its terminals.
#[derive(Debug, Clone)]
pub struct Converter {
    /// As given.
    pub given: ConverterFile,
    /// Where it is mounted.
    pub place: PlaceId,
    /// Positive terminal of its input.
    pub input: TerminalId,
    /// Negative terminal of its input.
    pub input_return: TerminalId,
    /// Positive terminal of its output.
    pub output: TerminalId,
    /// Negative terminal of its output; that of the input, unless it is isolated.
    pub output_return: TerminalId,
}

impl Converter {
    /// Nominal voltage of what it feeds: chargers give up to a third more than the nominal voltage
    /// of the batteries that they charge.
    pub fn nominal(&self) -> Voltage {
        const USUAL_V: [f64; 5] = [6.0, 12.0, 24.0, 36.0, 48.0];
        let output = self.given.output;
        let suits = |nominal: &f64| (1.0..=1.35).contains(&(output.v() / nominal));
        let usual = USUAL_V.into_iter().rfind(suits);
        usual.map_or(output, Voltage::from_v)
    }

    /// The other pole of a terminal of it.
    pub fn return_of(&self, terminal: TerminalId) -> TerminalId {
        if terminal == self.input {
            self.input_return
        } else {
            self.output_return
        }
    }
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

/// Whose terminal it is; the number is the position in the list of that kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Owner {
    /// A battery.
    Battery(usize),
    /// An alternator.
    Alternator(usize),
    /// A converter.
    Converter(usize),
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
