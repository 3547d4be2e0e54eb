//! A job with its circuit in the order of names.
//!
//! What is chosen among equals, and the last digit of every sum, follow the order of lists. A choice
//! made for the sorted job is the same in whatever order the file tells its things.

use super::id::{BatteryId, LeadId, LoadId, TerminalId};
use super::model::{Alternator, Battery, Bond, Bus, Chassis, Converter, Device, Job, Load, Owner};
use super::model::{State, Terminal};

/// A job in the order of names, and where its things stand in the job as written.
#[derive(Debug, Clone)]
pub struct SortedJob {
    /// The job. Spaces, places, panels and legs keep their order, and it has no variants.
    pub job: Job,
    leads: Moves,
    terminals: Moves,
}

impl SortedJob {
    /// The job with its circuit in the order of names.
    pub fn of(job: &Job) -> Self {
        let (terminals, moved) = by_name(&job.terminals, |row: &Terminal| &row.name);
        let (batteries, battery) = by_name(&job.batteries, |row| &row.given.name.value);
        let (alternators, alternator) = by_name(&job.alternators, |row| &row.given.name.value);
        let (converters, converter) = by_name(&job.converters, |row| &row.given.name.value);
        let (loads, load) = by_name(&job.loads, |row| &row.given.name.value);
        let (buses, bus) = by_name(&job.buses, |row| &row.given.name.value);
        let (devices, device) = by_name(&job.devices, |row| &row.given.name.value);
        let (chassis, point) = by_name(&job.chassis, |row| &row.given.name.value);
        let (leads, lead) = by_name(&job.leads, |row| &row.name);
        let (states, _) = by_name(&job.states, |row| &row.name);
        let owner = |owner: Owner| match owner {
            Owner::Battery(at) => Owner::Battery(battery.to(at)),
            Owner::Alternator(at) => Owner::Alternator(alternator.to(at)),
            Owner::Converter(at) => Owner::Converter(converter.to(at)),
            Owner::Load(at) => Owner::Load(load.to(at)),
            Owner::Bus(at) => Owner::Bus(bus.to(at)),
            Owner::Device(at) => Owner::Device(device.to(at)),
            Owner::Chassis(at) => Owner::Chassis(point.to(at)),
        };
        let terminals: Vec<Terminal> = with(terminals, |row| row.owner = owner(row.owner));
        let end = |terminal: &mut TerminalId| terminal.0 = moved.to(terminal.0);
        let mut bonds = with(job.bonds.clone(), |row: &mut Bond| {
            end(&mut row.from);
            end(&mut row.to);
        });
        bonds.sort_by(|a, b| {
            let ohms = a
                .given
                .resistance
                .ohm()
                .total_cmp(&b.given.resistance.ohm());
            (a.from, a.to).cmp(&(b.from, b.to)).then(ohms)
        });
        let sorted = Job {
            terminals,
            bonds,
            batteries: with(batteries, |row: &mut Battery| {
                end(&mut row.positive);
                end(&mut row.negative);
            }),
            alternators: with(alternators, |row: &mut Alternator| {
                end(&mut row.positive);
                end(&mut row.negative);
            }),
            converters: with(converters, |row: &mut Converter| {
                end(&mut row.input);
                end(&mut row.input_return);
                end(&mut row.output);
                end(&mut row.output_return);
            }),
            loads: with(loads, |row: &mut Load| {
                end(&mut row.positive);
                end(&mut row.negative);
            }),
            buses: with(buses, |row: &mut Bus| end(&mut row.terminal)),
            devices: with(devices, |row: &mut Device| {
                end(&mut row.input);
                end(&mut row.output);
            }),
            chassis: with(chassis, |row: &mut Chassis| end(&mut row.terminal)),
            leads: with(leads, |row| {
                end(&mut row.from);
                end(&mut row.to);
            }),
            states: with(states, |row: &mut State| {
                row.loads = moved_all(&row.loads, |id| LoadId(load.to(id.0)));
                row.dead = moved_all(&row.dead, |id| BatteryId(battery.to(id.0)));
            }),
            title: job.title.clone(),
            measured_by: job.measured_by.clone(),
            variant: job.variant.clone(),
            units: job.units,
            currency: job.currency,
            system_voltage: job.system_voltage,
            setting: job.setting,
            rules: job.rules.clone(),
            spares: job.spares.clone(),
            loosened: job.loosened.clone(),
            cold: job.cold,
            hot: job.hot,
            spaces: job.spaces.clone(),
            places: job.places.clone(),
            panels: job.panels.clone(),
            legs: job.legs.clone(),
            variants: Vec::new(),
        };
        Self {
            job: sorted,
            leads: lead,
            terminals: moved,
        }
    }

    /// The sorted job's lead that is a lead of the job as written.
    pub fn lead(&self, written: LeadId) -> LeadId {
        LeadId(self.leads.to(written.0))
    }

    /// The sorted job's terminal that is a terminal of the job as written.
    pub fn terminal(&self, written: TerminalId) -> TerminalId {
        TerminalId(self.terminals.to(written.0))
    }
}

/// Where each row of a list went.
#[derive(Debug, Clone)]
struct Moves(Vec<usize>);

impl Moves {
    fn to(&self, position: usize) -> usize {
        self.0[position]
    }
}

/// Rows in the order of their names, and where each went.
fn by_name<T: Clone>(rows: &[T], name: impl Fn(&T) -> &str) -> (Vec<T>, Moves) {
    let mut order: Vec<usize> = (0..rows.len()).collect();
    order.sort_by_key(|at| name(&rows[*at]));
    let mut moves = vec![0; rows.len()];
    for (to, from) in order.iter().enumerate() {
        moves[*from] = to;
    }
    let sorted = order.iter().map(|from| rows[*from].clone());
    (sorted.collect(), Moves(moves))
}

/// Rows with something changed in each.
fn with<T>(mut rows: Vec<T>, change: impl Fn(&mut T)) -> Vec<T> {
    rows.iter_mut().for_each(change);
    rows
}

fn moved_all<T: Copy + Ord>(ids: &[T], to: impl Fn(T) -> T) -> Vec<T> {
    let mut moved: Vec<T> = ids.iter().map(|id| to(*id)).collect();
    moved.sort();
    moved
}
