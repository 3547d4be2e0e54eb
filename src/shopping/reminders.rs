//! Things that are easily forgotten, chosen by what the job contains.

use std::collections::BTreeMap;

use crate::catalog::{Catalog, Pack, PartKind, Reminder};
use crate::purchase::{BillLine, Purchase};

/// The reminders that hold for a purchase and that name nothing which is on a list already.
pub(super) fn of(purchase: &Purchase, at_hand: &[String], catalog: &Catalog) -> Vec<String> {
    let lines = &purchase.bill.lines;
    let uses = |kind: &PartKind| {
        let shelf = purchase.from_stock.iter();
        let mut shelf = shelf.filter_map(|item| catalog.part(&item.part));
        lines.iter().any(|line| line.kind == *kind) || shelf.any(|part| part.kind() == *kind)
    };
    let rows = catalog.reminders.iter();
    let rows = rows.filter(|row| row.with_kinds.is_empty() || row.with_kinds.iter().any(uses));
    let rows = rows.filter(|row| !is_listed(row, purchase, at_hand));
    rows.filter_map(|row| text(row, lines)).collect()
}

/// Whether something on any of the lists has one of the words in it.
fn is_listed(row: &Reminder, purchase: &Purchase, at_hand: &[String]) -> bool {
    let bills = purchase.bill.lines.iter().chain(&purchase.tools.lines);
    let bought = bills.map(|line| &line.description);
    let shelf = purchase.from_stock.iter().map(|item| &item.description);
    let mut listed = bought
        .chain(shelf)
        .chain(&purchase.tools_owned)
        .chain(at_hand);
    listed.any(|description| {
        let description = description.to_lowercase();
        row.already
            .iter()
            .any(|word| description.contains(word.as_str()))
    })
}

/// The text, with the commonest part where one of a kind should be to spare and is not.
fn text(row: &Reminder, lines: &[BillLine]) -> Option<String> {
    let Some(kind) = row.spare_of else {
        return Some(row.text.clone());
    };
    let of_kind = lines.iter().filter(|line| line.kind == kind);
    let mut parts: BTreeMap<&str, Spare<'_>> = BTreeMap::new();
    for line in of_kind {
        let part = parts.entry(&line.part).or_insert_with(|| Spare::of(line));
        part.needed += needed(line);
        part.held += held(line);
    }
    // Of equals the first by id.
    let commonest = parts.values().rev().max_by_key(|part| part.needed)?;
    let over = commonest.held.saturating_sub(commonest.needed);
    (over < u64::from(row.spares)).then(|| row.text.replace("{part}", commonest.description))
}

/// All of one part.
struct Spare<'a> {
    description: &'a str,
    needed: u64,
    held: u64,
}

impl<'a> Spare<'a> {
    fn of(line: &'a BillLine) -> Self {
        Self {
            description: &line.description,
            needed: 0,
            held: 0,
        }
    }
}

/// Pieces that the job needs of a line.
fn needed(line: &BillLine) -> u64 {
    line.quantity.parse().unwrap_or(0)
}

/// Pieces in its packs.
fn held(line: &BillLine) -> u64 {
    match line.contents {
        Pack::Pieces(pieces) => u64::from(pieces) * u64::from(line.packs),
        Pack::Length(_) => 0,
    }
}
