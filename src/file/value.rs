//! Values that a key may hold.

use toml::de::DeValue;

use super::{Field, Reader};
use crate::diagnostic::{Problem, Span, Spanned, with_article};
use crate::quantity::Quantity;

/// What stands behind a key, for messages and for the printed reference.
#[derive(Debug, Clone)]
pub enum Shape {
    /// One text, described in words.
    Scalar(String),
    /// One value that is written without quotes, described in words.
    Bare(&'static str),
    /// One of a set of words, each with its meaning.
    Words(&'static [(&'static str, &'static str)]),
    /// Several values.
    List(Box<Shape>),
    /// A table of its own.
    Table(&'static str, fn() -> Vec<Field>),
}

impl Shape {
    /// In words, for a message.
    pub fn in_words(&self) -> String {
        match self {
            Self::Scalar(text) => text.clone(),
            Self::Bare(text) => (*text).to_owned(),
            Self::Words(words) => {
                let names: Vec<String> = words
                    .iter()
                    .map(|(word, _)| format!("\"{word}\""))
                    .collect();
                format!("one of {}", names.join(", "))
            }
            Self::List(inner) => match inner.as_ref() {
                Self::Table(name, _) => {
                    format!("{name} tables, each under its header in double brackets")
                }
                inner => format!(
                    "a list in square brackets; each item is {}",
                    inner.in_words()
                ),
            },
            Self::Table(name, _) => format!("{} table", with_article(name)),
        }
    }
}

/// A type that can be read from a TOML value.
pub trait Value: Sized {
    /// What it looks like.
    fn shape() -> Shape;

    /// Reads it, or reports why not.
    fn read(value: &DeValue<'_>, span: Span, reader: &mut Reader) -> Option<Self>;

    /// What an absent key means; `None` where the key must be there.
    fn absent() -> Option<Self> {
        None
    }

    /// What takes the place of a value that could not be read, so that the rest of the file can
    /// still be judged; names become blank. A file with a stand-in in it is never planned from.
    fn stand_in(span: Span) -> Option<Self>;
}

/// Reports a value of the wrong type.
pub fn wrong_type<T: Value>(value: &DeValue<'_>, span: Span, reader: &mut Reader) -> Option<T> {
    reader.report(not_taken::<T>(plain_type(value)), span);
    None
}

fn not_taken<T: Value>(found: &'static str) -> Problem {
    Problem::WrongType {
        expected: T::shape().in_words(),
        found,
    }
}

/// The type of a value as written, in words.
pub fn plain_type(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "a text",
        DeValue::Integer(_) | DeValue::Float(_) => "a bare number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}

impl<T: Quantity> Value for T {
    fn shape() -> Shape {
        Shape::Scalar(format!("{} such as {}", T::NAME, T::EXAMPLES))
    }

    fn stand_in(_: Span) -> Option<Self> {
        let example = T::EXAMPLES.split('"').nth(1)?;
        T::parse(example).ok()
    }

    fn read(value: &DeValue<'_>, span: Span, reader: &mut Reader) -> Option<Self> {
        // A bare number is read like a text, so that the message can say which units are taken.
        let Some(text) = value.as_str().or_else(|| bare_number(value)) else {
            return wrong_type(value, span, reader);
        };
        match T::parse(text) {
            Ok(quantity) if value.is_str() => Some(quantity),
            Ok(_) => wrong_type(value, span, reader),
            Err(error) => {
                let problem = Problem::BadQuantity {
                    wanted: T::NAME,
                    error,
                    examples: T::EXAMPLES,
                };
                reader.report(problem, span);
                None
            }
        }
    }
}

fn bare_number<'a>(value: &'a DeValue<'_>) -> Option<&'a str> {
    let integer = value.as_integer().map(|integer| integer.as_str());
    integer.or_else(|| value.as_float().map(|float| float.as_str()))
}

impl Value for String {
    fn shape() -> Shape {
        Shape::Scalar("a text".to_owned())
    }

    fn stand_in(_: Span) -> Option<Self> {
        Some(Self::new())
    }

    fn read(value: &DeValue<'_>, span: Span, reader: &mut Reader) -> Option<Self> {
        let Some(text) = value.as_str() else {
            return wrong_type(value, span, reader);
        };
        if text.trim().is_empty() {
            reader.report(Problem::EmptyText, span);
            return None;
        }
        Some(text.trim().to_owned())
    }
}

impl Value for bool {
    fn shape() -> Shape {
        Shape::Bare("true or false")
    }

    fn stand_in(_: Span) -> Option<Self> {
        Some(false)
    }

    fn read(value: &DeValue<'_>, span: Span, reader: &mut Reader) -> Option<Self> {
        match value.as_bool() {
            Some(flag) => Some(flag),
            None => wrong_type(value, span, reader),
        }
    }
}

impl Value for u32 {
    fn shape() -> Shape {
        Shape::Bare("a whole number, zero or more")
    }

    fn stand_in(_: Span) -> Option<Self> {
        Some(0)
    }

    fn read(value: &DeValue<'_>, span: Span, reader: &mut Reader) -> Option<Self> {
        let parsed = value
            .as_integer()
            .and_then(|integer| Self::from_str_radix(integer.as_str(), integer.radix()).ok());
        if parsed.is_none() {
            let found = match value {
                DeValue::Integer(integer) if integer.as_str().starts_with('-') => {
                    "a number below zero"
                }
                DeValue::Integer(_) => "so large a number",
                DeValue::Float(_) => "a number with a decimal point",
                other => plain_type(other),
            };
            reader.report(not_taken::<Self>(found), span);
        }
        parsed
    }
}

/// A coefficient without a unit of its own.
impl Value for f64 {
    fn shape() -> Shape {
        Shape::Bare("a number, zero or more")
    }

    fn stand_in(_: Span) -> Option<Self> {
        Some(0.0)
    }

    fn read(value: &DeValue<'_>, span: Span, reader: &mut Reader) -> Option<Self> {
        let number = bare_number(value).and_then(|text| text.parse::<Self>().ok());
        let possible = number.filter(|number| number.is_finite() && *number >= 0.0);
        if possible.is_none() {
            let found = match number {
                Some(number) if number < 0.0 => "a number below zero",
                Some(_) => "no finite number",
                None => plain_type(value),
            };
            reader.report(not_taken::<Self>(found), span);
        }
        possible
    }
}

impl<T: Value> Value for Option<T> {
    fn shape() -> Shape {
        T::shape()
    }

    fn read(value: &DeValue<'_>, span: Span, reader: &mut Reader) -> Option<Self> {
        T::read(value, span, reader).map(Some)
    }

    fn absent() -> Option<Self> {
        Some(None)
    }

    fn stand_in(_: Span) -> Option<Self> {
        Some(None)
    }
}

impl<T: Value> Value for Vec<T> {
    fn shape() -> Shape {
        Shape::List(Box::new(T::shape()))
    }

    fn read(value: &DeValue<'_>, span: Span, reader: &mut Reader) -> Option<Self> {
        let Some(items) = value.as_array() else {
            return wrong_type(value, span, reader);
        };
        // Every item is read even after one has failed, so that all mistakes are seen.
        let read = items.iter().filter_map(|item| {
            let span = reader.span(item.span());
            T::read(item.get_ref(), span, reader).or_else(|| T::stand_in(span))
        });
        Some(read.collect())
    }

    fn absent() -> Option<Self> {
        Some(Self::new())
    }

    fn stand_in(_: Span) -> Option<Self> {
        Some(Self::new())
    }
}

impl<T: Value> Value for Spanned<T> {
    fn shape() -> Shape {
        T::shape()
    }

    fn read(value: &DeValue<'_>, span: Span, reader: &mut Reader) -> Option<Self> {
        T::read(value, span, reader).map(|value| Self { value, span })
    }

    fn stand_in(span: Span) -> Option<Self> {
        T::stand_in(span).map(|value| Self { value, span })
    }
}
