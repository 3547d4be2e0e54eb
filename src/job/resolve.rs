//! From names to positions.

use super::file::{AlternatorFile, JobFile, LeadFile, LegFile, LoadFile, Name};
use super::id::{LoadId, PanelId, PlaceId, SpaceId, TerminalId};
use super::model::{
    Alternator, Battery, Bond, Bus, Chassis, Demand, Device, Job, Lead, Leg, Load, Owner, Panel,
    Place, Protected, Space, State, Stud, Terminal, Unprotected,
};
use super::names::Names;
use super::words::LoadKind;
use super::{Protect, rules, states};
use crate::catalog::{Catalog, Polarity, PostKind, RuleSet};
use crate::diagnostic::{Diagnostic, Problem, Span, Subject, nearest};
use crate::file::Choice;

/// What resolving needs at every step.
struct Resolver<'a> {
    catalog: &'a Catalog,
    spaces: Names,
    places: Names,
    panels: Names,
    terminals: Names,
    list: Vec<Terminal>,
    mistakes: Vec<Diagnostic>,
}

/// Resolves every name of the file.
///
/// # Errors
/// Every unknown or doubled name and every key that a kind of thing lacks.
pub fn resolve(file: JobFile, catalog: &Catalog) -> Result<Job, Vec<Diagnostic>> {
    let mut mistakes = Vec::new();
    let spaces = Names::collect(
        Subject::Space,
        file.space.iter().map(|s| &s.name),
        &mut mistakes,
    );
    let places = Names::collect(
        Subject::Place,
        file.place.iter().map(|p| &p.name),
        &mut mistakes,
    );
    let panels = Names::collect(
        Subject::Panel,
        file.panel.iter().map(|p| &p.name),
        &mut mistakes,
    );
    let _ = Names::collect(
        Subject::Lead,
        file.lead.iter().map(|l| &l.name),
        &mut mistakes,
    );
    let _ = Names::collect(Subject::Item, item_names(&file), &mut mistakes);
    let _ = Names::collect(
        Subject::State,
        file.state.iter().map(|s| &s.name),
        &mut mistakes,
    );
    let loads = Names::collect(
        Subject::Load,
        file.load.iter().map(|l| &l.name),
        &mut Vec::new(),
    );
    let mut resolver = Resolver {
        catalog,
        spaces,
        places,
        panels,
        terminals: Names::collect(Subject::Terminal, [], &mut Vec::new()),
        list: Vec::new(),
        mistakes,
    };
    let job = resolver.job(file, &loads);
    match job {
        Some(job) if resolver.mistakes.is_empty() => Ok(job),
        _ => Err(resolver.mistakes),
    }
}

/// Names that terminals are made from; they share one set.
fn item_names(file: &JobFile) -> impl Iterator<Item = &Name> {
    let batteries = file.battery.iter().map(|item| &item.name);
    batteries
        .chain(file.alternator.iter().map(|item| &item.name))
        .chain(file.load.iter().map(|item| &item.name))
        .chain(file.bus.iter().map(|item| &item.name))
        .chain(file.device.iter().map(|item| &item.name))
        .chain(file.chassis.iter().map(|item| &item.name))
}

/// Reads every item even after one has failed, so that all mistakes are seen.
fn every<T, U>(items: Vec<T>, mut convert: impl FnMut(T) -> Option<U>) -> Option<Vec<U>> {
    let converted: Vec<Option<U>> = items.into_iter().map(&mut convert).collect();
    converted.into_iter().collect()
}

impl Resolver<'_> {
    fn job(&mut self, file: JobFile, load_names: &Names) -> Option<Job> {
        let set = self.catalog.rules(file.setting);
        let Some(set) = set.cloned() else {
            let setting = file.setting;
            let reason = format!("the catalog has no rules for the setting `{setting}`");
            self.report(Problem::contradiction(reason), file.span);
            return None;
        };
        let (rules, loosened) = match &file.rules {
            Some(own) => rules::apply(set, own),
            None => (set, Vec::new()),
        };
        let spaces = file.space.into_iter().map(|space| Space {
            name: space.name.value,
            temperature: space.temperature,
            engine_space: space.engine_space,
            occupied: space.occupied,
            wet: space.wet,
            vapour: space.vapour,
        });
        let panels = file.panel.into_iter().map(|panel| Panel {
            name: panel.name.value,
            thickness: panel.thickness,
            material: panel.material,
            passage: panel.passage,
        });
        let (spaces, panels) = (spaces.collect(), panels.collect());
        let places = every(file.place, |place| {
            Some(Place {
                space: SpaceId(self.spaces.find(&place.space, &mut self.mistakes)?),
                name: place.name.value,
            })
        });
        let legs = every(file.leg, |leg| self.leg(leg));
        // Chassis points come first: the cases of alternators and loads refer to them.
        let chassis = every_numbered(file.chassis, |index, given| self.chassis(index, given));
        let batteries = every_numbered(file.battery, |index, given| {
            let place = self.place(&given.place)?;
            let stud = match (given.post, given.stud) {
                (PostKind::Tapered, _) => Stud::Post,
                (PostKind::Stud, Some(thread)) => Stud::Thread(thread),
                (PostKind::Stud, None) => {
                    let reason = "a battery with studs needs the key `stud`";
                    self.report(Problem::contradiction(reason), given.span);
                    return None;
                }
            };
            let owner = Owner::Battery(index);
            let (positive, negative) = self.poles(&given.name, place, owner, stud);
            Some(Battery {
                given,
                place,
                positive,
                negative,
            })
        });
        let alternators = every_numbered(file.alternator, |index, given| {
            self.alternator(index, given)
        });
        let loads = every_numbered(file.load, |index, given| self.load(index, given));
        let buses = every_numbered(file.bus, |index, given| {
            let place = self.place(&given.place)?;
            if let Choice::Fixed(part) = &given.part {
                let ids = self.catalog.buses.iter().map(|bus| bus.id.as_str());
                self.require_part(part, ids.collect());
            }
            let pole = Some(given.polarity);
            let name = given.name.value.clone();
            let terminal =
                self.terminal(name, &given.name, place, Owner::Bus(index), Stud::Bus, pole);
            Some(Bus {
                given,
                place,
                terminal,
            })
        });
        let devices = every_numbered(file.device, |index, given| {
            let place = self.place(&given.place)?;
            self.require_part(&given.part, device_ids(self.catalog));
            let owner = Owner::Device(index);
            let mut side = |word: &str| {
                let name = format!("{} {word}", given.name.value);
                self.terminal(name, &given.name, place, owner, Stud::Device, None)
            };
            let (input, output) = (side("in"), side("out"));
            Some(Device {
                given,
                place,
                input,
                output,
            })
        });
        let bonds = every(file.bond, |given| {
            let from = self.terminals.find(&given.from, &mut self.mistakes);
            let to = self.terminals.find(&given.to, &mut self.mistakes);
            let (from, to) = (TerminalId(from?), TerminalId(to?));
            Some(Bond { given, from, to })
        });
        let rules_for_leads = rules.clone();
        let loads_for_leads: Vec<bool> = loads.iter().flatten().map(Load::is_starter).collect();
        let leads = every(file.lead, |lead| {
            self.lead(lead, &rules_for_leads, &loads_for_leads)
        });
        let given_states = every(file.state, |state| {
            let loads = load_names.find_all(&state.loads, &mut self.mistakes)?;
            Some(State {
                name: state.name.value,
                engine: state.engine,
                season: state.season,
                loads: loads.into_iter().map(LoadId).collect(),
                charge: state.charge,
            })
        });
        let mut job = Job {
            title: file.title,
            units: file.units,
            currency: file.currency,
            system_voltage: file.system_voltage.value,
            setting: file.setting,
            rules,
            loosened,
            cold: file.climate.cold,
            hot: file.climate.hot,
            spaces,
            places: places?,
            panels,
            legs: legs?,
            batteries: batteries?,
            alternators: alternators?,
            loads: loads?,
            buses: buses?,
            devices: devices?,
            chassis: chassis?,
            bonds: bonds?,
            leads: leads?,
            states: given_states?,
            terminals: std::mem::take(&mut self.list),
        };
        self.check_figures(&job, file.system_voltage.span, file.climate.span);
        states::complete(&mut job);
        super::polarity::settle(&mut job);
        Some(job)
    }

    fn check_figures(&mut self, job: &Job, voltage: Span, climate: Span) {
        if !(6.0..=60.0).contains(&job.system_voltage.v()) {
            let problem = Problem::OutOfRange {
                what: "the system voltage",
                range: "6 V to 60 V",
            };
            self.report(problem, voltage);
        }
        if job.cold >= job.hot {
            let reason = "the coldest day is not colder than the hottest";
            self.report(Problem::contradiction(reason), climate);
        }
    }

    fn report(&mut self, problem: Problem, span: Span) {
        self.mistakes.push(Diagnostic::new(problem, span));
    }

    fn place(&mut self, name: &Name) -> Option<PlaceId> {
        self.places.find(name, &mut self.mistakes).map(PlaceId)
    }

    fn places(&mut self, names: &[Name]) -> Option<Vec<PlaceId>> {
        let found = self.places.find_all(names, &mut self.mistakes)?;
        Some(found.into_iter().map(PlaceId).collect())
    }

    fn require_part(&mut self, part: &Name, ids: Vec<&str>) {
        if !ids.contains(&part.value.as_str()) {
            let problem = Problem::UnknownName {
                subject: Subject::Part,
                name: part.value.clone(),
                nearest: nearest(&part.value, ids).map(str::to_owned),
            };
            self.report(problem, part.span);
        }
    }

    fn terminal(
        &mut self,
        name: String,
        at: &Name,
        place: PlaceId,
        owner: Owner,
        stud: Stud,
        pole: Option<Polarity>,
    ) -> TerminalId {
        let id = self.list.len();
        // A doubled owner name is reported once, with the owner.
        self.terminals.insert(&name, id, at.span, &mut Vec::new());
        self.list.push(Terminal {
            name,
            place,
            owner,
            stud,
            pole,
        });
        TerminalId(id)
    }

    fn pole(
        &mut self,
        name: &Name,
        place: PlaceId,
        owner: Owner,
        stud: Stud,
        pole: Polarity,
    ) -> TerminalId {
        let sign = match pole {
            Polarity::Positive => '+',
            Polarity::Negative => '-',
        };
        let text = format!("{} {sign}", name.value);
        self.terminal(text, name, place, owner, stud, Some(pole))
    }

    fn poles(
        &mut self,
        name: &Name,
        place: PlaceId,
        owner: Owner,
        stud: Stud,
    ) -> (TerminalId, TerminalId) {
        (
            self.pole(name, place, owner, stud, Polarity::Positive),
            self.pole(name, place, owner, stud, Polarity::Negative),
        )
    }

    fn chassis(&mut self, index: usize, given: super::ChassisFile) -> Option<Chassis> {
        let place = self.place(&given.place)?;
        let stud = Stud::Thread(given.stud);
        let name = given.name.value.clone();
        let owner = Owner::Chassis(index);
        let terminal = self.terminal(name, &given.name, place, owner, stud, None);
        Some(Chassis {
            given,
            place,
            terminal,
        })
    }

    /// The negative terminal: the chassis point of the case, or a stud of its own.
    fn negative(
        &mut self,
        case: Option<&Name>,
        name: &Name,
        place: PlaceId,
        owner: Owner,
        stud: Stud,
    ) -> Option<TerminalId> {
        let Some(case) = case else {
            return Some(self.pole(name, place, owner, stud, Polarity::Negative));
        };
        let found = TerminalId(self.terminals.find(case, &mut self.mistakes)?);
        if !matches!(self.list[found.0].owner, Owner::Chassis(_)) {
            let reason = format!("`{}` is not a chassis point", case.value);
            self.report(Problem::contradiction(reason), case.span);
            return None;
        }
        Some(found)
    }

    fn alternator(&mut self, index: usize, given: AlternatorFile) -> Option<Alternator> {
        let place = self.place(&given.place)?;
        let (owner, stud) = (Owner::Alternator(index), Stud::Thread(given.stud));
        let positive = self.pole(&given.name, place, owner, stud, Polarity::Positive);
        let negative = self.negative(given.case.as_ref(), &given.name, place, owner, stud)?;
        Some(Alternator {
            given,
            place,
            positive,
            negative,
        })
    }

    fn load(&mut self, index: usize, given: LoadFile) -> Option<Load> {
        let place = self.place(&given.place);
        let demand = self.demand(&given);
        let (place, demand) = (place?, demand?);
        let (owner, stud) = (Owner::Load(index), Stud::Thread(given.stud));
        let positive = self.pole(&given.name, place, owner, stud, Polarity::Positive);
        let negative = self.negative(given.case.as_ref(), &given.name, place, owner, stud)?;
        Some(Load {
            given,
            demand,
            place,
            positive,
            negative,
        })
    }

    fn demand(&mut self, given: &LoadFile) -> Option<Demand> {
        let needs = |key: &str| {
            let reason = format!("a load of the kind `{}` needs the key `{key}`", given.kind);
            Problem::contradiction(reason)
        };
        let demand = match given.kind {
            LoadKind::ConstantCurrent => given.current.map(Demand::Current).ok_or("current"),
            LoadKind::ConstantPower => given.power.map(Demand::Power).ok_or("power"),
            LoadKind::Resistance => given.resistance.map(Demand::Resistance).ok_or("resistance"),
            LoadKind::Starter => match (given.current, given.locked) {
                (Some(running), Some(locked)) => Ok(Demand::Starter { running, locked }),
                (None, _) => Err("current"),
                (_, None) => Err("locked"),
            },
        };
        match demand {
            Ok(demand) => Some(demand),
            Err(key) => {
                self.report(needs(key), given.span);
                None
            }
        }
    }

    fn leg(&mut self, leg: LegFile) -> Option<Leg> {
        let from = self.place(&leg.from);
        let to = self.place(&leg.to);
        let space = self.spaces.find(&leg.space, &mut self.mistakes);
        let panel = match &leg.panel {
            Some(name) => Some(self.panels.find(name, &mut self.mistakes)?),
            None => None,
        };
        let length = leg.length.value;
        if length.m() <= 0.0 {
            let problem = Problem::OutOfRange {
                what: "the length of a leg",
                range: "more than nothing",
            };
            self.report(problem, leg.length.span);
        }
        if let Some(at) = &leg.panel_at {
            if at.value > length {
                let reason = "the panel is farther away than the leg is long";
                self.report(Problem::contradiction(reason), at.span);
            }
        }
        let at = leg.panel_at.map_or(length * 0.5, |at| at.value);
        Some(Leg {
            from: from?,
            to: to?,
            length,
            space: SpaceId(space?),
            access: leg.access,
            crossing: panel.map(|panel| (PanelId(panel), at)),
            bends: leg.bends,
            bend_radius: leg.bend_radius,
            sheathed: leg.sheathed,
            hazards: leg.hazard,
        })
    }

    fn lead(&mut self, lead: LeadFile, rules: &RuleSet, starters: &[bool]) -> Option<Lead> {
        let from = self.terminals.find(&lead.from, &mut self.mistakes);
        let to = self.terminals.find(&lead.to, &mut self.mistakes);
        let via = self.places(&lead.via);
        let avoid = self.places(&lead.avoid);
        let protect_at = match &lead.protect_at {
            Some(name) => self.place(name).map(Some),
            None => Some(None),
        };
        if let Choice::Fixed(family) = &lead.cable {
            let families = self.catalog.cable_families();
            if !families.contains(&family.value.as_str()) {
                let problem = Problem::UnknownName {
                    subject: Subject::CableFamily,
                    name: family.value.clone(),
                    nearest: nearest(&family.value, families).map(str::to_owned),
                };
                self.report(problem, family.span);
            }
        }
        if let Protect::Part(id) = &lead.protect.value {
            let name = Name {
                value: id.clone(),
                span: lead.protect.span,
            };
            let breakers = self.catalog.breakers.iter().map(|row| row.id.as_str());
            let fuses = self.catalog.fuses.iter().map(|row| row.id.as_str());
            self.require_part(&name, breakers.chain(fuses).collect());
        }
        let (from, to) = (TerminalId(from?), TerminalId(to?));
        if from == to {
            let reason = "the lead ends where it starts";
            self.report(Problem::contradiction(reason), lead.to.span);
        }
        let touches_starter = [from, to].iter().any(|id| {
            matches!(self.list[id.0].owner, Owner::Load(load) if starters.get(load) == Some(&true))
        });
        let at_source = matches!(self.list[from.0].owner, Owner::Battery(_) | Owner::Bus(_));
        let protected = match lead.protect.value {
            Protect::None => Protected::No {
                reason: Unprotected::User,
            },
            Protect::Rating(rating) => Protected::Rating(rating),
            Protect::Part(id) => Protected::Part(id),
            Protect::Auto if touches_starter && rules.starter_unprotected.value => Protected::No {
                reason: Unprotected::StarterPermitted,
            },
            Protect::Auto if at_source => Protected::Auto,
            Protect::Auto => Protected::No {
                reason: Unprotected::Downstream,
            },
        };
        Some(Lead {
            name: lead.name.value,
            from,
            to,
            via: via?,
            avoid: avoid?,
            size: lead.size.fixed().copied(),
            family: lead.cable.fixed().map(|family| family.value.clone()),
            colour: lead.colour,
            polarity: Polarity::Positive,
            protected,
            protect_at: protect_at?.unwrap_or(self.list[from.0].place),
            link: lead.link.unwrap_or(rules.link_length.value),
            moves: lead.moves,
            span: lead.span,
        })
    }
}

fn every_numbered<T, U>(
    items: Vec<T>,
    mut convert: impl FnMut(usize, T) -> Option<U>,
) -> Option<Vec<U>> {
    let mut index = 0;
    every(items, |item| {
        index += 1;
        convert(index - 1, item)
    })
}

fn device_ids(catalog: &Catalog) -> Vec<&str> {
    let switches = catalog.switches.iter().map(|row| row.id.as_str());
    switches
        .chain(catalog.contactors.iter().map(|row| row.id.as_str()))
        .chain(catalog.connectors.iter().map(|row| row.id.as_str()))
        .collect()
}
