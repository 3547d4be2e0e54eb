//! What a lead's `protect` key may hold.

use toml::de::DeValue;

use crate::diagnostic::Span;
use crate::file::{Reader, Shape, Value, wrong_type};
use crate::quantity::{Current, Quantity};

/// The user's wish for a lead's protection.
#[derive(Debug, Clone, PartialEq)]
pub enum Protect {
    /// The program decides whether and with what.
    Auto,
    /// None, at the user's word.
    None,
    /// A device of this rating, the program chooses which.
    Rating(Current),
    /// The breaker or fuse with this id.
    Part(String),
}

impl Value for Protect {
    fn shape() -> Shape {
        Shape::Scalar("`auto`, `none`, a rating such as \"150 A\", or a part id".to_owned())
    }

    fn stand_in(_: Span) -> Option<Self> {
        Some(Self::Auto)
    }

    fn read(value: &DeValue<'_>, span: Span, reader: &mut Reader) -> Option<Self> {
        match value.as_str() {
            Some("auto") => Some(Self::Auto),
            Some("none") => Some(Self::None),
            Some(text) if text.starts_with(|c: char| c.is_ascii_digit()) => {
                match Current::parse(text) {
                    Ok(rating) => Some(Self::Rating(rating)),
                    Err(_) => Current::read(value, span, reader).map(Self::Rating),
                }
            }
            Some(text) => Some(Self::Part(text.to_owned())),
            None => wrong_type(value, span, reader),
        }
    }
}
