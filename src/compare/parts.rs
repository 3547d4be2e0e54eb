//! Which parts differ between two plans.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use super::space::space;
use crate::catalog::{Catalog, PartKind};
use crate::fittings::{Amount, Need};
use crate::job::Units;
use crate::plan::Plan;
use crate::quantity::Length;

/// A part that differs.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PartChange {
    /// What kind it is.
    pub kind: PartKind,
    /// The part before; nothing where it is added.
    pub before: Option<Side>,
    /// The part now; nothing where it is dropped.
    pub after: Option<Side>,
    /// What the one did that the other does now; empty where none takes its place.
    pub uses: Vec<String>,
}

/// A part in one of the plans.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Side {
    /// Its id.
    pub part: String,
    /// One line on it.
    pub description: String,
    /// How much of it the plan takes in all.
    pub amount: String,
    /// How much room it takes, where the catalog tells.
    pub space: Option<String>,
}

/// Pieces and metres of a part.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
struct Sum {
    pieces: u32,
    length: Length,
}

impl Sum {
    fn is_nothing(self) -> bool {
        self == Self::default()
    }

    fn shown(self, units: Units) -> String {
        match (self.pieces, self.length > Length::ZERO) {
            (1, false) => "1 piece".to_owned(),
            (pieces, false) => format!("{pieces} pieces"),
            (_, true) => units.shown(self.length),
        }
    }

    /// Lengths differ from a centimetre on: what is less is no other purchase.
    fn differs(self, other: Self) -> bool {
        self.pieces != other.pieces || (self.length.m() - other.length.m()).abs() >= 0.01
    }
}

/// Part by part: first those that others replace, then those added, dropped, or taken in another
/// number.
pub fn changes(before: &Plan, after: &Plan, catalog: &Catalog, units: Units) -> Vec<PartChange> {
    let (old, new) = (&before.fittings.needs, &after.fittings.needs);
    let (old_sums, new_sums) = (sums(old), sums(new));
    let side = |sums: &BTreeMap<&str, (PartKind, Sum)>, id: &str| {
        let (_, sum) = sums.get(id)?;
        (!sum.is_nothing()).then(|| Side {
            part: id.to_owned(),
            description: catalog
                .part(id)
                .map_or(id, |part| part.description())
                .to_owned(),
            amount: sum.shown(units),
            space: space(id, catalog, units),
        })
    };
    let mut changes = Vec::new();
    let mut told = BTreeSet::new();
    for ((from, to), (kind, uses)) in replaced(old, new) {
        told.extend([from, to]);
        changes.push(PartChange {
            kind,
            before: side(&old_sums, from),
            after: side(&new_sums, to),
            uses,
        });
    }
    let ids: BTreeSet<&str> = old_sums.keys().chain(new_sums.keys()).copied().collect();
    for id in ids.into_iter().filter(|id| !told.contains(id)) {
        let (old, new) = (old_sums.get(id), new_sums.get(id));
        let sum = |row: Option<&(PartKind, Sum)>| row.map(|(_, sum)| *sum).unwrap_or_default();
        if let Some((kind, _)) = new.or(old).filter(|_| sum(old).differs(sum(new))) {
            changes.push(PartChange {
                kind: *kind,
                before: side(&old_sums, id),
                after: side(&new_sums, id),
                uses: Vec::new(),
            });
        }
    }
    changes
}

fn sums(needs: &[Need]) -> BTreeMap<&str, (PartKind, Sum)> {
    let mut sums: BTreeMap<&str, (PartKind, Sum)> = BTreeMap::new();
    for need in needs {
        let (_, sum) = sums
            .entry(&need.part)
            .or_insert((need.kind, Sum::default()));
        match need.amount {
            Amount::Pieces(pieces) => sum.pieces += pieces,
            Amount::Length(length) => sum.length += length,
        }
    }
    sums
}

/// Part and part that takes its place, with their kind and what they are for.
type Replaced<'a> = BTreeMap<(&'a str, &'a str), (PartKind, Vec<String>)>;

/// Needs of one kind and purpose that other parts meet now.
fn replaced<'a>(old: &'a [Need], new: &'a [Need]) -> Replaced<'a> {
    let mut waiting: BTreeMap<(PartKind, &str), Vec<&Need>> = BTreeMap::new();
    for need in new.iter().rev() {
        waiting
            .entry((need.kind, &need.purpose))
            .or_default()
            .push(need);
    }
    let mut replaced = Replaced::new();
    for need in old {
        let same = waiting.get_mut(&(need.kind, need.purpose.as_str()));
        let Some(now) = same.and_then(Vec::pop) else {
            continue;
        };
        if now.part != need.part {
            let pair = (need.part.as_str(), now.part.as_str());
            let (_, uses) = replaced.entry(pair).or_insert((need.kind, Vec::new()));
            if !uses.contains(&need.purpose) {
                uses.push(need.purpose.clone());
            }
        }
    }
    replaced
}
