//! The blocks of a document as elements of a page.

use super::tick::Names;
use super::{escaped, table};
use crate::documents::block::{Block, Document, List, Span, Style, Text, TickItem, plain};
use crate::documents::quantity;
use crate::drawings::svg;

/// A document's elements, and what a table of contents says of it.
pub(super) struct Body {
    /// The document's title.
    pub(super) title: String,
    /// The elements.
    pub(super) html: String,
    /// The identity of its first heading, and of all that are named below.
    pub(super) id: String,
    /// Identity and words of each heading one level below the first.
    pub(super) parts: Vec<(String, String)>,
    /// How many boxes there are to tick.
    pub(super) boxes: usize,
}

impl Body {
    /// Writes a document of a job; its first heading has the level given.
    pub(super) fn of(document: &Document, job: &str, top: u8) -> Self {
        let id = crate::drawings::file_name(&document.title);
        let mut writer = Writer {
            names: Names::of(job, &document.title),
            top,
            level: top - 1,
            heading: String::new(),
            id,
            parts: Vec::new(),
            boxes: 0,
        };
        let html = writer.blocks(&document.blocks);
        Self {
            title: document.title.clone(),
            html,
            id: writer.id,
            parts: writer.parts,
            boxes: writer.boxes,
        }
    }
}

/// What is known of a document while it is written.
pub(super) struct Writer {
    names: Names,
    top: u8,
    /// Level of the heading before.
    level: u8,
    /// Words of the heading before.
    heading: String,
    id: String,
    parts: Vec<(String, String)>,
    boxes: usize,
}

impl Writer {
    fn blocks(&mut self, content: &[Block]) -> String {
        content.iter().map(|block| self.block(block)).collect()
    }

    fn block(&mut self, content: &Block) -> String {
        match content {
            Block::Heading { level, text } => self.heading(*level, text),
            Block::Paragraph(text) => format!("<p>{}</p>\n", spans(text)),
            Block::Table(content) => table::table(content, self),
            Block::List(content) => self.list(content),
            Block::TickList(items) => self.tick_list(items),
            Block::Caution(content) => {
                format!(
                    "<div class=\"caution\" role=\"note\">\n{}</div>\n",
                    self.blocks(content)
                )
            }
            Block::Drawing(drawing) => {
                format!(
                    "<figure tabindex=\"0\">\n{}</figure>\n",
                    svg::element(drawing)
                )
            }
            Block::Rule => "<hr>\n".to_string(),
            Block::PageBreak => "<hr class=\"page\">\n".to_string(),
        }
    }

    /// A heading, at most one level below the one before: readers who go by headings miss none.
    fn heading(&mut self, level: u8, text: &Text) -> String {
        let asked = level.saturating_add(self.top - 1);
        self.level = asked.min(self.level + 1).min(6);
        self.heading = plain(text);
        let (level, words) = (self.level, spans(text));
        if level == self.top + 1 {
            let id = format!("{}-{}", self.id, self.parts.len() + 1);
            self.parts.push((id.clone(), words.clone()));
            return format!("<h{level} id=\"{id}\">{words}</h{level}>\n");
        }
        format!("<h{level}>{words}</h{level}>\n")
    }

    fn list(&mut self, content: &List) -> String {
        let items: String = content
            .items
            .iter()
            .map(|item| format!("<li>{}</li>\n", self.blocks(item)))
            .collect();
        match content.start {
            Some(1) => format!("<ol>\n{items}</ol>\n"),
            Some(start) => format!("<ol start=\"{start}\">\n{items}</ol>\n"),
            None => format!("<ul>\n{items}</ul>\n"),
        }
    }

    fn tick_list(&mut self, items: &[TickItem]) -> String {
        let items: String = items.iter().map(|item| self.tick_item(item)).collect();
        format!("<ul class=\"ticks\">\n{items}</ul>\n")
    }

    /// The first paragraph is the label of its box, so that a thumb finds it.
    fn tick_item(&mut self, item: &TickItem) -> String {
        let (words, rest) = match item.blocks.split_first() {
            Some((Block::Paragraph(words), rest)) => (words.as_slice(), rest),
            _ => (&[][..], item.blocks.as_slice()),
        };
        let id = self.next_box(&plain(words));
        let checked = if item.ticked { " checked" } else { "" };
        format!(
            "<li><input type=\"checkbox\" id=\"{id}\"{checked}><div><label for=\"{id}\">{}</label>\n{}</div></li>\n",
            spans(words),
            self.blocks(rest)
        )
    }

    /// The identity of a box that is about to be written.
    pub(super) fn next_box(&mut self, words: &str) -> String {
        self.boxes += 1;
        self.names.next(&self.heading, words)
    }
}

/// Words in their styles.
pub(super) fn spans(text: &[Span]) -> String {
    text.iter()
        .map(|span| {
            let words = quantity::held_together(&span.text);
            let words = escaped(&words).replace('\n', "<br>\n");
            match span.style {
                Style::Plain => words,
                Style::Strong => format!("<strong>{words}</strong>"),
                Style::Emphasis => format!("<em>{words}</em>"),
                Style::Code => format!("<code>{words}</code>"),
            }
        })
        .collect()
}
