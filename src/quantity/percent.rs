//! Percentages of money.

use std::fmt;

use rust_decimal::Decimal;

use super::{Quantity, QuantityError};

/// An exact decimal percentage, for money; physical ratios are a [`Ratio`](super::Ratio).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Percent(Decimal);

impl Percent {
    /// The percentage as an exact fraction of one.
    pub fn fraction(self) -> Decimal {
        self.0 * Decimal::new(1, 2)
    }
}

impl Quantity for Percent {
    const NAME: &'static str = "a percentage";
    const EXAMPLES: &'static str = r#""8.1 %""#;

    fn parse(text: &str) -> Result<Self, QuantityError> {
        const UNITS: [&str; 2] = ["%", "percent"];
        let text = text.trim();
        if text.is_empty() {
            return Err(QuantityError::Empty);
        }
        if text.contains(',') {
            return Err(QuantityError::DecimalComma);
        }
        let number = UNITS.iter().find_map(|unit| text.strip_suffix(unit));
        let Some(number) = number else {
            return Err(QuantityError::NoUnit {
                units: UNITS.join(", "),
            });
        };
        let exact = Decimal::from_str_exact(number.trim());
        let percent = exact.map_err(|_| QuantityError::NotExact {
            text: text.to_owned(),
        })?;
        if percent.is_sign_negative() && !percent.is_zero() {
            return Err(QuantityError::Negative);
        }
        // No tax comes near; larger figures are slips and would overflow exact arithmetic.
        if percent > Decimal::ONE_THOUSAND {
            return Err(QuantityError::TooLarge { most: "1000 %" });
        }
        Ok(Self(percent))
    }
}

impl fmt::Display for Percent {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} %", self.0)
    }
}

impl serde::Serialize for Percent {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn a_percentage_keeps_every_digit() {
        let percent = Percent::parse(" 8.1 % ").unwrap();
        assert_eq!(percent.fraction(), Decimal::new(81, 3));
        assert_eq!(percent.to_string(), "8.1 %");
        let third = Percent::parse("33.333333%").unwrap();
        assert_eq!(third.fraction(), Decimal::new(33_333_333, 8));
        let none = Percent::parse("-0 percent").unwrap();
        assert!(none.fraction().is_zero());
    }

    #[test]
    fn refuses_what_is_not_a_percentage() {
        assert_eq!(Percent::parse(""), Err(QuantityError::Empty));
        assert_eq!(Percent::parse("8,1 %"), Err(QuantityError::DecimalComma));
        assert_eq!(Percent::parse("-1 %"), Err(QuantityError::Negative));
        assert!(matches!(
            Percent::parse("8.1"),
            Err(QuantityError::NoUnit { .. })
        ));
        assert!(matches!(
            Percent::parse("a lot %"),
            Err(QuantityError::NotExact { .. })
        ));
        assert_eq!(
            Percent::parse("1001 %"),
            Err(QuantityError::TooLarge { most: "1000 %" })
        );
    }
}
