//! What a failure stops: the loads and batteries that the network no longer reaches without the part.

use crate::catalog::Consequence;
use crate::job::{ConverterKind, Importance, Job, LeadId, Load, TerminalId, joined};

/// What is taken out of the network.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Cut<'a> {
    /// Leads that no longer conduct.
    pub leads: &'a [LeadId],
    /// A device that no longer closes.
    pub device: Option<usize>,
    /// A battery that gives nothing.
    pub battery: Option<usize>,
}

/// One thing that is stopped.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Stop {
    /// What kind of thing.
    pub consequence: Consequence,
    /// Its name, in words.
    pub name: String,
}

/// Everything that works in the whole network and not without the part.
pub(super) fn stops(job: &Job, cut: Cut<'_>) -> Vec<Stop> {
    let (whole, left) = (Reach::of(job, Cut::default()), Reach::of(job, cut));
    let loads = job.loads.iter();
    let loads = loads.filter(|load| whole.feeds(load) && !left.feeds(load));
    let mut stops: Vec<Stop> = loads
        .map(|load| Stop {
            consequence: consequence(load),
            name: load.name().to_owned(),
        })
        .collect();
    for battery in 0..job.batteries.len() {
        let gone = cut.battery == Some(battery);
        if !gone && whole.charges(battery) && !left.charges(battery) {
            let name = job.batteries.get(battery).map(|row| &row.given.name.value);
            stops.extend(name.map(|name| Stop {
                consequence: Consequence::Charging,
                name: format!("charging of {name}"),
            }));
        }
    }
    stops
}

fn consequence(load: &Load) -> Consequence {
    let dear = load.given.sensitive || load.given.importance == Importance::Critical;
    match (load.is_starter(), dear) {
        (true, _) => Consequence::Starting,
        (false, true) => Consequence::Critical,
        (false, false) => Consequence::Load,
    }
}

/// Two terminals between which something is fed.
type Poles = (TerminalId, TerminalId);

/// What is joined to what, and what feeds it.
struct Reach<'a> {
    job: &'a Job,
    groups: Vec<usize>,
    batteries: Vec<Option<Poles>>,
    /// Alternators and chargers.
    chargers: Vec<Poles>,
    /// Outputs of converters.
    converters: Vec<Poles>,
}

impl<'a> Reach<'a> {
    fn of(job: &'a Job, cut: Cut<'_>) -> Self {
        let leads = job.leads().filter(|(id, _)| !cut.leads.contains(id));
        let leads = leads.map(|(_, lead)| (lead.from, lead.to));
        let bonds = job.bonds.iter().map(|bond| (bond.from, bond.to));
        let devices = job.devices.iter().enumerate();
        let devices = devices.filter(|(index, _)| cut.device != Some(*index));
        let devices = devices.map(|(_, device)| (device.input, device.output));
        let pairs = leads.chain(bonds).chain(devices);
        let batteries = job.batteries.iter().enumerate();
        let mut reach = Self {
            job,
            groups: joined(job.terminals.len(), pairs.map(|(a, b)| (a.0, b.0))),
            batteries: batteries
                .map(|(index, row)| {
                    (cut.battery != Some(index)).then_some((row.positive, row.negative))
                })
                .collect(),
            chargers: job
                .alternators
                .iter()
                .map(|row| (row.positive, row.negative))
                .collect(),
            converters: Vec::new(),
        };
        reach.switch_converters_on();
        reach
    }

    /// A converter gives as long as something feeds its input, which may be another converter.
    fn switch_converters_on(&mut self) {
        let mut waiting: Vec<_> = self.job.converters.iter().collect();
        loop {
            let before = waiting.len();
            waiting.retain(|row| {
                let fed = self.is_fed((row.input, row.input_return));
                if fed {
                    let output = (row.output, row.output_return);
                    self.converters.push(output);
                    if row.given.kind == ConverterKind::Charger {
                        self.chargers.push(output);
                    }
                }
                !fed
            });
            if waiting.len() == before {
                break;
            }
        }
    }

    fn joins(&self, a: Poles, b: Poles) -> bool {
        let same = |a: TerminalId, b: TerminalId| self.groups.get(a.0) == self.groups.get(b.0);
        same(a.0, b.0) && same(a.1, b.1)
    }

    /// An alternator by itself feeds nothing: without a battery the engine does not start, and few
    /// alternators hold their voltage.
    fn is_fed(&self, poles: Poles) -> bool {
        let batteries = self.batteries.iter().flatten();
        let mut sources = batteries.chain(&self.converters);
        sources.any(|source| self.joins(*source, poles))
    }

    /// A starter turns on batteries alone: nothing else gives while the engine stands.
    fn feeds(&self, load: &Load) -> bool {
        let poles = (load.positive, load.negative);
        if load.is_starter() {
            let mut batteries = self.batteries.iter().flatten();
            return batteries.any(|battery| self.joins(*battery, poles));
        }
        self.is_fed(poles)
    }

    fn charges(&self, battery: usize) -> bool {
        let poles = self.batteries.get(battery).copied().flatten();
        poles.is_some_and(|poles| {
            self.chargers
                .iter()
                .any(|charger| self.joins(*charger, poles))
        })
    }
}
