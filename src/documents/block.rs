//! The document model: what every writer is handed.
//!
//! It holds what a printed page can show and nothing about how it was worked
//! out, so a writer has nothing left to compute.

use std::sync::Arc;

use crate::drawings::Drawing;

/// A finished document, ready for any of the writers.
#[derive(Debug, Clone, PartialEq)]
pub struct Document {
    /// Heads every printed page and names the file for a reader program.
    pub title: String,
    /// The content, from top to bottom.
    pub blocks: Vec<Block>,
}

/// One piece of a document that stands on its own line.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// A heading; level 1 is the largest.
    Heading {
        /// 1 to 6.
        level: u8,
        /// The words of the heading.
        text: Text,
    },
    /// Running text.
    Paragraph(Text),
    /// Rows under named columns.
    Table(Table),
    /// A bulleted or numbered list.
    List(List),
    /// A list of things to tick off by hand.
    TickList(Vec<TickItem>),
    /// A warning that must not be read past.
    Caution(Vec<Block>),
    /// A picture.
    Drawing(Arc<Drawing>),
    /// A line across the page.
    Rule,
    /// What follows starts on a new page where there are pages.
    PageBreak,
}

/// A table; every row has as many cells as there are columns.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// The columns, from left to right.
    pub columns: Vec<Column>,
    /// The rows, from top to bottom, each a list of cells.
    pub rows: Vec<Vec<Text>>,
}

/// The head of a column and how its cells are set.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Column {
    /// The words at the head of the column.
    pub head: Text,
    /// Where the head and the cells stand within the column.
    pub align: Align,
}

/// Where text stands within its column.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// At the left edge, for words.
    Left,
    /// At the right edge, for numbers.
    Right,
    /// In the middle, for marks.
    Center,
}

/// A bulleted or numbered list.
#[derive(Debug, Clone, PartialEq)]
pub struct List {
    /// The number of the first item, or none for bullets.
    pub start: Option<u64>,
    /// The items, each of one or more blocks.
    pub items: Vec<Vec<Block>>,
}

impl List {
    /// What stands before the item at `index`: its number, or a bullet.
    pub fn marker(&self, index: usize) -> String {
        match self.start {
            Some(start) => format!("{}.", start.saturating_add(index as u64)),
            None => "•".to_string(),
        }
    }
}

/// One thing to tick off.
#[derive(Debug, Clone, PartialEq)]
pub struct TickItem {
    /// Whether the box is printed with its tick already in place.
    pub ticked: bool,
    /// What is to be done or checked.
    pub blocks: Vec<Block>,
}

/// A run of styled words. A line feed within a span is a hard line break.
pub type Text = Vec<Span>;

/// Words in one style.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Span {
    /// The words themselves.
    pub text: String,
    /// How they are set.
    pub style: Style,
}

impl Span {
    /// Words in a style.
    pub fn new(text: impl Into<String>, style: Style) -> Self {
        Self {
            text: text.into(),
            style,
        }
    }
}

/// How words are set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Style {
    /// As the surroundings are.
    Plain,
    /// Bold.
    Strong,
    /// Italic.
    Emphasis,
    /// Letter for letter, as typed.
    Code,
}

/// The words of a text without their styles.
pub fn plain(text: &[Span]) -> String {
    text.iter().map(|span| span.text.as_str()).collect()
}

/// The same words with every plain span set in `style`.
///
/// Headings and column heads use it: they are bold as a whole, yet keep an
/// emphasis their author asked for.
pub fn restyled(text: &[Span], style: Style) -> Text {
    text.iter()
        .map(|span| match span.style {
            Style::Plain => Span::new(span.text.clone(), style),
            _ => span.clone(),
        })
        .collect()
}

/// Adds words to a text, joining them to the last span where the style agrees.
pub fn push(text: &mut Text, words: &str, style: Style) {
    match text.last_mut() {
        Some(last) if last.style == style => last.text.push_str(words),
        _ => text.push(Span::new(words, style)),
    }
}
