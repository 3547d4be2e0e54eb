//! Exact decimal money.

use std::fmt;

use rust_decimal::{Decimal, RoundingStrategy};

use super::{Currency, Quantity, QuantityError};

/// An exact amount of money in a currency known from the context; never a binary fraction.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Money(Decimal);

impl Money {
    /// Nothing.
    pub const ZERO: Self = Self(Decimal::ZERO);

    /// From an exact decimal.
    pub const fn from_decimal(amount: Decimal) -> Self {
        Self(amount)
    }

    /// The exact decimal.
    pub const fn decimal(self) -> Decimal {
        self.0
    }

    /// Whether the currency's minor unit is fine enough to pay the amount exactly.
    pub fn payable_in(self, currency: Currency) -> bool {
        self.0.normalize().scale() <= currency.minor_digits()
    }

    /// A whole number of times the amount, exactly.
    pub fn times(self, count: u64) -> Self {
        Self(self.0 * Decimal::from(count))
    }

    /// A decimal factor times the amount (tax, exchange), rounded half up to the currency's
    /// minor unit.
    pub fn scaled(self, factor: Decimal, currency: Currency) -> Self {
        Self(self.0 * factor).rounded(currency)
    }

    /// Rounded half up to the currency's minor unit.
    pub fn rounded(self, currency: Currency) -> Self {
        self.rounded_by(RoundingStrategy::MidpointAwayFromZero, currency)
    }

    /// Rounded to the currency's minor unit.
    pub fn rounded_by(self, strategy: RoundingStrategy, currency: Currency) -> Self {
        let places = currency.minor_digits();
        let mut amount = self.0.round_dp_with_strategy(places, strategy);
        amount.rescale(places);
        Self(amount)
    }

    /// The multiple of a step, more than nothing, that is nearest.
    pub fn to_multiple(self, step: Self, strategy: RoundingStrategy) -> Self {
        // A quotient whose digits never end is no midpoint, so that none is lost by cutting it off.
        let steps = self.0.checked_div(step.0).unwrap_or_default();
        Self(steps.round_dp_with_strategy(0, strategy) * step.0)
    }
}

/// The largest amount or rate of exchange that a file may hold.
const MOST: u32 = 1_000_000_000;

impl Quantity for Money {
    const NAME: &'static str = "an amount of money";
    const EXAMPLES: &'static str = r#""12.50""#;

    fn parse(text: &str) -> Result<Self, QuantityError> {
        let text = text.trim();
        if text.is_empty() {
            return Err(QuantityError::Empty);
        }
        if text.contains(',') {
            return Err(QuantityError::DecimalComma);
        }
        let amount = Decimal::from_str_exact(text).map_err(|_| QuantityError::NotExact {
            text: text.to_owned(),
        })?;
        if amount.is_sign_negative() && !amount.is_zero() {
            return Err(QuantityError::Negative);
        }
        // Larger amounts are slips; the limit keeps price x rate x packs within exact arithmetic.
        if amount > Decimal::from(MOST) {
            return Err(QuantityError::TooLarge { most: "1000000000" });
        }
        Ok(Self(amount))
    }
}

impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(&self.0, f)
    }
}

impl serde::Serialize for Money {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl std::ops::Add for Money {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl std::ops::Sub for Money {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl std::ops::AddAssign for Money {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl std::iter::Sum for Money {
    fn sum<I: Iterator<Item = Self>>(items: I) -> Self {
        items.fold(Self::ZERO, |total, item| total + item)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn money(text: &str) -> Money {
        Money::parse(text).unwrap()
    }

    fn currency(code: &str) -> Currency {
        Currency::parse(code).unwrap()
    }

    #[test]
    fn rounding_goes_half_up_to_the_minor_unit_and_shows_its_digits() {
        assert_eq!(money("2.345").rounded(currency("EUR")).to_string(), "2.35");
        assert_eq!(money("2.5").rounded(currency("JPY")).to_string(), "3");
        assert_eq!(money("2").rounded(currency("KWD")).to_string(), "2.000");
    }

    #[test]
    fn to_a_step_the_nearest_multiple_counts() {
        let step = money("0.05");
        let half_up = RoundingStrategy::MidpointAwayFromZero;
        let half_even = RoundingStrategy::MidpointNearestEven;
        assert_eq!(money("12.32").to_multiple(step, half_up), money("12.30"));
        assert_eq!(money("12.33").to_multiple(step, half_up), money("12.35"));
        assert_eq!(money("12.325").to_multiple(step, half_up), money("12.35"));
        assert_eq!(money("12.325").to_multiple(step, half_even), money("12.30"));
    }

    #[test]
    fn an_amount_finer_than_the_minor_unit_cannot_be_paid() {
        assert!(money("12.500").payable_in(currency("EUR")));
        assert!(!money("12.505").payable_in(currency("EUR")));
        assert!(!money("12.5").payable_in(currency("JPY")));
        assert!(money("12.505").payable_in(currency("TND")));
    }

    #[test]
    fn refuses_amounts_beyond_reason() {
        let error = QuantityError::TooLarge { most: "1000000000" };
        assert_eq!(Money::parse("1000000000.01"), Err(error));
        assert_eq!(Money::parse("-1"), Err(QuantityError::Negative));
        assert!(Money::parse("79228162514264337593543950336").is_err());
    }
}
