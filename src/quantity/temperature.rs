//! Temperatures.

use super::number::leading_number;
use super::{Quantity, QuantityError, quantity};

/// A temperature, held in degrees Celsius.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, serde::Serialize)]
#[serde(transparent)]
pub struct Temperature(f64);

impl Temperature {
    /// From degrees Celsius.
    pub const fn from_c(celsius: f64) -> Self {
        Self(celsius)
    }

    /// In degrees Celsius.
    pub const fn c(self) -> f64 {
        self.0
    }

    /// The colder of two.
    pub fn min(self, other: Self) -> Self {
        Self(self.0.min(other.0))
    }

    /// The hotter of two.
    pub fn max(self, other: Self) -> Self {
        Self(self.0.max(other.0))
    }
}

impl Quantity for Temperature {
    const NAME: &'static str = "a temperature";
    const EXAMPLES: &'static str = r#""-15 C" or "5 F""#;

    fn parse(text: &str) -> Result<Self, QuantityError> {
        let units = "C, F".to_owned();
        let text = text.trim();
        if text.is_empty() {
            return Err(QuantityError::Empty);
        }
        let (number, rest) = leading_number(text)?;
        let celsius = match rest.trim().trim_start_matches('°') {
            "" => return Err(QuantityError::NoUnit { units }),
            "C" => number,
            "F" => (number - 32.0) / 1.8,
            unit => {
                let unit = unit.to_owned();
                return Err(QuantityError::UnknownUnit { unit, units });
            }
        };
        const ABSOLUTE_ZERO_C: f64 = -273.15;
        if celsius < ABSOLUTE_ZERO_C {
            return Err(QuantityError::NotKnown {
                text: text.to_owned(),
                known: "temperatures above absolute zero".to_owned(),
            });
        }
        Ok(Self(celsius))
    }
}

quantity! {
    /// A difference between two temperatures, held in kelvin.
    TemperatureDifference, "a temperature difference", examples r#""5 K""#, Unsigned,
    base from_k,
    ["K"] = 1.0,
}

impl TemperatureDifference {
    /// In kelvin.
    pub const fn k(self) -> f64 {
        self.get()
    }
}
