//! Turns a table into pieces: its head and its rows.

use super::compose::{Measure, TABLE, lines, printable};
use super::face::Faces;
use super::flow::Piece;
use super::page::{Ink, Item};
use crate::documents::block::{Align, Style, Table, Text, plain, restyled};
use crate::documents::columns::{Need, squeeze};
use crate::documents::wrap::{longest_word, natural_width};
use std::rc::Rc;

/// Room at the left and at the right of a cell's text.
const SIDE: f32 = 4.0;
/// Room above and below a cell's text.
const ABOVE: f32 = 1.75;
/// The room of a column left empty, so that it can be filled in by hand.
const HANDWRITING: f32 = 72.0;
const GAP_BEFORE_TABLE: f32 = 7.0;

/// The head and the rows, each a piece of its own.
pub(super) fn pieces(table: &Table, measure: Measure, faces: &Faces) -> Vec<Piece> {
    let columns = columns(table, measure, faces);
    let heads: Vec<Text> = table
        .columns
        .iter()
        .map(|column| restyled(&column.head, Style::Strong))
        .collect();
    let head = head(row(table, &heads, &columns, faces), &columns);
    let shared_head = Rc::new(head.clone());
    let mut all = vec![head];
    all.extend(table.rows.iter().map(|cells| Piece {
        head: Some(Rc::clone(&shared_head)),
        ..row(table, cells, &columns, faces)
    }));
    all
}

/// Where each column runs, its side room included.
fn columns(table: &Table, measure: Measure, faces: &Faces) -> Vec<Measure> {
    let needs: Vec<Need> = (0..table.columns.len())
        .map(|index| need(table, index, measure.width / 3.0, faces))
        .collect();
    let mut left = measure.left;
    squeeze(&needs, measure.width)
        .into_iter()
        .map(|width| {
            let column = Measure { left, width };
            left += width;
            column
        })
        .collect()
}

/// The room a column needs. A word longer than `longest` has to be cut, so that
/// it cannot starve the other columns.
fn need(table: &Table, index: usize, longest: f32, faces: &Faces) -> Need {
    let width = |words: &str, style: Style| faces.width(words, style.into(), TABLE.size);
    let head = restyled(&table.columns[index].head, Style::Strong);
    let cells = || table.rows.iter().filter_map(|row| row.get(index));
    let is_left_empty = cells().all(|cell| plain(cell).is_empty());
    let least = if is_left_empty { HANDWRITING } else { 0.0 };
    let mut need = Need {
        minimum: 0.0,
        natural: least,
    };
    for cell in std::iter::once(&head).chain(cells()) {
        let cell = printable(cell, faces);
        need.minimum = need.minimum.max(longest_word(&cell, &width).min(longest));
        need.natural = need.natural.max(natural_width(&cell, &width));
    }
    Need {
        minimum: need.minimum + 2.0 * SIDE,
        natural: need.natural + 2.0 * SIDE,
    }
}

/// A row of cells with a thin rule below.
fn row(table: &Table, cells: &[Text], columns: &[Measure], faces: &Faces) -> Piece {
    let mut items = Vec::new();
    let mut height = TABLE.leading;
    for (index, (cell, column)) in cells.iter().zip(columns).enumerate() {
        let text = Measure {
            left: column.left + SIDE,
            width: (column.width - 2.0 * SIDE).max(1.0),
        };
        let align = table
            .columns
            .get(index)
            .map_or(Align::Left, |column| column.align);
        let (cell_items, cell_height) = lines(cell, text, TABLE, align, faces);
        items.extend(cell_items.into_iter().map(|item| item.moved(0.0, ABOVE)));
        height = height.max(cell_height);
    }
    let height = height + 2.0 * ABOVE;
    items.push(across(columns, height - 0.4, 0.4, Ink::Line));
    Piece {
        items,
        height,
        ..Piece::default()
    }
}

/// A row made into the head of its table.
fn head(row: Piece, columns: &[Measure]) -> Piece {
    let mut items = vec![across(columns, 0.0, row.height, Ink::Band)];
    items.extend(row.items);
    items.push(across(columns, row.height - 0.8, 0.8, Ink::Grey));
    Piece {
        items,
        gap: GAP_BEFORE_TABLE,
        stays_with_next: true,
        ..row
    }
}

/// A fill from the first column to the last.
fn across(columns: &[Measure], top: f32, height: f32, ink: Ink) -> Item {
    let left = columns.first().map_or(0.0, |column| column.left);
    let width = columns.iter().map(|column| column.width).sum();
    Item::fill(left, top, width, height, ink)
}
