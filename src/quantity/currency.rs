//! Currencies by their ISO 4217 code.

use std::fmt;
use std::sync::LazyLock;

use super::{Quantity, QuantityError};

/// A currency.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Currency {
    code: &'static str,
    minor_digits: u32,
}

/// Code and digits of each currency; its first line names the source.
const TABLE: &str = include_str!("../../catalog/reference/currencies.csv");

/// The rows of the table, by code.
static CURRENCIES: LazyLock<Vec<Currency>> =
    LazyLock::new(|| TABLE.lines().filter_map(row).collect());

fn row(line: &'static str) -> Option<Currency> {
    let (code, digits) = line.split_once(',')?;
    let minor_digits = digits.parse().ok()?;
    Some(Currency { code, minor_digits })
}

impl Currency {
    /// The three-letter code.
    pub const fn code(self) -> &'static str {
        self.code
    }

    /// Digits after the decimal point.
    pub const fn minor_digits(self) -> u32 {
        self.minor_digits
    }

    fn of_code(code: &str) -> Option<Self> {
        CURRENCIES.iter().find(|known| known.code == code).copied()
    }
}

impl Quantity for Currency {
    const NAME: &'static str = "a currency";
    const EXAMPLES: &'static str = r#""EUR" or "USD""#;

    fn parse(text: &str) -> Result<Self, QuantityError> {
        let text = text.trim();
        Self::of_code(text).ok_or_else(|| {
            let meant = Self::of_code(&text.to_uppercase());
            let all = "the codes of ISO 4217, three capital letters";
            QuantityError::NotKnown {
                text: text.to_owned(),
                known: meant.map_or(all, Self::code).to_owned(),
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

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn every_line_of_the_table_but_the_first_is_a_currency_and_none_stands_twice() {
        assert_eq!(CURRENCIES.len(), TABLE.lines().count() - 1);
        let codes: Vec<&str> = CURRENCIES.iter().map(|row| row.code).collect();
        assert!(codes.windows(2).all(|pair| pair[0] < pair[1]));
        for row in CURRENCIES.iter() {
            let capitals = row.code.bytes().all(|letter| letter.is_ascii_uppercase());
            assert!(row.code.len() == 3 && capitals && row.minor_digits <= 3);
        }
    }

    /// Digits as ISO 4217 gives them, from memory.
    #[test]
    fn minor_units_are_those_of_the_standard() {
        for (code, digits) in [("EUR", 2), ("JPY", 0), ("TND", 3), ("KWD", 3), ("ISK", 0)] {
            assert_eq!(Currency::parse(code).unwrap().minor_digits(), digits);
        }
        let small = Currency::parse("eur").unwrap_err();
        assert_eq!(small.to_string(), "`eur` is not one of: EUR");
        assert!(Currency::parse("XYZ").is_err());
    }
}
