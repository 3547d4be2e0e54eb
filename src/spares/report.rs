//! The kit in the words of its readers: box list, cards, and what stays uncovered.

use super::bypass::{Bypass, longest};
use super::kit::{Grounds, Limits};
use super::pool::{Item, Pool, What};
use super::problem::Problem;
use super::reading::Meter;
use super::search::Choice;
use super::subject::Subject;
use super::ways::{Bar, Way};
use super::{
    Card, CardWay, Case, CasePart, KitItem, KitLimits, KitProof, KitTotal, LongestRun, Replaced,
    Spares, kind_words,
};
use crate::catalog::{Consequence, FailureRow};
use crate::circuit::LeadDuty;
use crate::fittings::Amount;
use crate::quantity::{Mass, Money};

/// A way in which a part of the plan may fail.
#[derive(Debug, Clone)]
pub(super) struct Failure<'a> {
    pub row: &'a FailureRow,
    pub subject: Subject,
    /// Names of what is stopped.
    pub stops: Vec<String>,
    pub consequence: Consequence,
    pub weight: u64,
    pub ways: Result<Vec<Way>, Bar>,
}

/// What the kit is told from.
#[derive(Debug)]
pub(super) struct Report<'a, 'b> {
    pub grounds: &'b Grounds<'a>,
    pub limits: &'b Limits,
    pub pool: &'b Pool<'a, 'b>,
    pub bypasses: &'b [Bypass<'a>],
    pub duties: &'b [LeadDuty],
    pub problem: &'b Problem,
    pub choice: &'b Choice,
    pub meter: Meter<'b>,
}

impl Report<'_, '_> {
    /// All of it.
    pub(super) fn spares(
        &self,
        failures: &[Failure<'_>],
        mut wrenches_left: Vec<String>,
    ) -> Spares {
        let row = &self.limits.row;
        wrenches_left.extend(self.wrenches_that_do_not_fit());
        let taken = || {
            self.pool
                .items
                .iter()
                .enumerate()
                .filter(|(at, _)| self.holds(*at))
        };
        let mut items: Vec<KitItem> = taken().map(|(at, item)| self.item(at, item)).collect();
        items.sort_by_cached_key(|item| (self.rank(item), item.description.clone()));
        let units = self.grounds.work.job.units;
        let mass: Mass = taken().map(|(_, item)| item.mass).sum();
        Spares {
            limits: KitLimits {
                mass_kg: row.mass.kg(),
                mass_shown: units.mass(row.mass),
                volume_l: row.volume.l(),
                money: row.money.rounded(self.grounds.work.job.currency),
                access: row.access,
                source: self.limits.source.clone(),
            },
            currency: self.grounds.work.job.currency,
            total: KitTotal {
                mass_kg: mass.kg(),
                mass_shown: units.mass(mass),
                volume_l: taken().map(|(_, item)| item.volume.l()).sum(),
                price: taken()
                    .map(|(_, item)| item.price)
                    .sum::<Money>()
                    .rounded(self.grounds.work.job.currency),
            },
            proof: self.proof(failures),
            items,
            longest: self.longest(),
            wrenches_left,
            cards: self.cards(failures),
            uncovered: self.uncovered(failures),
        }
    }

    pub(super) fn holds(&self, item: usize) -> bool {
        self.choice.taken.get(item).copied().unwrap_or(false)
    }

    /// Tools last: what is used up is looked for first.
    fn rank(&self, item: &KitItem) -> usize {
        let order = [
            "bypass lead",
            "fuse",
            "holder",
            "breaker",
            "switch",
            "contactor",
            "connector",
        ];
        let last = ["consumable", "die", "tool"];
        let early = order.iter().position(|kind| item.kind == *kind);
        let late = last.iter().position(|kind| item.kind == *kind);
        early.or(late.map(|at| 100 + at)).unwrap_or(50)
    }

    fn wrenches_that_do_not_fit(&self) -> Vec<String> {
        let left = self.problem.must.iter().filter(|item| !self.holds(**item));
        let items = left.filter_map(|item| self.pool.items.get(*item));
        let told = |item: &Item| {
            format!(
                "{}: the wrenches do not fit the limits all together",
                item.description
            )
        };
        items.map(told).collect()
    }

    fn item(&self, at: usize, item: &Item) -> KitItem {
        let (part, kind) = match &item.what {
            What::Part(kind, id) => (Some(id.clone()), Some(*kind)),
            What::Bypass(_) => (None, None),
        };
        let bypass = match item.what {
            What::Bypass(number) => self.bypasses.get(number),
            What::Part(..) => None,
        };
        KitItem {
            part,
            kind: kind_words(kind),
            description: item.description.clone(),
            pieces: item.pieces,
            mass_g: item.mass.kg() * 1e3,
            mass_shown: self.grounds.work.job.units.mass(item.mass),
            mass_source: item.mass_source.clone(),
            volume_ml: item.volume.l() * 1e3,
            volume_source: item.volume_source.clone(),
            price: item.price.rounded(self.grounds.work.job.currency),
            owned: item.owned,
            must: self.problem.must.contains(&at),
            made_of: bypass
                .map(|bypass| self.made_of(bypass))
                .unwrap_or_default(),
            replaces: bypass
                .map(|bypass| self.replaces(bypass))
                .unwrap_or_default(),
        }
    }

    fn made_of(&self, bypass: &Bypass<'_>) -> Vec<String> {
        let needs = bypass.needs.iter().map(|need| {
            let description = self.grounds.work.describe(&need.part);
            match need.amount {
                Amount::Pieces(pieces) => format!("{pieces} × {description}"),
                Amount::Length(length) => format!(
                    "{} of {description}",
                    self.grounds.work.job.units.shown(length)
                ),
            }
        });
        needs.collect()
    }

    fn replaces(&self, bypass: &Bypass<'_>) -> Vec<Replaced> {
        let leads = bypass.covers.iter().filter_map(|id| {
            let duty = self.duties.get(id.0)?;
            Some(Replaced {
                lead: self.grounds.work.job.lead(*id).name.clone(),
                continuous_a: duty.continuous.a(),
                loses_v: bypass.loses_v(duty.continuous),
            })
        });
        leads.collect()
    }

    fn longest(&self) -> Option<LongestRun> {
        let (id, length) = longest(&self.grounds.work)?;
        let units = self.grounds.work.job.units;
        let suits = self
            .bypasses
            .iter()
            .filter(|bypass| bypass.covers.contains(&id));
        let cheapest = suits.min_by_key(|bypass| bypass.price);
        let packed = self
            .pool
            .items
            .iter()
            .enumerate()
            .any(|(at, item)| match item.what {
                What::Bypass(number) => {
                    let bypass = self.bypasses.get(number);
                    self.holds(at) && bypass.is_some_and(|bypass| bypass.covers.contains(&id))
                }
                What::Part(..) => false,
            });
        Some(LongestRun {
            lead: self.grounds.work.job.lead(id).name.clone(),
            length_m: length.m(),
            length_shown: units.shown(length),
            bypass: cheapest.map(|bypass| bypass.words(units)),
            mass_kg: cheapest.map(|bypass| bypass.bulk.mass.kg()),
            mass_shown: cheapest.map(|bypass| units.mass(bypass.bulk.mass)),
            price: cheapest.map(|bypass| bypass.price.rounded(self.grounds.work.job.currency)),
            packed,
        })
    }

    fn proof(&self, failures: &[Failure<'_>]) -> KitProof {
        let all: u64 = failures.iter().map(|one| one.weight).sum();
        let mendable = failures.iter().filter(|one| one.ways.is_ok());
        let mendable = mendable.map(|one| one.weight).sum();
        let (covered, bound) = (self.choice.weight, self.choice.bound);
        let part = |weight: u64| 100.0 * weight as f64 / all.max(1) as f64;
        let told = if self.choice.proved {
            format!(
                "It mends {:.0} % of all that may fail, by weight; {:.0} % could be mended at the \
                 roadside at all. No kit within these limits mends more, none that mends as much is \
                 cheaper, and none of these is lighter: that is proved.",
                part(covered),
                part(mendable)
            )
        } else {
            format!(
                "It mends {:.0} % of all that may fail, by weight; {:.0} % could be mended at the \
                 roadside at all. The search ended before it was proved the best: no kit within these \
                 limits mends more than {:.0} %.",
                part(covered),
                part(mendable),
                part(bound)
            )
        };
        KitProof {
            all,
            mendable,
            covered,
            bound,
            proved: self.choice.proved,
            wrenches_fit: self.problem.must_fits(),
            told,
        }
    }

    /// The first way that the kit holds everything for.
    pub(super) fn way<'f>(&self, failure: &'f Failure<'_>) -> Option<&'f Way> {
        let mut ways = failure.ways.iter().flatten();
        ways.find(|way| way.items.iter().all(|item| self.holds(*item)))
    }

    fn cards(&self, failures: &[Failure<'_>]) -> Vec<Card> {
        let mut cards: Vec<Card> = Vec::new();
        for row in &self.grounds.work.catalog.failures {
            let covered = failures.iter().filter(|one| one.row.name == row.name);
            let covered: Vec<(&Failure<'_>, &Way)> = covered
                .filter(|one| one.weight > 0)
                .filter_map(|one| Some((one, self.way(one)?)))
                .collect();
            if covered.is_empty() {
                continue;
            }
            let mut used: Vec<usize> = covered.iter().map(|(_, way)| way.row).collect();
            used.sort_unstable();
            used.dedup();
            let ways = used.iter().enumerate().filter_map(|(at, way)| {
                Some(CardWay {
                    letter: letter(at),
                    steps: row.mend.get(*way)?.steps.clone(),
                })
            });
            let cases = covered.iter().map(|(failure, way)| {
                let at = used
                    .iter()
                    .position(|row| *row == way.row)
                    .unwrap_or_default();
                self.case(failure, way, letter(at))
            });
            let mut cases = together(cases);
            cases.sort_by_key(|case| std::cmp::Reverse(case.weight));
            cards.push(Card {
                failure: row.name.value.clone(),
                of: row.of,
                shows: row.shows.clone(),
                wrong: row.wrong.clone(),
                cautions: self.cautions(row),
                ways: ways.collect(),
                cases,
                source: row.source.clone(),
            });
        }
        let heaviest = |card: &Card| {
            let weights = card
                .cases
                .iter()
                .map(|case| case.weight * case.parts.len() as u64);
            weights.sum::<u64>()
        };
        cards.sort_by_key(|card| std::cmp::Reverse(heaviest(card)));
        cards
    }

    /// The short words of the cautions that a failure names; a name that is not known says itself.
    fn cautions(&self, row: &FailureRow) -> Vec<String> {
        let library = &self.grounds.library.cautions;
        let words = row.cautions.iter().map(|name| {
            let known = library.iter().find(|caution| *caution.name == *name);
            known.map_or_else(|| name.clone(), |caution| caution.short.clone())
        });
        words.collect()
    }

    fn case(&self, failure: &Failure<'_>, way: &Way, letter: String) -> Case {
        let items = way
            .items
            .iter()
            .filter_map(|item| self.pool.items.get(*item));
        Case {
            parts: vec![CasePart {
                what: failure.subject.name.clone(),
                place: failure.subject.place.clone(),
            }],
            stops: failure.stops.clone(),
            consequence: failure.consequence,
            weight: failure.weight,
            reading: self.meter.reading(failure.row.reading, &failure.subject),
            way: letter,
            take: items.map(|item| item.description.clone()).collect(),
        }
    }
}

/// Cases that differ in nothing but the part, told together.
fn together(cases: impl Iterator<Item = Case>) -> Vec<Case> {
    let mut all: Vec<Case> = Vec::new();
    for case in cases {
        let same = |known: &&mut Case| {
            (
                &known.stops,
                known.weight,
                &known.reading,
                &known.way,
                &known.take,
            ) == (
                &case.stops,
                case.weight,
                &case.reading,
                &case.way,
                &case.take,
            )
        };
        match all.iter_mut().find(same) {
            Some(known) => known.parts.extend(case.parts),
            None => all.push(case),
        }
    }
    all
}

fn letter(at: usize) -> String {
    let letters = 'A'..='Z';
    letters.into_iter().nth(at).unwrap_or('Z').to_string()
}
