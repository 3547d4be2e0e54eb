//! Things that are easily forgotten, chosen by what the job contains.

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
    let mut listed = bought.chain(shelf).chain(&purchase.tools_owned).chain(at_hand);
    listed.any(|description| {
        let description = description.to_lowercase();
        row.already.iter().any(|word| description.contains(word.as_str()))
    })
}

/// The text, with the commonest part where one of a kind should be to spare and is not.
fn text(row: &Reminder, lines: &[BillLine]) -> Option<String> {
    let Some(kind) = row.spare_of else {
        return Some(row.text.clone());
    };
    let mut of_kind: Vec<&BillLine> = lines.iter().filter(|line| line.kind == kind).collect();
    of_kind.sort_by_key(|line| std::cmp::Reverse(needed(line)));
    let commonest = of_kind.first()?;
    let over = held(commonest).saturating_sub(needed(commonest));
    (over < u64::from(row.spares)).then(|| row.text.replace("{part}", &commonest.description))
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
