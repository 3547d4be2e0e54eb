//! A value that the user may leave to the program.

use toml::de::DeValue;

use super::{Reader, Shape, Value};
use crate::diagnostic::Span;

/// Left to the program, or fixed by the user.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Choice<T> {
    /// The word `auto`: the program chooses.
    Auto,
    /// The user's own value.
    Fixed(T),
}

impl<T> Choice<T> {
    /// The fixed value, if there is one.
    pub fn fixed(&self) -> Option<&T> {
        match self {
            Self::Auto => None,
            Self::Fixed(value) => Some(value),
        }
    }
}

impl<T: Value> Value for Choice<T> {
    fn shape() -> Shape {
        match T::shape() {
            Shape::Scalar(text) => Shape::Scalar(format!("`auto` or {text}")),
            other => other,
        }
    }

    fn stand_in(_: Span) -> Option<Self> {
        Some(Self::Auto)
    }

    fn read(value: &DeValue<'_>, span: Span, reader: &mut Reader) -> Option<Self> {
        match value.as_str() {
            Some("auto") => Some(Self::Auto),
            _ => T::read(value, span, reader).map(Self::Fixed),
        }
    }
}
