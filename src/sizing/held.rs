//! Choices that hold, found without numbers: judged exactly, one after the other.
//!
//! Where rings of leads make the numbers too rough for an answer, the thickest cables with devices that
//! do their tasks are a start, and each lead is then made cheaper as far as everything holds.

use super::choosing::Choosing;
use super::exact::{Broken, Exact};
use super::outfit::Outfit;

/// Times that devices are exchanged for such as do their task: each changes the shorts a little.
const MOST_REFITS: usize = 4;
/// Rounds of making leads cheaper. In each a lead comes down by no more than half of its price, so that
/// the first does not use up the room of all.
const MOST_ROUNDS: usize = 6;

impl Choosing<'_, '_> {
    /// A choice near one that holds, where the devices of some leads are all that breaks limits; `exact`
    /// and `broken` are what follows from the choice.
    pub(super) fn with_other_devices(
        &self,
        at: &[usize],
        exact: &Exact<'_>,
        broken: &[Broken],
    ) -> Option<Vec<usize>> {
        if broken.is_empty() && self.unmatched(at).is_empty() {
            return Some(at.to_vec());
        }
        let mut at = self.exchanged(at, exact, broken)?;
        for _ in 1..MOST_REFITS {
            let exact = self.exact(&at);
            let broken = self.broken(&exact, &at);
            if broken.is_empty() && self.unmatched(&at).is_empty() {
                return Some(at);
            }
            at = self.exchanged(&at, &exact, &broken)?;
        }
        None
    }

    /// A choice with such devices exchanged as break limits; `None` where one cannot be, or something
    /// else breaks one.
    fn exchanged(&self, at: &[usize], exact: &Exact<'_>, broken: &[Broken]) -> Option<Vec<usize>> {
        let mut at = at.to_vec();
        for lead in self.unmatched(&at) {
            at[lead] = self.matching_option(lead, &at)?;
        }
        for broken in broken {
            let Broken::Unguarded(lead) = *broken else {
                return None;
            };
            at[lead] = self.guarding_option(exact, lead, at[lead])?;
        }
        Some(at)
    }

    /// The option of a lead whose device does its task: the nearest in cable, of those the cheapest.
    fn guarding_option(&self, exact: &Exact<'_>, lead: usize, now: usize) -> Option<usize> {
        let (task, options) = (exact.task(lead), &self.options[lead]);
        let does = |option: &&usize| {
            let outfit = &options[**option];
            let candidate = self.stock.candidate(lead, outfit);
            let task = task.with_cable(candidate.cable, candidate.allowed.current);
            let device = self.stock.device(outfit);
            device.is_some_and(|device| task.done_by(device))
        };
        self.nearest(lead, now).iter().find(does).copied()
    }

    /// Leads that are not guarded whatever the choice, whose devices ask more of a conductor than they
    /// would have to.
    fn unmatched(&self, at: &[usize]) -> Vec<usize> {
        let pairs = self.problem.pairs.iter();
        let lost = pairs.filter(|pair| self.lost.unguarded.contains(&pair.asks));
        let mut leads: Vec<usize> = lost
            .filter(|pair| !pair.holds(at[pair.asks], at[pair.allows]))
            .map(|pair| pair.asks)
            .collect();
        leads.dedup();
        leads
    }

    /// The option of a lead nearest to the one it has that asks no more than the conductors allow.
    fn matching_option(&self, lead: usize, at: &[usize]) -> Option<usize> {
        let matches = |option: &&usize| {
            let pairs = self.problem.pairs.iter();
            let mut own = pairs.filter(|pair| pair.asks == lead);
            own.all(|pair| pair.holds_among(**option, at))
        };
        self.nearest(lead, at[lead]).iter().find(matches).copied()
    }

    /// The options of a lead, the nearest in cable first, of those the cheapest.
    fn nearest(&self, lead: usize, now: usize) -> Vec<usize> {
        let options = &self.options[lead];
        let mut near: Vec<usize> = (0..options.len()).collect();
        near.sort_by(|a, b| {
            let (a, b) = (&options[*a], &options[*b]);
            let apart = |outfit: &Outfit| outfit.rung.abs_diff(options[now].rung);
            let by_cable = apart(a).cmp(&apart(b)).then(b.rung.cmp(&a.rung));
            by_cable.then(a.price.total_cmp(&b.price))
        });
        near
    }

    /// A choice that holds made cheaper lead by lead, those first that may save most.
    pub(super) fn lowered(&self, mut at: Vec<usize>) -> Vec<usize> {
        for _ in 0..MOST_ROUNDS {
            let before = at.clone();
            for lead in self.by_saving(&at) {
                self.lower(lead, &mut at);
            }
            if at == before {
                break;
            }
        }
        at
    }

    /// Leads that a cheaper option is left for, in the order of what the cheapest would save.
    fn by_saving(&self, at: &[usize]) -> Vec<usize> {
        let saving = |lead: usize| {
            let options = &self.options[lead];
            let cheapest = options.iter().map(|outfit| outfit.price).reduce(f64::min);
            options[at[lead]].price - cheapest.unwrap_or_default()
        };
        let leads = (0..at.len()).filter(|lead| saving(*lead) > 0.0);
        let mut leads: Vec<usize> = leads.collect();
        leads.sort_by(|a, b| {
            let turns = &self.stock.turns;
            let by_saving = saving(*b).total_cmp(&saving(*a));
            by_saving.then(turns[*a].total_cmp(&turns[*b]))
        });
        leads
    }

    /// Takes the cheapest option of a lead that holds, down to half of its price, by halving: what is
    /// dearer is mostly stronger.
    fn lower(&self, lead: usize, at: &mut Vec<usize>) {
        let options = &self.options[lead];
        let now = options[at[lead]].price;
        let near =
            |option: &usize| options[*option].price < now && options[*option].price >= now / 2.0;
        let mut cheaper: Vec<usize> = (0..options.len()).filter(near).collect();
        cheaper.sort_by(|a, b| options[*a].price.total_cmp(&options[*b].price));
        let (mut from, mut to) = (0, cheaper.len());
        while from < to {
            let middle = from.midpoint(to);
            let mut lower = at.clone();
            lower[lead] = cheaper[middle];
            if self.holds(&lower) {
                *at = lower;
                to = middle;
            } else {
                from = middle + 1;
            }
        }
    }

    pub(super) fn holds(&self, at: &[usize]) -> bool {
        self.unmatched(at).is_empty() && self.broken(&self.exact(at), at).is_empty()
    }
}
