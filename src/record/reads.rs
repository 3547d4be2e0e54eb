//! What a meter shows, or nothing yet.

use toml::de::DeValue;

use crate::diagnostic::Span;
use crate::file::{Reader, Shape, Value};
use crate::quantity::{Quantity, Voltage};

/// What a meter shows; `None` while nothing was measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reads(pub Option<Voltage>);

impl Value for Reads {
    fn shape() -> Shape {
        let examples = Voltage::EXAMPLES;
        Shape::Scalar(format!(
            "a voltage such as {examples}; \"\" while it is not taken"
        ))
    }

    fn stand_in(_: Span) -> Option<Self> {
        Some(Self(None))
    }

    fn read(value: &DeValue<'_>, span: Span, reader: &mut Reader) -> Option<Self> {
        match value.as_str().map(str::trim) {
            Some("") => Some(Self(None)),
            _ => Voltage::read(value, span, reader).map(|volts| Self(Some(volts))),
        }
    }
}
