//! Turns the blocks of a document into pieces for the pages.

use super::face::{Face, Faces};
use super::figure;
use super::flow::Piece;
use super::page::{Area, Ink, Item, Mark};
use super::table;
use crate::documents::block::{Align, Block, List, Span, Style, Text, TickItem, plain, restyled};
use crate::documents::wrap::{width_of, wrap};

/// The size of letters and the height of a line, in points.
#[derive(Debug, Clone, Copy)]
pub(super) struct Setting {
    pub(super) size: f32,
    pub(super) leading: f32,
}

/// Running text.
pub(super) const BODY: Setting = Setting {
    size: 9.5,
    leading: 13.0,
};

/// Text in tables.
pub(super) const TABLE: Setting = Setting {
    size: 8.5,
    leading: 11.0,
};

/// Room between two blocks.
const BLOCK_GAP: f32 = 6.0;
/// Room between two items of a list.
const ITEM_GAP: f32 = 4.0;
/// Room between the edge of a caution's box and its text.
const CAUTION_INSET: f32 = 7.0;
/// The width of the bar at the left of a caution.
const CAUTION_BAR: f32 = 3.0;
const TICK_BOX_SIDE: f32 = 9.0;

/// Where the text of a column runs, in points from the left of the page's area.
#[derive(Debug, Clone, Copy)]
pub(super) struct Measure {
    pub(super) left: f32,
    pub(super) width: f32,
}

impl Measure {
    /// A measure whose left edge is further right.
    fn inset(self, by: f32) -> Self {
        Self {
            left: self.left + by,
            width: (self.width - by).max(1.0),
        }
    }
}

/// The pieces of some blocks, top to bottom.
pub(super) fn pieces(blocks: &[Block], measure: Measure, faces: &Faces) -> Vec<Piece> {
    let mut all: Vec<Piece> = Vec::new();
    let mut page_break = false;
    for block in blocks {
        if *block == Block::PageBreak {
            page_break = true;
            continue;
        }
        // A caution stays with the words it warns about.
        if let (Block::Caution(_), false, Some(last)) = (block, page_break, all.last_mut()) {
            last.stays_with_next = true;
        }
        // What stands between a heading and a table, a drawing or a list introduces it.
        let introduced = matches!(
            block,
            Block::Table(_) | Block::Drawing(_) | Block::List(_) | Block::TickList(_)
        );
        if let (true, false, [.., over, last]) = (introduced, page_break, all.as_mut_slice()) {
            last.stays_with_next |= over.heading.is_some();
        }
        let mut next = block_pieces(block, measure, faces);
        if let Some(first) = next.first_mut() {
            first.starts_page |= std::mem::take(&mut page_break);
        }
        // A heading is nearer to what follows it than to what precedes it.
        if let (
            Some(Piece {
                heading: Some(_), ..
            }),
            Some(first),
        ) = (all.last(), next.first_mut())
            && first.heading.is_none()
        {
            first.gap = first.gap.min(ITEM_GAP);
        }
        all.append(&mut next);
    }
    all
}

fn block_pieces(block: &Block, measure: Measure, faces: &Faces) -> Vec<Piece> {
    match block {
        Block::Heading { level, text } => vec![heading(*level, text, measure, faces)],
        Block::Paragraph(text) => vec![paragraph(text, measure, faces)],
        Block::Table(content) => table::pieces(content, measure, faces),
        Block::List(content) => list(content, measure, faces),
        Block::TickList(items) => tick_list(items, measure, faces),
        Block::Caution(content) => vec![caution(content, measure, faces)],
        Block::Drawing(drawing) => vec![figure::piece(drawing, measure, faces)],
        Block::Rule => vec![rule(measure)],
        Block::PageBreak => Vec::new(),
    }
}

fn heading(level: u8, text: &Text, measure: Measure, faces: &Faces) -> Piece {
    let (size, leading, gap) = match level {
        1 => (16.0, 21.0, 18.0),
        2 => (12.0, 16.0, 15.0),
        _ => (10.0, 14.0, 11.0),
    };
    let setting = Setting { size, leading };
    let (items, height) = lines(
        &restyled(text, Style::Strong),
        measure,
        setting,
        Align::Left,
        faces,
    );
    Piece {
        items,
        height,
        gap,
        stays_with_next: true,
        heading: Some((level, plain(text))),
        ..Piece::default()
    }
}

fn paragraph(text: &Text, measure: Measure, faces: &Faces) -> Piece {
    let (items, height) = lines(text, measure, BODY, Align::Left, faces);
    Piece {
        items,
        height,
        gap: BLOCK_GAP,
        // "As follows:" at the foot of a page would announce nothing.
        stays_with_next: plain(text).ends_with(':'),
        ..Piece::default()
    }
}

fn rule(measure: Measure) -> Piece {
    Piece {
        items: vec![Item::fill(measure.left, 0.0, measure.width, 0.6, Ink::Line)],
        height: 0.6,
        gap: BLOCK_GAP * 2.0,
        ..Piece::default()
    }
}

fn caution(blocks: &[Block], measure: Measure, faces: &Faces) -> Piece {
    let text = Measure {
        left: measure.left + CAUTION_BAR + CAUTION_INSET,
        width: (measure.width - CAUTION_BAR - 2.0 * CAUTION_INSET).max(1.0),
    };
    let inner = Piece::stack(pieces(blocks, text, faces));
    let height = inner.height + 2.0 * CAUTION_INSET;
    let mut items = vec![
        Item::fill(measure.left, 0.0, measure.width, height, Ink::Band),
        Item::fill(measure.left, 0.0, CAUTION_BAR, height, Ink::Warning),
    ];
    items.extend(
        inner
            .items
            .into_iter()
            .map(|item| item.moved(0.0, CAUTION_INSET)),
    );
    Piece {
        items,
        height,
        gap: BLOCK_GAP + 2.0,
        ..Piece::default()
    }
}

fn list(content: &List, measure: Measure, faces: &Faces) -> Vec<Piece> {
    let markers: Vec<Text> = (0..content.items.len())
        .map(|index| vec![Span::new(content.marker(index), Style::Plain)])
        .collect();
    let width = |marker: &Text| {
        width_of(marker, &|words, style| {
            faces.width(words, style.into(), BODY.size)
        })
    };
    let widest = markers.iter().map(width).fold(0.0, f32::max);
    let mut all = Vec::new();
    for (marker, blocks) in markers.iter().zip(&content.items) {
        let column = Measure {
            left: measure.left,
            width: widest,
        };
        let (items, _) = lines(marker, column, BODY, Align::Right, faces);
        all.append(&mut hung(items, blocks, measure.inset(widest + 5.0), faces));
    }
    set_apart(all)
}

fn tick_list(items: &[TickItem], measure: Measure, faces: &Faces) -> Vec<Piece> {
    let mut all = Vec::new();
    for item in items {
        let tick_box = tick_box(measure.left, BODY, item.ticked);
        let text = measure.inset(TICK_BOX_SIDE + 6.0);
        all.append(&mut hung(vec![tick_box], &item.blocks, text, faces));
    }
    set_apart(all)
}

fn tick_box(left: f32, setting: Setting, ticked: bool) -> Item {
    let area = Area {
        left,
        top: (setting.leading - TICK_BOX_SIDE) / 2.0,
        width: TICK_BOX_SIDE,
        height: TICK_BOX_SIDE,
    };
    let mark = Mark::TickBox { ticked };
    Item { area, mark }
}

/// Whether a text is nothing but a tick box, and if so whether it is ticked.
fn tick_box_alone(text: &[Span]) -> Option<bool> {
    match plain(text).trim() {
        "☐" => Some(false),
        "☑" => Some(true),
        _ => None,
    }
}

/// The pieces of a list item with its marker beside the first of them.
fn hung(marker: Vec<Item>, blocks: &[Block], measure: Measure, faces: &Faces) -> Vec<Piece> {
    let mut inner = pieces(blocks, measure, faces);
    if inner.is_empty() {
        inner.push(Piece {
            height: BODY.leading,
            ..Piece::default()
        });
    }
    if let Some(first) = inner.first_mut() {
        first.items.extend(marker);
        first.gap = ITEM_GAP;
    }
    inner
}

/// A list stands as far from the text above as any block.
fn set_apart(mut pieces: Vec<Piece>) -> Vec<Piece> {
    if let Some(first) = pieces.first_mut() {
        first.gap = BLOCK_GAP;
    }
    pieces
}

/// The lines of a text from the top down, and their height.
pub(super) fn lines(
    text: &[Span],
    measure: Measure,
    setting: Setting,
    align: Align,
    faces: &Faces,
) -> (Vec<Item>, f32) {
    if let Some(ticked) = tick_box_alone(text) {
        let left = measure.left + align_shift(align, measure.width - TICK_BOX_SIDE);
        return (vec![tick_box(left, setting, ticked)], setting.leading);
    }
    let text = printable(text, faces);
    let width = |words: &str, style: Style| faces.width(words, style.into(), setting.size);
    let mut items = Vec::new();
    let mut top = 0.0;
    for line in wrap(&text, measure.width, &width) {
        let slack = measure.width - width_of(&line, &width);
        let mut left = measure.left + align_shift(align, slack);
        for span in line {
            let area = Area {
                left,
                top,
                width: width(&span.text, span.style),
                height: setting.leading,
            };
            left += area.width;
            let mark = Mark::Words {
                words: span.text,
                face: span.style.into(),
                size: setting.size,
                ink: Ink::Black,
            };
            items.push(Item { area, mark });
        }
        top += setting.leading;
    }
    (items, top)
}

/// How far to the right a line starts that leaves some room unused.
fn align_shift(align: Align, slack: f32) -> f32 {
    let slack = slack.max(0.0);
    match align {
        Align::Left => 0.0,
        Align::Right => slack,
        Align::Center => slack / 2.0,
    }
}

/// A text in letters that its faces have.
pub(super) fn printable(text: &[Span], faces: &Faces) -> Text {
    text.iter()
        .map(|span| {
            Span::new(
                faces.printable(&span.text, Face::from(span.style)),
                span.style,
            )
        })
        .collect()
}
