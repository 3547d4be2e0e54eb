//! A quantity held against its limit, at its worst corner.

use super::corner::{Corners, Harm, Quantity, Worst};
use super::tolerance::Doubt;
use super::wiring::Wiring;
use crate::catalog::{Basis, Cited};
use crate::check::{Check, CheckRule};
use crate::job::{BatteryId, Job, LoadId};

/// A verdict on a quantity, told in words only when it is asked for.
pub struct Judged<'a> {
    /// What was judged; `None` where no cable can better it.
    pub judged: Option<JudgedQuantity>,
    /// Puts it in words.
    pub(super) tell: Box<dyn FnOnce() -> Check + 'a>,
}

impl<'a> Judged<'a> {
    /// A verdict that no cable can better.
    pub(super) fn told(tell: impl FnOnce() -> Check + 'a) -> Self {
        Self {
            judged: None,
            tell: Box::new(tell),
        }
    }

    /// The same, naming the state it was judged in.
    pub(super) fn in_state(self, state: &'a str) -> Self {
        let tell = self.tell;
        Self {
            judged: self.judged,
            tell: Box::new(|| tell().in_state(state)),
        }
    }

    /// The verdict in words.
    pub fn check(self) -> Check {
        (self.tell)()
    }
}

/// A quantity that cables can better.
#[derive(Debug, Clone, Copy)]
pub struct JudgedQuantity {
    /// The rule.
    pub rule: CheckRule,
    /// What is judged.
    pub subject: Subject,
    /// The quantity.
    pub quantity: Quantity,
    /// Which way it does harm.
    pub harm: Harm,
    /// What it was found to be.
    pub found: Worst,
    /// Its limit, in volts.
    pub limit: f64,
}

/// What a verdict is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Subject {
    /// A load.
    Load(LoadId),
    /// The positive side of a starter.
    PositiveSide(LoadId),
    /// The return side of a starter.
    ReturnSide(LoadId),
    /// The input of a converter, by position.
    Input(usize),
    /// A battery.
    Battery(BatteryId),
    /// The batteries of a string, by the lowest.
    String(BatteryId),
}

impl Subject {
    /// Its name.
    pub fn name(self, job: &Job) -> String {
        let battery = |id: &BatteryId| job.battery(*id).given.name.value.as_str();
        match self {
            Self::Load(load) => job.load(load).name().to_owned(),
            Self::PositiveSide(load) => format!("{}, positive side", job.load(load).name()),
            Self::ReturnSide(load) => format!("{}, return side", job.load(load).name()),
            Self::Input(index) => format!("{}, input", *job.converters[index].given.name),
            Self::Battery(id) => battery(&id).to_owned(),
            Self::String(lowest) => {
                let strings = job.strings();
                let own = strings
                    .iter()
                    .find(|string| string.batteries.first() == Some(&lowest));
                let names = own.map(|own| own.batteries.iter().map(battery).collect::<Vec<_>>());
                names.unwrap_or_default().join(" and ")
            }
        }
    }
}

/// What a quantity is held against.
pub(super) struct Held<'a> {
    /// Its rule.
    pub rule: CheckRule,
    /// What is judged.
    pub subject: Subject,
    /// The quantity.
    pub quantity: Quantity,
    /// Which way it does harm.
    pub harm: Harm,
    /// Its limit, in volts.
    pub limit: Limit<'a>,
}

/// A limit in volts with its source.
#[derive(Debug, Clone, Copy)]
pub(super) struct Limit<'a> {
    /// The limit.
    pub volts: f64,
    /// Publication and clause.
    pub citation: &'a str,
    /// How far it can be trusted.
    pub basis: Basis,
}

impl<'a> Limit<'a> {
    /// The limit that a rule makes of its figure.
    pub fn of<T: Copy>(rule: &'a Cited<T>, volts: impl FnOnce(T) -> f64) -> Self {
        Self {
            volts: volts(rule.value),
            citation: &rule.citation,
            basis: rule.basis,
        }
    }

    /// The limit as checks take it.
    pub fn cited(self) -> Cited<f64> {
        Cited {
            value: self.volts,
            citation: self.citation.to_owned(),
            basis: self.basis,
        }
    }
}

impl<'a> Held<'a> {
    /// The verdict at the worst corner; `note` gets the worst and the planned figure.
    pub fn judge(
        self,
        wiring: &Wiring<'a>,
        corners: &mut Corners,
        note: impl Fn(f64, f64) -> String + 'a,
    ) -> Judged<'a> {
        let found = corners.worst(self.quantity, self.harm);
        let Worst {
            nominal,
            worst,
            doubt,
            ..
        } = found;
        let (job, limit) = (wiring.job, self.limit);
        let tell = move || {
            let (subject, limit) = (self.subject.name(job), limit.cited());
            let check = match self.harm {
                Harm::Low => Check::at_least(self.rule, &subject, worst, &limit, "V"),
                Harm::High => Check::at_most(self.rule, &subject, worst, &limit, "V"),
            };
            check
                .with_nominal(nominal, doubt.map(Doubt::as_str))
                .with_note(note(worst, nominal))
        };
        Judged {
            judged: Some(JudgedQuantity {
                rule: self.rule,
                subject: self.subject,
                quantity: self.quantity,
                harm: self.harm,
                found,
                limit: limit.volts,
            }),
            tell: Box::new(tell),
        }
    }
}
