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

/// What is added to a cost to make a price, in percent of the cost; below nothing it is taken off.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Markup(Decimal);

impl Markup {
    /// What a cost is multiplied by, exactly.
    pub fn factor(self) -> Decimal {
        Decimal::ONE + self.0 * Decimal::new(1, 2)
    }
}

/// Digits after the point that a percentage may have: products with money stay exact with them.
const DIGITS: u32 = 6;

fn parse(text: &str) -> Result<Decimal, QuantityError> {
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
    if percent.normalize().scale() > DIGITS {
        return Err(QuantityError::TooFine { digits: DIGITS });
    }
    // No tax or markup comes near; larger figures are slips and would overflow exact arithmetic.
    if percent > Decimal::ONE_THOUSAND {
        return Err(QuantityError::TooLarge { most: "1000 %" });
    }
    Ok(percent)
}

impl Quantity for Percent {
    const NAME: &'static str = "a percentage";
    const EXAMPLES: &'static str = r#""8.1 %""#;

    fn parse(text: &str) -> Result<Self, QuantityError> {
        let percent = parse(text)?;
        if percent.is_sign_negative() && !percent.is_zero() {
            return Err(QuantityError::Negative);
        }
        Ok(Self(percent))
    }
}

impl Quantity for Markup {
    const NAME: &'static str = "a markup";
    const EXAMPLES: &'static str = r#""25 %""#;

    fn parse(text: &str) -> Result<Self, QuantityError> {
        let percent = parse(text)?;
        if percent < -Decimal::ONE_HUNDRED {
            return Err(QuantityError::TooSmall { least: "-100 %" });
        }
        Ok(Self(percent))
    }
}

macro_rules! shown_as_percent {
    ($name:ident) => {
        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, "{} %", self.0)
            }
        }

        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.collect_str(self)
            }
        }
    };
}
shown_as_percent!(Percent);
shown_as_percent!(Markup);

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
    fn a_markup_may_take_off_but_not_more_than_all() {
        assert_eq!(
            Markup::parse("25 %").unwrap().factor(),
            Decimal::new(125, 2)
        );
        assert!(Markup::parse("-100 %").unwrap().factor().is_zero());
        assert_eq!(
            Markup::parse("-100.01 %"),
            Err(QuantityError::TooSmall { least: "-100 %" })
        );
        assert!(Markup::parse("0.1234567 %").is_err());
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
