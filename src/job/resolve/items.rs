//! Sources, loads, buses, devices, chassis points and bonds.

use super::Resolver;
use super::lookup::{Kind, device_ids};
use crate::catalog::{Polarity, PostKind};
use crate::diagnostic::{Problem, Subject, nearest};
use crate::file::Choice;
use crate::job::charger_file::{AlternatorFile, ConverterFile};
use crate::job::file::{BatteryFile, BondFile, BusFile, ChassisFile, DeviceFile, LoadFile, Name};
use crate::job::id::TerminalId;
use crate::job::model::{
    Alternator, Battery, Bond, Bus, Chassis, Converter, Demand, Device, Load, Owner, Stud,
};
use crate::job::words::LoadKind;
use crate::quantity::Current;

impl Resolver<'_> {
    pub(super) fn chassis(&mut self, index: usize, given: ChassisFile) -> Chassis {
        let kind = Kind {
            place: self.place(&given.place),
            owner: Owner::Chassis(index),
            stud: Stud::Thread(given.stud),
        };
        let terminal = self.terminal(&given.name, None, kind, None);
        self.chassis_points.push(terminal);
        Chassis {
            given,
            place: kind.place,
            terminal,
        }
    }

    pub(super) fn battery(&mut self, index: usize, given: BatteryFile) -> Battery {
        let stud = match (given.post, given.stud) {
            (PostKind::Tapered, _) => Stud::Post,
            (PostKind::Stud, Some(thread)) => Stud::Thread(thread),
            (PostKind::Stud, None) => {
                let reason = "a battery with studs needs the key `stud`, their thread";
                self.report(Problem::contradiction(reason), given.span);
                Stud::Post
            }
        };
        self.check_enclosure(&given);
        let kind = Kind {
            place: self.place(&given.place),
            owner: Owner::Battery(index),
            stud,
        };
        Battery {
            place: kind.place,
            positive: self.positive(&given.name, kind),
            negative: self.negative(&given.name, None, kind),
            given,
        }
    }

    fn check_enclosure(&mut self, given: &BatteryFile) {
        let rows = self.catalog.enclosures.iter();
        let known: Vec<&str> = rows.map(|row| row.id.as_str()).collect();
        let wanted = given.enclosure.as_str();
        if ["auto", "none"].contains(&wanted) || known.contains(&wanted) {
            return;
        }
        let reason = format!("there is no enclosure `{wanted}` for `{}`", *given.name);
        let help = match nearest(wanted, known) {
            Some(near) => format!("did you mean `{near}`?"),
            None => "write `auto`, `none` or the id of an enclosure".to_owned(),
        };
        let problem = Problem::contradiction_with_help(reason, help);
        self.report(problem, given.span);
    }

    pub(super) fn alternator(&mut self, index: usize, given: AlternatorFile) -> Alternator {
        let kind = Kind {
            place: self.place(&given.place),
            owner: Owner::Alternator(index),
            stud: Stud::Thread(given.stud),
        };
        Alternator {
            place: kind.place,
            positive: self.positive(&given.name, kind),
            negative: self.negative(&given.name, given.case.as_ref(), kind),
            given,
        }
    }

    pub(super) fn converter(&mut self, index: usize, given: ConverterFile) -> Converter {
        if given.isolated && given.case.is_some() {
            let reason = "an isolated converter has no return through its case";
            let help = "take `case` away, or `isolated`";
            let problem = Problem::contradiction_with_help(reason, help);
            self.report(problem, given.span);
        }
        let kind = Kind {
            place: self.place(&given.place),
            owner: Owner::Converter(index),
            stud: Stud::Thread(given.stud),
        };
        let input = self.pole(&given.name, ("in +", kind), Polarity::Positive);
        let output = self.pole(&given.name, ("out +", kind), Polarity::Positive);
        let (input_return, output_return) = if given.isolated {
            (
                self.pole(&given.name, ("in -", kind), Polarity::Negative),
                self.pole(&given.name, ("out -", kind), Polarity::Negative),
            )
        } else {
            let common = self.negative(&given.name, given.case.as_ref(), kind);
            (common, common)
        };
        Converter {
            place: kind.place,
            input,
            input_return,
            output,
            output_return,
            given,
        }
    }

    fn pole(&mut self, name: &Name, (end, kind): (&str, Kind), pole: Polarity) -> TerminalId {
        self.terminal(name, Some(end), kind, Some(pole))
    }

    pub(super) fn load(&mut self, index: usize, given: LoadFile) -> Load {
        let kind = Kind {
            place: self.place(&given.place),
            owner: Owner::Load(index),
            stud: Stud::Thread(given.stud),
        };
        Load {
            demand: self.demand(&given),
            place: kind.place,
            positive: self.positive(&given.name, kind),
            negative: self.negative(&given.name, given.case.as_ref(), kind),
            given,
        }
    }

    /// A figure that the kind of load does not use would be ignored without a word.
    fn check_unused(&mut self, given: &LoadFile) {
        use LoadKind::{ConstantCurrent, ConstantPower, Resistance, Starter};
        let rows: [(&str, bool, &[LoadKind]); 4] = [
            (
                "current",
                given.current.is_some(),
                &[ConstantCurrent, Starter],
            ),
            ("locked", given.locked.is_some(), &[Starter]),
            ("power", given.power.is_some(), &[ConstantPower]),
            ("resistance", given.resistance.is_some(), &[Resistance]),
        ];
        for (key, present, users) in rows {
            if present && !users.contains(&given.kind) {
                let kind = given.kind;
                let reason = format!("a load of the kind `{kind}` has no use for the key `{key}`");
                let help = "take the key away, or correct `kind`";
                let problem = Problem::contradiction_with_help(reason, help);
                self.report(problem, given.span);
            }
        }
    }

    fn demand(&mut self, given: &LoadFile) -> Demand {
        self.check_unused(given);
        let demand = match given.kind {
            LoadKind::ConstantCurrent => given.current.map(Demand::Current).ok_or("current"),
            LoadKind::ConstantPower => given.power.map(Demand::Power).ok_or("power"),
            LoadKind::Resistance => given.resistance.map(Demand::Resistance).ok_or("resistance"),
            LoadKind::Starter => match (given.current, given.locked) {
                (Some(running), Some(locked)) => Ok(Demand::Starter { running, locked }),
                (None, Some(_)) => Err("current"),
                (Some(_), None) => Err("locked"),
                (None, None) => Err("current` and the key `locked"),
            },
        };
        demand.unwrap_or_else(|key| {
            let reason = format!("a load of the kind `{}` needs the key `{key}`", given.kind);
            self.report(Problem::contradiction(reason), given.span);
            Demand::Current(Current::ZERO)
        })
    }

    pub(super) fn bus(&mut self, index: usize, given: BusFile) -> Bus {
        if let Choice::Fixed(part) = &given.part {
            let known: Vec<&str> = self
                .catalog
                .buses
                .iter()
                .map(|bus| bus.id.as_str())
                .collect();
            self.require(Subject::Part, part, &known);
        }
        let kind = Kind {
            place: self.place(&given.place),
            owner: Owner::Bus(index),
            stud: Stud::Bus,
        };
        let terminal = self.terminal(&given.name, None, kind, Some(given.polarity));
        Bus {
            given,
            place: kind.place,
            terminal,
        }
    }

    pub(super) fn device(&mut self, index: usize, given: DeviceFile) -> Device {
        self.require(Subject::Part, &given.part, &device_ids(self.catalog));
        let kind = Kind {
            place: self.place(&given.place),
            owner: Owner::Device(index),
            stud: Stud::Device,
        };
        Device {
            place: kind.place,
            input: self.terminal(&given.name, Some("in"), kind, None),
            output: self.terminal(&given.name, Some("out"), kind, None),
            given,
        }
    }

    /// `None` after a mistake.
    pub(super) fn bond(&mut self, given: BondFile) -> Option<Bond> {
        let (from, to) = (
            self.chassis_point(&given.from),
            self.chassis_point(&given.to),
        );
        let (from, to) = (from?, to?);
        if from == to {
            let reason = "the bond ends where it starts";
            self.report(Problem::contradiction(reason), given.to.span);
        }
        Some(Bond { given, from, to })
    }
}
