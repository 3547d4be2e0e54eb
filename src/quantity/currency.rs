//! Currencies by their ISO 4217 code.

use std::fmt;

use super::{Quantity, QuantityError};

/// A currency; the index of its row in [`ROWS`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Currency(usize);

/// Code and digits after the decimal point. Source: ISO 4217 list one; the digits of the codes
/// below are from memory.
const ROWS: &[(&str, u32)] = &[
    ("AUD", 2),
    ("BRL", 2),
    ("CAD", 2),
    ("CHF", 2),
    ("CLP", 0),
    ("CNY", 2),
    ("CZK", 2),
    ("DKK", 2),
    ("EUR", 2),
    ("GBP", 2),
    ("HUF", 2),
    ("INR", 2),
    ("ISK", 0),
    ("JPY", 0),
    ("KRW", 0),
    ("KWD", 3),
    ("MXN", 2),
    ("NOK", 2),
    ("NZD", 2),
    ("PLN", 2),
    ("RON", 2),
    ("SEK", 2),
    ("SGD", 2),
    ("TND", 3),
    ("TRY", 2),
    ("UAH", 2),
    ("USD", 2),
    ("ZAR", 2),
];

impl Currency {
    /// The three-letter code.
    pub fn code(self) -> &'static str {
        ROWS.get(self.0).map_or("", |row| row.0)
    }

    /// Digits after the decimal point.
    pub fn minor_digits(self) -> u32 {
        ROWS.get(self.0).map_or(2, |row| row.1)
    }
}

impl Quantity for Currency {
    const NAME: &'static str = "a currency";
    const EXAMPLES: &'static str = r#""EUR" or "USD""#;

    fn parse(text: &str) -> Result<Self, QuantityError> {
        let position = ROWS.iter().position(|(code, _)| *code == text.trim());
        position.map(Self).ok_or_else(|| {
            let known: Vec<&str> = ROWS.iter().map(|row| row.0).collect();
            QuantityError::NotKnown {
                text: text.to_owned(),
                known: known.join(", "),
            }
        })
    }
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code())
    }
}

impl serde::Serialize for Currency {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}
