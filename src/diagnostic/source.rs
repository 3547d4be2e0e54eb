//! The texts that were read, and places in them.

use std::ops::{Deref, Range};

/// One text that was read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// The path as the user gave it, or a name for embedded text.
    pub path: String,
    /// The text.
    pub text: String,
}

/// Names one of [`Sources`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct SourceId(usize);

/// Every text read in this run, kept so that a mistake can be shown in its line.
#[derive(Debug, Clone, Default)]
pub struct Sources(Vec<Source>);

impl Sources {
    /// Keeps a text.
    pub fn add(&mut self, path: impl Into<String>, text: impl Into<String>) -> SourceId {
        self.0.push(Source {
            path: path.into(),
            text: text.into(),
        });
        SourceId(self.0.len() - 1)
    }

    /// The text behind an id.
    pub fn get(&self, id: SourceId) -> &Source {
        &self.0[id.0]
    }
}

/// A stretch of bytes in one source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Span {
    /// Which text.
    pub source: SourceId,
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

impl Span {
    /// From a byte range.
    pub fn new(source: SourceId, range: Range<usize>) -> Self {
        Self {
            source,
            start: range.start,
            end: range.end,
        }
    }
}

/// A value with the place where it was written.
#[derive(Debug, Clone, PartialEq)]
pub struct Spanned<T> {
    /// The value.
    pub value: T,
    /// Where it stands.
    pub span: Span,
}

impl<T> Deref for Spanned<T> {
    type Target = T;
    fn deref(&self) -> &T {
        &self.value
    }
}
