//! From names to positions.
//!
//! Whatever cannot be resolved gets a stand-in, so that one fault does not cause others further
//! on; a job with a stand-in in it never leaves this module.

mod ground;
mod items;
mod leads;
mod lookup;

use super::file::{JobFile, Name};
use super::id::TerminalId;
use super::model::{Job, Position, Terminal};
use super::names::Names;
use super::units::Units;
use super::{polarity, rules, spares_file, states};
use crate::catalog::Catalog;
use crate::diagnostic::{Diagnostic, Problem, Span, Subject};

/// What resolving needs at every step.
struct Resolver<'a> {
    catalog: &'a Catalog,
    spaces: Names,
    places: Names,
    panels: Names,
    items: Names,
    batteries: Names,
    loads: Names,
    chassis: Names,
    /// Where each place is, where that was measured.
    positions: Vec<Option<Position>>,
    chassis_points: Vec<TerminalId>,
    terminals: Names,
    list: Vec<Terminal>,
    mistakes: Vec<Diagnostic>,
    ground_is_sound: bool,
    circuit_is_sound: bool,
}

/// A job with every name resolved, or with stand-ins where one could not be.
pub struct Resolved {
    /// The job; `None` without rules for its setting.
    pub job: Option<Job>,
    /// Every unknown or doubled name, every key that a kind of thing lacks, and every figure that
    /// the stages could not work with.
    pub mistakes: Vec<Diagnostic>,
    /// Whether spaces, places, panels and legs hold no stand-in.
    pub ground_is_sound: bool,
    /// Whether sources, loads, buses and leads hold none.
    pub circuit_is_sound: bool,
}

/// Resolves every name of the file.
pub fn resolve(file: JobFile, catalog: &Catalog) -> Resolved {
    let mut resolver = Resolver::new(&file, catalog);
    let named_twice = !resolver.mistakes.is_empty();
    let job = resolver.job(file).map(|mut job| {
        states::complete(&mut job);
        polarity::settle(&mut job);
        job
    });
    Resolved {
        job,
        ground_is_sound: resolver.ground_is_sound && !named_twice,
        circuit_is_sound: resolver.circuit_is_sound && !named_twice,
        mistakes: resolver.mistakes,
    }
}

/// Names that terminals are made from; they share one set.
fn item_names(file: &JobFile) -> impl Iterator<Item = &Name> {
    let batteries = file.battery.iter().map(|item| &item.name);
    batteries
        .chain(file.alternator.iter().map(|item| &item.name))
        .chain(file.converter.iter().map(|item| &item.name))
        .chain(file.load.iter().map(|item| &item.name))
        .chain(file.bus.iter().map(|item| &item.name))
        .chain(file.device.iter().map(|item| &item.name))
        .chain(file.chassis.iter().map(|item| &item.name))
}

/// Converts items with their positions.
fn numbered<T, U>(items: Vec<T>, mut convert: impl FnMut(usize, T) -> U) -> Vec<U> {
    let items = items.into_iter().enumerate();
    items.map(|(index, item)| convert(index, item)).collect()
}

impl<'a> Resolver<'a> {
    fn new(file: &JobFile, catalog: &'a Catalog) -> Self {
        let mut mistakes = Vec::new();
        let found = &mut mistakes;
        let spaces = file.space.iter().map(|space| &space.name);
        let spaces = Names::collect(Subject::Space, spaces, found);
        let places = file.place.iter().map(|place| &place.name);
        let places = Names::collect(Subject::Place, places, found);
        let panels = file.panel.iter().map(|panel| &panel.name);
        let panels = Names::collect(Subject::Panel, panels, found);
        let items = Names::collect(Subject::Item, item_names(file), found);
        let leads = file.lead.iter().map(|lead| &lead.name);
        Names::collect(Subject::Lead, leads, found);
        let states = file.state.iter().map(|state| &state.name);
        Names::collect(Subject::State, states, found);
        let variants = file.variant.iter().map(|variant| &variant.name);
        Names::collect(Subject::Variant, variants, found);
        // Batteries, loads and chassis points named twice are reported with the items.
        let batteries = file.battery.iter().map(|battery| &battery.name);
        let batteries = Names::collect(Subject::Battery, batteries, &mut Vec::new());
        let loads = file.load.iter().map(|load| &load.name);
        let loads = Names::collect(Subject::Load, loads, &mut Vec::new());
        let chassis = file.chassis.iter().map(|point| &point.name);
        let chassis = Names::collect(Subject::ChassisPoint, chassis, &mut Vec::new());
        Self {
            catalog,
            spaces,
            places,
            panels,
            items,
            batteries,
            loads,
            chassis,
            positions: Vec::new(),
            chassis_points: Vec::new(),
            terminals: Names::collect(Subject::Terminal, [], &mut Vec::new()),
            list: Vec::new(),
            mistakes,
            ground_is_sound: true,
            circuit_is_sound: true,
        }
    }

    fn job(&mut self, file: JobFile) -> Option<Job> {
        self.check_figures(&file);
        let Some(set) = self.catalog.rules(file.setting).cloned() else {
            let setting = file.setting;
            let reason = format!("the catalog has no rules for the setting `{setting}`");
            self.report(Problem::contradiction(reason), file.span);
            return None;
        };
        let (mut rules, loosened) = match &file.rules {
            Some(own) => rules::apply(set, own),
            None => (set, Vec::new()),
        };
        if file.units == Units::Imperial {
            rules.cutting_step = rules.cutting_step_imperial.clone();
        }
        let before = self.mistakes.len();
        let spaces = ground::spaces(file.space);
        let panels = self.all_panels(file.panel);
        let places = self.all_places(file.place);
        let tolerance = rules.measuring_tolerance.value;
        let legs = file.leg.into_iter();
        let legs: Vec<_> = legs.map(|leg| self.leg(leg, tolerance)).collect();
        let after_ground = self.mistakes.len();
        self.ground_is_sound = after_ground == before;
        // Chassis points come first: the cases of alternators and loads refer to them.
        let chassis = numbered(file.chassis, |index, given| self.chassis(index, given));
        let batteries = numbered(file.battery, |index, given| self.battery(index, given));
        let alternators = numbered(file.alternator, |index, given| {
            self.alternator(index, given)
        });
        let converters = numbered(file.converter, |index, given| self.converter(index, given));
        let loads = numbered(file.load, |index, given| self.load(index, given));
        let buses = numbered(file.bus, |index, given| self.bus(index, given));
        let devices = numbered(file.device, |index, given| self.device(index, given));
        let bonds = file.bond.into_iter();
        let bonds = bonds.filter_map(|bond| self.bond(bond)).collect();
        let leads = file.lead.into_iter();
        let leads = leads
            .filter_map(|lead| self.lead(lead, &rules, &loads))
            .collect();
        self.circuit_is_sound = self.mistakes.len() == after_ground;
        let states = file.state.into_iter();
        let states = states.map(|state| self.state(state, &loads)).collect();
        Some(Job {
            title: file.title,
            measured_by: file.measured_by,
            variant: None,
            units: file.units,
            currency: file.currency,
            system_voltage: file.system_voltage.value,
            setting: file.setting,
            rules,
            loosened,
            spares: file.spares,
            cold: file.climate.cold,
            hot: file.climate.hot,
            spaces,
            places,
            panels,
            legs,
            batteries,
            alternators,
            converters,
            loads,
            buses,
            devices,
            chassis,
            bonds,
            leads,
            states,
            terminals: std::mem::take(&mut self.list),
            variants: Vec::new(),
        })
    }

    fn check_figures(&mut self, file: &JobFile) {
        if !(6.0..=60.0).contains(&file.system_voltage.v()) {
            let problem = Problem::out_of_range("the system voltage", "6 V to 60 V");
            self.report(problem, file.system_voltage.span);
        }
        if file.climate.cold >= file.climate.hot {
            let reason = "the coldest day is not colder than the hottest";
            self.report(Problem::contradiction(reason), file.climate.span);
        }
        if let Some(own) = &file.rules {
            self.mistakes.extend(rules::figures(own));
        }
        if let Some(spares) = &file.spares {
            let wrong = spares_file::mistakes(spares, self.catalog);
            self.mistakes.extend(wrong);
        }
    }

    fn report(&mut self, problem: Problem, span: Span) {
        self.mistakes.push(Diagnostic::new(problem, span));
    }
}
