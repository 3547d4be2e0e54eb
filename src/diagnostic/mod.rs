//! What is wrong with a file, where, and what would mend it.
//!
//! Readers never stop at the first mistake: they push a [`Diagnostic`] and go on. Only the command
//! line draws them, with [`render`].

mod problem;
mod render;
mod source;
mod suggestion;
mod terminals;

pub use problem::{Problem, Subject, with_article};
pub use render::render;
pub use source::{Source, SourceId, Sources, Span, Spanned};
pub use suggestion::nearest;

/// One mistake in one place.
#[derive(Debug, Clone, PartialEq)]
pub struct Diagnostic {
    /// What is wrong.
    pub problem: Problem,
    /// Where.
    pub span: Span,
    /// Other places that matter, each with a word on why.
    pub related: Vec<(Span, String)>,
}

impl Diagnostic {
    /// A mistake with no other place to show.
    pub fn new(problem: Problem, span: Span) -> Self {
        Self {
            problem,
            span,
            related: Vec::new(),
        }
    }

    /// Adds another place that matters.
    #[must_use]
    pub fn with_related(mut self, span: Span, why: &str) -> Self {
        self.related.push((span, why.to_owned()));
        self
    }
}
