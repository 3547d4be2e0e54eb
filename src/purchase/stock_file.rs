//! The shop file as it is once a job is bought, cut and built.
//!
//! Only the entries of the stock change, and of them only what was taken or comes in: whatever else
//! stands in the file, comments and all, stays as it was written. An entry that is used up stays too,
//! with nothing in it.

use toml_edit::{Array, ArrayOfTables, DocumentMut, Item, Table, TableLike, TomlError, Value};

use super::StockChange;
use super::measure::{metres, micrometres};
use crate::quantity::Length;

/// The text of a shop file with its stock changed.
///
/// # Errors
/// When the text is no TOML.
pub fn stock_after(shop: &str, changes: &[StockChange]) -> Result<String, TomlError> {
    let mut document: DocumentMut = shop.parse()?;
    for change in changes {
        take(&mut document, change);
    }
    // What comes in waits until everything is taken: positions count the file as it was.
    for change in changes {
        put(&mut document, change);
    }
    Ok(document.to_string())
}

fn take(document: &mut DocumentMut, change: &StockChange) {
    let mut entries = entries(document);
    for (entry, count) in &change.taken {
        if let Some(entry) = entries.get_mut(*entry) {
            let left = pieces(*entry).saturating_sub(i64::from(*count));
            set_pieces(*entry, left);
        }
    }
    // The last first, so that the positions of the others stay what they were.
    let mut cut = change.cut.clone();
    cut.sort_unstable_by(|a, b| b.cmp(a));
    for (entry, position) in cut {
        let entry = entries.get_mut(entry);
        let offcuts = entry.and_then(|entry| entry.get_mut("offcuts")?.as_array_mut());
        if let Some(offcuts) = offcuts.filter(|offcuts| position < offcuts.len()) {
            offcuts.remove(position);
        }
    }
}

fn put(document: &mut DocumentMut, change: &StockChange) {
    if change.pieces == 0 && change.offcuts.is_empty() {
        return;
    }
    let colour = change.colour.map(|colour| colour.as_str());
    let is_same = |entry: &&mut dyn TableLike| {
        let text = |key: &str| entry.get(key).and_then(Item::as_str).map(str::to_owned);
        let named = text("colour");
        text("part").as_deref() == Some(change.part.as_str())
            && (named.is_none() || named.as_deref() == colour)
    };
    if let Some(entry) = entries(document).into_iter().find(is_same) {
        fill(entry, change);
        return;
    }
    let stock = document.entry("stock");
    let stock = stock.or_insert_with(|| Item::ArrayOfTables(ArrayOfTables::new()));
    match stock {
        Item::ArrayOfTables(tables) => {
            let mut table = Table::new();
            name(&mut table, change);
            tables.push(table);
        }
        Item::Value(Value::Array(values)) => {
            let mut table = toml_edit::InlineTable::new();
            name(&mut table, change);
            values.push(table);
        }
        _ => {}
    }
}

/// Names the part of a new entry and fills it.
fn name(entry: &mut dyn TableLike, change: &StockChange) {
    entry.insert("part", toml_edit::value(change.part.as_str()));
    if let Some(colour) = change.colour {
        entry.insert("colour", toml_edit::value(colour.as_str()));
    }
    fill(entry, change);
}

/// Adds what comes in.
fn fill(entry: &mut dyn TableLike, change: &StockChange) {
    if change.pieces > 0 {
        let all = pieces(entry).saturating_add(i64::from(change.pieces));
        set_pieces(entry, all);
    }
    if change.offcuts.is_empty() {
        return;
    }
    if !entry.contains_key("offcuts") {
        entry.insert("offcuts", toml_edit::value(Array::new()));
    }
    if let Some(offcuts) = entry.get_mut("offcuts").and_then(Item::as_array_mut) {
        for offcut in &change.offcuts {
            offcuts.push(in_words(*offcut));
        }
    }
}

/// A length in metres, rounded down to the millimetre: there is never less than the file says.
fn in_words(length: Length) -> String {
    let whole = micrometres(length) / 1000 * 1000;
    format!("{} m", metres(whole))
}

fn pieces(entry: &dyn TableLike) -> i64 {
    let pieces = entry.get("pieces").and_then(Item::as_integer);
    pieces.unwrap_or(0)
}

/// Sets the number of pieces and leaves what stands around it.
fn set_pieces(entry: &mut dyn TableLike, count: i64) {
    match entry.get_mut("pieces").and_then(Item::as_value_mut) {
        Some(value) => {
            let around = value.decor().clone();
            *value = Value::from(count);
            *value.decor_mut() = around;
        }
        None => {
            entry.insert("pieces", toml_edit::value(count));
        }
    }
}

/// The entries of the stock, in the order of the file.
fn entries(document: &mut DocumentMut) -> Vec<&mut dyn TableLike> {
    match document.get_mut("stock") {
        Some(Item::ArrayOfTables(tables)) => {
            let tables = tables.iter_mut();
            tables.map(|table| table as &mut dyn TableLike).collect()
        }
        Some(Item::Value(Value::Array(values))) => {
            let tables = values.iter_mut().filter_map(Value::as_inline_table_mut);
            tables.map(|table| table as &mut dyn TableLike).collect()
        }
        _ => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::catalog::Colour;

    fn change(part: &str) -> StockChange {
        StockChange {
            part: part.to_owned(),
            colour: None,
            taken: Vec::new(),
            cut: Vec::new(),
            pieces: 0,
            offcuts: Vec::new(),
        }
    }

    const SHOP: &str = "\
# My shed.
name = \"Shed\"  # since long ago
not_known = 1

[[stock]]
# from the old boat
part = \"cable\"
colour = \"red\"
offcuts = [\"4 ft 3 in\", \"1.4 m\"] # hung up

[[stock]]
part = \"lug\"
pieces = 5 # in the tin
";

    #[test]
    fn only_what_changes_is_changed() {
        let cable = StockChange {
            colour: Some(Colour::Red),
            cut: vec![(0, 1)],
            offcuts: vec![Length::from_mm(724.9)],
            ..change("cable")
        };
        let lug = StockChange {
            taken: vec![(1, 2)],
            ..change("lug")
        };
        let label = StockChange {
            pieces: 7,
            ..change("label")
        };
        let after = stock_after(SHOP, &[cable, lug, label]).unwrap();
        let expected = SHOP
            .replace("\"1.4 m\"]", "\"0.724 m\"]")
            .replace("pieces = 5", "pieces = 3")
            + "\n[[stock]]\npart = \"label\"\npieces = 7\n";
        assert_eq!(after, expected);
    }

    #[test]
    fn nothing_bought_changes_nothing() {
        assert_eq!(stock_after(SHOP, &[change("lug")]).unwrap(), SHOP);
    }

    #[test]
    fn stock_in_one_line_and_no_stock_at_all_will_do() {
        let spare = StockChange {
            pieces: 2,
            ..change("lug")
        };
        let shop = "name = \"Shed\"\nstock = [{ part = \"lug\", pieces = 1 }]\n";
        let after = stock_after(shop, std::slice::from_ref(&spare)).unwrap();
        assert_eq!(after, shop.replace("pieces = 1", "pieces = 3"));
        let after = stock_after("name = \"Shed\"\n", &[spare]).unwrap();
        assert_eq!(
            after,
            "name = \"Shed\"\n\n[[stock]]\npart = \"lug\"\npieces = 2\n"
        );
    }
}
