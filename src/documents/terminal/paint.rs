//! Terminal colours, for those who can see them.

use crate::documents::block::{Span, Style};

/// Whether to colour.
#[derive(Debug, Clone, Copy)]
pub(super) struct Paint {
    /// Without it, every text comes out bare.
    pub(super) colour: bool,
}

impl Paint {
    /// A line of styled words.
    pub(super) fn line(self, line: &[Span]) -> String {
        line.iter()
            .map(|span| self.words(&span.text, code(span.style)))
            .collect()
    }

    /// Marks something that must not be read past.
    pub(super) fn warning(self, words: &str) -> String {
        self.words(words, Some("33"))
    }

    fn words(self, words: &str, code: Option<&str>) -> String {
        match code {
            Some(code) if self.colour => format!("\u{1b}[{code}m{words}\u{1b}[0m"),
            _ => words.to_string(),
        }
    }
}

fn code(style: Style) -> Option<&'static str> {
    match style {
        Style::Plain => None,
        Style::Strong => Some("1"),
        Style::Emphasis => Some("3"),
        Style::Code => Some("36"),
    }
}
