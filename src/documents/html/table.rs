//! Tables for the browser.
//!
//! On a telephone a table of few columns keeps its shape and is pushed sideways
//! within its frame. One of many columns, or of wide ones that may not be broken, is
//! stacked instead, every value beside the head of its column.

use super::body::{Writer, spans};
use super::escaped;
use crate::documents::block::{Align, Column, Span, Table, plain};

/// With more columns than this, a table is stacked on a narrow screen.
const COLUMNS_SIDE_BY_SIDE: usize = 4;

/// With more characters than this in a row of cells that are not broken, so is one of fewer columns.
const CHARACTERS_SIDE_BY_SIDE: usize = 40;

/// A cell of this alone is a box to tick.
const BOX: &str = "☐";

/// So many cells of a row say which row it is.
const CELLS_THAT_NAME: usize = 2;

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

/// The parts that a table's elements play, said outright where the style stacks them: browsers take
/// a table that is laid out otherwise for no table.
struct Roles {
    table: &'static str,
    row: &'static str,
    cell: &'static str,
}

const SIDE_BY_SIDE: Roles = Roles {
    table: "",
    row: "",
    cell: "",
};

const STACKED: Roles = Roles {
    table: " role=\"table\"",
    row: " role=\"row\"",
    cell: " role=\"cell\"",
};

/// A table in its frame.
pub(super) fn table(content: &Table, writer: &mut Writer) -> String {
    let many =
        content.columns.len() > COLUMNS_SIDE_BY_SIDE || unbroken(content) > CHARACTERS_SIDE_BY_SIDE;
    let (class, roles) = match many {
        true => ("table many", &STACKED),
        false => ("table", &SIDE_BY_SIDE),
    };
    let heads: String = content.columns.iter().map(head).collect();
    let rows: String = content
        .rows
        .iter()
        .map(|cells| row(&content.columns, cells, roles, writer))
        .collect();
    // A frame that scrolls must be reachable from the keyboard.
    format!(
        "<div class=\"{class}\" tabindex=\"0\">\n<table{}>\n<thead>\n<tr{}>{heads}</tr>\n</thead>\n\
         <tbody>\n{rows}</tbody>\n</table>\n</div>\n",
        roles.table, roles.row
    )
}

/// A head of nothing but a box, or of nothing, heads no column that a reader asks for.
fn head(column: &Column) -> String {
    let class = class(column.align);
    match plain(&column.head).as_str() {
        "" => format!("<td{class}></td>"),
        BOX => format!("<th scope=\"col\"{class}><span class=\"unseen\">Done</span></th>"),
        _ => format!("<th scope=\"col\"{class}>{}</th>", spans(&column.head)),
    }
}

fn row(columns: &[Column], cells: &[Vec<Span>], roles: &Roles, writer: &mut Writer) -> String {
    let words: Vec<String> = cells.iter().map(|cell| plain(cell)).collect();
    let cells = columns.iter().zip(cells).map(|(column, cell)| {
        let (class, role) = (class(column.align), roles.cell);
        let (head, words) = match plain(cell).as_str() {
            BOX => (String::new(), tick_box(&words, writer)),
            cell_words => {
                let head = plain(&column.head);
                let head = if head == BOX || cell_words.is_empty() {
                    ""
                } else {
                    &head
                };
                (escaped(head), spans(cell))
            }
        };
        // Stacked, a cell is laid out as two parts: its head and all its words.
        format!("<td{role} data-head=\"{head}\"{class}><span>{words}</span></td>")
    });
    format!("<tr{}>{}</tr>\n", roles.row, cells.collect::<String>())
}

fn tick_box(row: &[String], writer: &mut Writer) -> String {
    let told = row
        .iter()
        .filter(|words| !words.is_empty() && *words != BOX);
    let told: Vec<&str> = told.map(String::as_str).collect();
    let id = writer.next_box(&told.join("; "));
    let name = told
        .iter()
        .take(CELLS_THAT_NAME)
        .copied()
        .collect::<Vec<_>>();
    let name = escaped(&name.join("; ").replace('\n', " "));
    format!("<input type=\"checkbox\" id=\"{id}\" aria-label=\"{name}\">")
}

fn class(align: Align) -> &'static str {
    match align {
        Align::Right => " class=\"right\"",
        Align::Center => " class=\"center\"",
        Align::Left => "",
    }
}
