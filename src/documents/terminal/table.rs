//! Tables for the terminal: ruled where the columns fit, stacked where not.

use super::paint::Paint;
use super::{cells, line_cells};
use crate::documents::block::{Align, Span, Style, Table, Text, plain, restyled};
use crate::documents::columns::{Need, share_out};
use crate::documents::wrap::{longest_word, natural_width, wrap};
use comfy_table::{Attribute, Cell, CellAlignment, ContentArrangement, LineStyle, TableStyle};

/// Blanks between two columns.
const GAP: usize = 2;

/// The longest word of a cell that a column makes room for; longer ones are
/// cut, so that one long part number cannot starve the other columns.
const LONGEST_WORD: f32 = 18.0;

/// A table in lines no wider than `width`.
pub(super) fn lines(table: &Table, width: usize, paint: Paint) -> Vec<String> {
    match column_widths(table, width) {
        Some(widths) => ruled(table, &widths, paint),
        None => stacked(table, width, paint),
    }
}

/// The widths of the columns in character cells, if the table fits at all.
fn column_widths(table: &Table, width: usize) -> Option<Vec<usize>> {
    let count = table.columns.len();
    let available = width.checked_sub(GAP * count.saturating_sub(1))?;
    let needs: Vec<Need> = (0..count).map(|index| need(table, index)).collect();
    let shared = share_out(&needs, available as f32)?;
    let mut widths: Vec<usize> = shared.iter().map(|width| *width as usize).collect();
    let mut spare = available.saturating_sub(widths.iter().sum());
    // Rounding down left a cell or two, which the wrapping columns can use.
    for (width, need) in widths.iter_mut().zip(&needs) {
        if spare > 0 && (*width as f32) < need.natural {
            *width += 1;
            spare -= 1;
        }
    }
    Some(widths)
}

fn need(table: &Table, index: usize) -> Need {
    let head = &table.columns[index].head;
    let cells_below = || table.rows.iter().filter_map(|row| row.get(index));
    let head_word = longest_word(head, &cells);
    let word = cells_below()
        .map(|cell| longest_word(cell, &cells))
        .fold(0.0, f32::max);
    let natural = cells_below()
        .map(|cell| natural_width(cell, &cells))
        .fold(0.0, f32::max);
    let minimum = head_word.max(word.min(LONGEST_WORD)).max(1.0);
    Need {
        minimum,
        natural: natural.max(natural_width(head, &cells)).max(minimum),
    }
}

/// A table with a rule below its heads and one at its end.
///
/// Dotted rules part the rows where two cells of a row wrap, as it could be
/// doubtful then which lines belong together.
fn ruled(table: &Table, widths: &[usize], paint: Paint) -> Vec<String> {
    let wrapped = |(cell, width): (&Text, &usize)| wrap(cell, *width as f32, &cells);
    let wrapped_row = |row: &Vec<Text>| row.iter().zip(widths).map(wrapped).collect();
    let rows: Vec<Vec<Vec<Text>>> = table.rows.iter().map(wrapped_row).collect();
    let wrapping = |row: &Vec<Vec<Text>>| row.iter().filter(|lines| lines.len() > 1).count();
    let doubtful = rows.iter().any(|row| wrapping(row) > 1);

    let mut drawn = comfy_table::Table::new();
    drawn.load_style(rules(doubtful));
    drawn.set_content_arrangement(ContentArrangement::Disabled);
    if paint.colour {
        drawn.enforce_styling();
    } else {
        drawn.force_no_tty();
    }
    let heads = table.columns.iter().zip(widths).map(|(column, width)| {
        let head = restyled(&column.head, Style::Strong);
        cell(&wrap(&head, *width as f32, &cells))
    });
    drawn.set_header(heads);
    for row in &rows {
        drawn.add_row(row.iter().map(|lines| cell(lines)));
    }
    let last = table.columns.len().saturating_sub(1);
    for (index, column) in drawn.column_iter_mut().enumerate() {
        // The drawing adds one blank of its own between columns.
        let gap = if index == last { 0 } else { GAP as u16 - 1 };
        column.set_padding((0, gap));
        column.set_cell_alignment(alignment(table.columns[index].align));
    }
    drawn
        .lines()
        .map(|line| line.trim_end().to_string())
        .collect()
}

fn rules(between_rows: bool) -> TableStyle {
    let solid = LineStyle::none().fill('─').junction('─');
    let dotted = LineStyle::none().fill('┈').junction('┈');
    let style = TableStyle::new()
        .header_separator(solid)
        .bottom_border(solid);
    if between_rows {
        style.row_separator(dotted)
    } else {
        style
    }
}

fn cell(lines: &[Text]) -> Cell {
    let words: Vec<String> = lines.iter().map(|line| plain(line)).collect();
    let cell = Cell::new(words.join("\n"));
    let is_strong = |span: &Span| span.style == Style::Strong;
    if lines.iter().flatten().all(is_strong) && !lines.is_empty() {
        cell.add_attribute(Attribute::Bold)
    } else {
        cell
    }
}

fn alignment(align: Align) -> CellAlignment {
    match align {
        Align::Left => CellAlignment::Left,
        Align::Right => CellAlignment::Right,
        Align::Center => CellAlignment::Center,
    }
}

/// Each row as a block of "head  value" lines, for tables that are too wide.
fn stacked(table: &Table, width: usize, paint: Paint) -> Vec<String> {
    let widest_head = table
        .columns
        .iter()
        .map(|column| line_cells(&column.head))
        .max();
    let head_width = widest_head.unwrap_or(0).min(width / 2);
    let value_width = width.saturating_sub(head_width + GAP).max(1);
    let mut all = vec!["─".repeat(width)];
    for row in &table.rows {
        for (column, value) in table.columns.iter().zip(row) {
            let head = wrap(
                &restyled(&column.head, Style::Strong),
                head_width as f32,
                &cells,
            );
            let value = wrap(value, value_width as f32, &cells);
            all.extend(side_by_side(&head, &value, head_width, paint));
        }
        all.push("─".repeat(width));
    }
    all
}

fn side_by_side(left: &[Text], right: &[Text], left_width: usize, paint: Paint) -> Vec<String> {
    let nothing = Text::new();
    (0..left.len().max(right.len()))
        .map(|index| {
            let left = left.get(index).unwrap_or(&nothing);
            let right = right.get(index).unwrap_or(&nothing);
            let gap = " ".repeat(left_width.saturating_sub(line_cells(left)) + GAP);
            format!("{}{gap}{}", paint.line(left), paint.line(right))
        })
        .collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use super::*;
    use crate::documents::block::Column;
    use proptest::prelude::*;
    use unicode_width::UnicodeWidthStr;

    fn text(words: &str) -> Text {
        vec![Span::new(words, Style::Plain)]
    }

    fn table(heads: &[&str], rows: &[&[&str]]) -> Table {
        let column = |head: &&str| Column {
            head: text(head),
            align: Align::Right,
        };
        Table {
            columns: heads.iter().map(column).collect(),
            rows: rows
                .iter()
                .map(|row| row.iter().map(|cell| text(cell)).collect())
                .collect(),
        }
    }

    const BARE: Paint = Paint { colour: false };

    #[test]
    fn numbers_line_up_at_the_right() {
        let drawn = lines(
            &table(&["No.", "Length"], &[&["1", "900"], &["12", "1055"]]),
            40,
            BARE,
        );
        assert_eq!(
            drawn,
            [
                "No.  Length",
                "───────────",
                "  1     900",
                " 12    1055",
                "───────────"
            ]
        );
    }

    #[test]
    fn a_table_too_wide_is_stacked() {
        let heads = ["Description", "Manufacturer", "Replacement"];
        let drawn = lines(&table(&heads, &[&["Lug", "Any", "None"]]), 30, BARE);
        assert_eq!(
            drawn[1..4],
            [
                "Description   Lug",
                "Manufacturer  Any",
                "Replacement   None"
            ]
        );
    }

    proptest! {
        #[test]
        fn random_tables_fit_every_width(
            rows in proptest::collection::vec(proptest::collection::vec("[a-zΩ日 0-9-]{0,40}", 5), 0..6),
            heads in proptest::collection::vec("[A-Za-z ]{1,16}", 5),
            count in 1_usize..6,
            width in 20_usize..130,
        ) {
            let heads: Vec<&str> = heads.iter().take(count).map(String::as_str).collect();
            let rows: Vec<Vec<&str>> = rows.iter().map(|row| row.iter().take(count).map(String::as_str).collect()).collect();
            let rows: Vec<&[&str]> = rows.iter().map(Vec::as_slice).collect();
            for line in lines(&table(&heads, &rows), width, BARE) {
                prop_assert!(line.width() <= width, "{line:?} is wider than {width}");
            }
        }
    }
}
