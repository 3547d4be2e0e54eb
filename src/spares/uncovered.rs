//! What a kit leaves uncovered, and why.

use super::problem::Burden;
use super::report::{Failure, Report};
use super::ways::{Bar, Way};
use super::{Uncover, Uncovered, UncoveredCase};

impl Report<'_, '_> {
    /// Failures that the kit does not mend, the weightiest first.
    pub(super) fn uncovered(&self, failures: &[Failure<'_>]) -> Vec<Uncovered> {
        let mut left: Vec<Uncovered> = Vec::new();
        let open = failures
            .iter()
            .filter(|one| one.weight == 0 || self.way(one).is_none());
        for failure in open {
            let (reason, told) = self.reason(failure);
            let case = UncoveredCase {
                what: failure.subject.name.clone(),
                place: failure.subject.place.clone(),
                stops: failure.stops.clone(),
                weight: failure.weight,
            };
            let name = &failure.row.name.value;
            let same = |one: &&mut Uncovered| one.failure == *name && one.told == told;
            match left.iter_mut().find(same) {
                Some(known) => {
                    known.weight += case.weight;
                    known.cases.push(case);
                }
                None => left.push(Uncovered {
                    failure: name.clone(),
                    reason,
                    told,
                    weight: case.weight,
                    cases: vec![case],
                    instead: failure.row.instead.clone(),
                }),
            }
        }
        left.sort_by_key(|one| std::cmp::Reverse(one.weight));
        left
    }

    /// Why a failure stays uncovered, and the same in words.
    fn reason(&self, failure: &Failure<'_>) -> (Uncover, String) {
        let access = failure.subject.access;
        let ways = match &failure.ways {
            _ if failure.weight == 0 => {
                return (Uncover::NoWeight, "it was given no weight".to_owned());
            }
            Ok(ways) => ways,
            Err(Bar::NoMend) => {
                return (
                    Uncover::NoMend,
                    "nothing in a kit mends it at the roadside".to_owned(),
                );
            }
            Err(Bar::OutOfReach) => {
                return (
                    Uncover::OutOfReach,
                    format!("it cannot be reached for this at the roadside: access is {access}"),
                );
            }
            Err(Bar::NotToBeHad) => {
                return (
                    Uncover::NotToBeHad,
                    "a part or tool that it takes is not to be had".to_owned(),
                );
            }
        };
        let more = ways.iter().map(|way| self.more(way));
        let least = more.min_by_key(|more| (self.excess(*more).len(), more.price, more.grams));
        let excess = least.map(|more| self.excess(more)).unwrap_or_default();
        let told = |what: &str| format!("what it takes is {what} beside what is worth more");
        match excess.first() {
            Some(Uncover::TooHeavy) => (Uncover::TooHeavy, told("too heavy")),
            Some(Uncover::NoRoom) => (Uncover::NoRoom, told("too large for the box")),
            _ => (Uncover::TooDear, told("too dear")),
        }
    }

    /// What a way would add to the kit.
    fn more(&self, way: &Way) -> Burden {
        let missing = way.items.iter().filter(|item| !self.holds(**item));
        missing
            .filter_map(|item| self.problem.items.get(*item))
            .copied()
            .sum()
    }

    /// The limits that an addition to the kit would break.
    fn excess(&self, more: Burden) -> Vec<Uncover> {
        let sum = self.problem.burden(&self.choice.taken).plus(more);
        let limits = self.problem.limits;
        let broken = [
            (sum.grams > limits.grams, Uncover::TooHeavy),
            (sum.millilitres > limits.millilitres, Uncover::NoRoom),
            (sum.price > limits.price, Uncover::TooDear),
        ];
        broken
            .into_iter()
            .filter(|(broken, _)| *broken)
            .map(|(_, why)| why)
            .collect()
    }
}
