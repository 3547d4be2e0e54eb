//! How far a figure can be trusted.

use toml::de::DeValue;

use crate::diagnostic::Span;
use crate::file::{OpenTable, Reader, Shape, Value, words, wrong_type};

words! {
    /// What a figure rests on.
    pub enum Basis as "a basis" {
        /// Read in, or checked against, a publication.
        Published = "published",
        /// What the trade does, with no single source.
        CommonPractice = "common practice",
        /// Written down from memory of a publication and not checked.
        Memory = "memory",
        /// Given by the user or the maker.
        User = "user",
    }
}

/// A figure of a rule with its source.
#[derive(Debug, Clone, PartialEq)]
pub struct Cited<T> {
    /// The figure.
    pub value: T,
    /// Publication and clause, or the words `common practice`.
    pub citation: String,
    /// How far it can be trusted.
    pub basis: Basis,
}

impl<T> Cited<T> {
    /// The same source for another figure derived from this one.
    pub fn map<U>(&self, convert: impl FnOnce(&T) -> U) -> Cited<U> {
        Cited {
            value: convert(&self.value),
            citation: self.citation.clone(),
            basis: self.basis,
        }
    }
}

impl<T: Value> Value for Cited<T> {
    fn shape() -> Shape {
        let value = T::shape().in_words();
        Shape::Scalar(format!(
            "{{ value = {value}, citation = a text, basis = a word }}"
        ))
    }

    fn stand_in(span: Span) -> Option<Self> {
        Some(Self {
            value: T::stand_in(span)?,
            citation: String::new(),
            basis: Basis::User,
        })
    }

    fn read(value: &DeValue<'_>, span: Span, reader: &mut Reader) -> Option<Self> {
        let Some(table) = value.as_table() else {
            return wrong_type(value, span, reader);
        };
        let keys = ["value", "citation", "basis"];
        let open = OpenTable::new(table, "rule", &keys, span, reader);
        let figure = open.read("value", None, reader);
        let citation = open.read("citation", None, reader);
        let basis = open.read("basis", None, reader);
        Some(Self {
            value: figure?,
            citation: citation?,
            basis: basis?,
        })
    }
}
