//! Writes a document for the terminal.
//!
//! Every block becomes a list of lines no wider than the terminal; a block
//! within another (a step's caution, say) is written narrower and set in.

mod paint;
mod table;

use super::block::{Block, Document, List, Span, Style, Text, TickItem, restyled};
use super::escape::clean;
use super::wrap::wrap;
use paint::Paint;
use unicode_width::UnicodeWidthStr;

/// Below this, words would be cut into single letters.
const NARROWEST: usize = 20;

/// Writes a document in lines no wider than `width` character cells, with
/// terminal colours only if `colour` is set.
///
/// Widths below twenty cells are taken as twenty.
pub fn write(document: &Document, width: usize, colour: bool) -> String {
    let paint = Paint { colour };
    let mut written = String::new();
    for line in lines(&document.blocks, width.max(NARROWEST), paint) {
        written.push_str(line.trim_end());
        written.push('\n');
    }
    written
}

/// The lines of some blocks, with one empty line between blocks.
fn lines(blocks: &[Block], width: usize, paint: Paint) -> Vec<String> {
    let mut all = Vec::new();
    for block in blocks {
        let block_lines = block_lines(block, width, paint);
        if !all.is_empty() && !block_lines.is_empty() {
            all.push(String::new());
        }
        all.extend(block_lines);
    }
    all
}

fn block_lines(block: &Block, width: usize, paint: Paint) -> Vec<String> {
    match block {
        Block::Heading { level, text } => heading(*level, text, width, paint),
        Block::Paragraph(text) => paragraph(text, width, paint),
        Block::Table(table) => table::lines(table, width, paint),
        Block::List(list) => list_lines(list, width, paint),
        Block::TickList(items) => tick_lines(items, width, paint),
        Block::Caution(blocks) => caution(blocks, width, paint),
        // A terminal cannot draw: it says where the drawing is.
        Block::Drawing(drawing) => {
            let told = format!(
                "{}: drawings/{}.svg in the pack",
                clean(&drawing.title),
                drawing.name
            );
            paragraph(&vec![Span::new(told, Style::Emphasis)], width, paint)
        }
        Block::Rule => vec!["─".repeat(width)],
        // A terminal has no pages.
        Block::PageBreak => Vec::new(),
    }
}

fn paragraph(text: &Text, width: usize, paint: Paint) -> Vec<String> {
    wrap(text, width as f32, &cells)
        .iter()
        .map(|line| paint.line(line))
        .collect()
}

/// A heading with a line under it as long as its longest line.
fn heading(level: u8, text: &Text, width: usize, paint: Paint) -> Vec<String> {
    let wrapped = wrap(text, width as f32, &cells);
    let widest = wrapped.iter().map(line_cells).max();
    let stroke = match level {
        1 => "═",
        2 => "─",
        _ => "┄",
    };
    let mut lines: Vec<String> = wrapped
        .iter()
        .map(|line| paint.line(&restyled(line, Style::Strong)))
        .collect();
    lines.push(stroke.repeat(widest.unwrap_or(0)));
    lines
}

fn list_lines(list: &List, width: usize, paint: Paint) -> Vec<String> {
    let markers: Vec<String> = (0..list.items.len())
        .map(|index| list.marker(index))
        .collect();
    let widest = markers
        .iter()
        .map(|marker| marker.width())
        .max()
        .unwrap_or(0);
    let pairs = markers.iter().zip(&list.items);
    let items = pairs.map(|(marker, blocks)| (format!("{marker:>widest$} "), blocks.as_slice()));
    item_lines(items, width, paint)
}

fn tick_lines(items: &[TickItem], width: usize, paint: Paint) -> Vec<String> {
    let tick_box = |item: &TickItem| if item.ticked { "[x] " } else { "[ ] " };
    let items = items
        .iter()
        .map(|item| (tick_box(item).to_string(), item.blocks.as_slice()));
    item_lines(items, width, paint)
}

/// Items with their markers hanging to the left. Items of more than one line
/// are set apart by an empty line, short ones stand close.
fn item_lines<'a>(
    items: impl Iterator<Item = (String, &'a [Block])>,
    width: usize,
    paint: Paint,
) -> Vec<String> {
    let written: Vec<Vec<String>> = items
        .map(|(marker, blocks)| {
            let indent = marker.width();
            let inner = lines(blocks, width.saturating_sub(indent).max(1), paint);
            hang(&marker, inner)
        })
        .collect();
    let roomy = written.iter().any(|item| item.len() > 1);
    let mut all = Vec::new();
    for item in written {
        if roomy && !all.is_empty() {
            all.push(String::new());
        }
        all.extend(item);
    }
    all
}

/// Puts a marker before the first line and sets the others in as far.
fn hang(marker: &str, inner: Vec<String>) -> Vec<String> {
    let indent = " ".repeat(marker.width());
    let mut lines: Vec<String> = Vec::with_capacity(inner.len().max(1));
    for line in inner {
        let lead = if lines.is_empty() { marker } else { &indent };
        lines.push(format!("{lead}{line}"));
    }
    if lines.is_empty() {
        lines.push(marker.to_string());
    }
    lines
}

fn caution(blocks: &[Block], width: usize, paint: Paint) -> Vec<String> {
    let bar = paint.warning("┃");
    lines(blocks, width.saturating_sub(2).max(1), paint)
        .iter()
        .map(|line| format!("{bar} {line}"))
        .collect()
}

/// The width of words in character cells; styles make no difference to it.
fn cells(words: &str, _: Style) -> f32 {
    words.width() as f32
}

fn line_cells(line: &Text) -> usize {
    line.iter().map(|span| span.text.width()).sum()
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use super::*;
    use crate::documents::{markdown, samples};

    fn written(source: &str, width: usize) -> String {
        write(&markdown::parse("t", source), width, false)
    }

    #[test]
    fn steps_hang_from_their_numbers() {
        let source = "9. Fit the strip to the floor.\n10. Tick.\n    > Mind it.\n";
        let expected = " 9. Fit the strip to\n    the floor.\n\n10. Tick.\n\n    ┃ Mind it.\n";
        assert_eq!(written(source, 20), expected);
        assert_eq!(written(source, 5), expected);
    }

    #[test]
    fn headings_are_underlined() {
        assert_eq!(written("# A\n\n## Bc\n", 40), "A\n═\n\nBc\n──\n");
    }

    #[test]
    fn blocks_within_blocks_run_out_of_room_without_harm() {
        let quotes = "> ".repeat(30) + "word\n";
        assert!(written(&quotes, 20).contains('w'));
        let table = "> ".repeat(12) + "| a | b |\n" + &"> ".repeat(12) + "|--|--|\n";
        assert!(written(&table, 20).contains('┃'));
    }

    #[test]
    fn samples_fit_every_width_without_trailing_blanks() {
        for (name, document) in samples::all() {
            for width in [20, 40, 60, 80, 100, 120, 200] {
                for line in write(&document, width, false).lines() {
                    assert!(line.width() <= width, "{name} at {width}: {line}");
                    assert_eq!(line, line.trim_end(), "{name} at {width}");
                }
            }
        }
    }

    #[test]
    fn colour_changes_nothing_but_escape_codes() {
        for (_, document) in samples::all() {
            assert!(!write(&document, 80, false).contains('\u{1b}'));
            let coloured = write(&document, 80, true);
            assert!(coloured.contains('\u{1b}'));
        }
    }
}
