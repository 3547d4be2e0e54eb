//! Leads and states.

use super::Resolver;
use crate::catalog::{Polarity, RuleSet};
use crate::diagnostic::{Problem, Subject};
use crate::file::Choice;
use crate::job::file::{LeadFile, Name, StateFile};
use crate::job::id::{BatteryId, LoadId, TerminalId};
use crate::job::model::{Lead, Load, Owner, Protected, State, Unprotected};
use crate::job::protect::Protect;
use crate::job::words::{Engine, Speed};
use crate::quantity::Ratio;

impl Resolver<'_> {
    /// `None` after a mistake.
    pub(super) fn lead(&mut self, lead: LeadFile, rules: &RuleSet, loads: &[Load]) -> Option<Lead> {
        self.check_parts(&lead);
        let (from, to) = (self.find_terminal(&lead.from), self.find_terminal(&lead.to));
        let (via, avoid) = (self.places(&lead.via), self.places(&lead.avoid));
        let protect_at = lead.protect_at.as_ref().map(|name| self.place(name));
        let (from, to) = (from?, to?);
        if from == to {
            let reason = "the lead ends where it starts";
            self.report(Problem::contradiction(reason), lead.to.span);
        }
        let protected = self.protected(lead.protect.value, [from, to], rules, loads);
        Some(Lead {
            name: lead.name.value,
            from,
            to,
            via,
            avoid,
            size: lead.size.fixed().copied(),
            family: lead.cable.fixed().map(|family| family.value.clone()),
            colour: lead.colour,
            polarity: Polarity::Positive,
            protected,
            protect_at: protect_at.unwrap_or(self.list[from.0].place),
            link: lead.link.unwrap_or(rules.link_length.value),
            moves: lead.moves,
            own_clamps: lead.own_clamps,
            span: lead.span,
        })
    }

    fn check_parts(&mut self, lead: &LeadFile) {
        let catalog = self.catalog;
        if let Choice::Fixed(family) = &lead.cable {
            self.require(Subject::CableFamily, family, &catalog.cable_families());
        }
        if let Protect::Part(id) = &lead.protect.value {
            let name = Name {
                value: id.clone(),
                span: lead.protect.span,
            };
            let breakers = catalog.breakers.iter().map(|row| row.id.as_str());
            let fuses = catalog.fuses.iter().map(|row| row.id.as_str());
            let known: Vec<&str> = breakers.chain(fuses).collect();
            self.require(Subject::Part, &name, &known);
        }
    }

    fn protected(
        &self,
        wish: Protect,
        ends: [TerminalId; 2],
        rules: &RuleSet,
        loads: &[Load],
    ) -> Protected {
        let owners = ends.map(|id| self.list[id.0].owner);
        let starter = |owner: &Owner| match owner {
            Owner::Load(index) => loads.get(*index).is_some_and(Load::is_starter),
            _ => false,
        };
        let at_source = matches!(owners[0], Owner::Battery(_) | Owner::Bus(_));
        let reason = match wish {
            Protect::Rating(rating) => return Protected::Rating(rating),
            Protect::Part(id) => return Protected::Part(id),
            Protect::None => Unprotected::User,
            Protect::Auto if rules.starter_unprotected.value && owners.iter().any(starter) => {
                Unprotected::StarterPermitted
            }
            Protect::Auto if at_source => return Protected::Auto,
            Protect::Auto => Unprotected::Downstream,
        };
        Protected::No { reason }
    }

    fn dead(&mut self, names: &[Name]) -> Vec<BatteryId> {
        let mut dead = Vec::new();
        for name in names {
            let Some(index) = self.batteries.find(name, &mut self.mistakes) else {
                continue;
            };
            if dead.contains(&BatteryId(index)) {
                let reason = format!("`{}` is named twice among the dead", name.value);
                self.report(Problem::contradiction(reason), name.span);
            }
            dead.push(BatteryId(index));
        }
        dead
    }

    pub(super) fn state(&mut self, state: StateFile, loads: &[Load]) -> State {
        const FULL: Ratio = Ratio::from_fraction(1.0);
        if state.charge.is_some_and(|charge| charge > FULL) {
            let what = format!("the state of charge in `{}`", *state.name);
            self.report(Problem::out_of_range(what, "0 % to 100 %"), state.span);
        }
        let mut on: Vec<LoadId> = Vec::new();
        for name in &state.loads {
            let Some(index) = self.loads.find(name, &mut self.mistakes) else {
                continue;
            };
            if on.contains(&LoadId(index)) {
                let reason = format!("`{}` is named twice in this state", name.value);
                self.report(Problem::contradiction(reason), name.span);
            }
            let turns = matches!(state.engine, Engine::Cranking | Engine::Locked);
            if loads.get(index).is_some_and(Load::is_starter) && !turns {
                let reason = format!("`{}` is a starter, but the engine is not cranked", **name);
                let help = "take it out of `loads`, or set `engine` to \"cranking\"";
                let problem = Problem::contradiction_with_help(reason, help);
                self.report(problem, name.span);
            }
            on.push(LoadId(index));
        }
        if state.speed == Speed::Idle && state.engine != Engine::Running {
            let reason = format!(
                "in `{}` the engine does not run, so it cannot idle",
                *state.name
            );
            let help = "take `speed` away, or set `engine` to \"running\"";
            let problem = Problem::contradiction_with_help(reason, help);
            self.report(problem, state.span);
        }
        State {
            dead: self.dead(&state.dead),
            name: state.name.value,
            speed: state.speed,
            engine: state.engine,
            season: state.season,
            loads: on,
            charge: state.charge,
        }
    }
}
