//! Tables for the browser.
//!
//! On a telephone a table of few columns keeps its shape and is pushed sideways
//! within its frame. One of many columns, or of wide ones that may not be broken, is
//! stacked instead, every value beside the head of its column.

use super::{escaped, spans};
use crate::documents::block::{Align, Column, Span, Table, plain};

/// With more columns than this, a table is stacked on a narrow screen.
const COLUMNS_SIDE_BY_SIDE: usize = 4;

/// With more characters than this in a row of cells that are not broken, so is one of fewer columns.
const CHARACTERS_SIDE_BY_SIDE: usize = 40;

/// Characters of the widest cell of every column whose cells are not broken.
fn unbroken(content: &Table) -> usize {
    let columns = content.columns.iter().enumerate();
    let right = columns.filter(|(_, column)| column.align == Align::Right);
    let widest = |index: usize| {
        let cells = content.rows.iter().filter_map(|row| row.get(index));
        cells.map(|cell| plain(cell).chars().count()).max()
    };
    right.filter_map(|(index, _)| widest(index)).sum()
}

/// A table in its frame.
pub(super) fn table(content: &Table) -> String {
    let many =
        content.columns.len() > COLUMNS_SIDE_BY_SIDE || unbroken(content) > CHARACTERS_SIDE_BY_SIDE;
    let class = if many { "table many" } else { "table" };
    let heads: String = content.columns.iter().map(head).collect();
    let rows: String = content
        .rows
        .iter()
        .map(|cells| row(&content.columns, cells))
        .collect();
    // A frame that scrolls must be reachable from the keyboard.
    format!(
        "<div class=\"{class}\" tabindex=\"0\">\n<table>\n<thead>\n<tr>{heads}</tr>\n</thead>\n\
         <tbody>\n{rows}</tbody>\n</table>\n</div>\n"
    )
}

fn head(column: &Column) -> String {
    let class = class(column.align);
    let words = spans(&column.head);
    format!("<th scope=\"col\"{class}>{words}</th>")
}

fn row(columns: &[Column], cells: &[Vec<Span>]) -> String {
    let cells = columns.iter().zip(cells).map(|(column, cell)| {
        let class = class(column.align);
        let head = escaped(&plain(&column.head));
        // Stacked, a cell is laid out as two parts: its head and all its words.
        let words = spans(cell);
        format!("<td data-head=\"{head}\"{class}><span>{words}</span></td>")
    });
    format!("<tr>{}</tr>\n", cells.collect::<String>())
}

fn class(align: Align) -> &'static str {
    match align {
        Align::Right => " class=\"right\"",
        Align::Center => " class=\"center\"",
        Align::Left => "",
    }
}
