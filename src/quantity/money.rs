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
        let places = currency.minor_digits();
        let strategy = RoundingStrategy::MidpointAwayFromZero;
        let mut amount = self.0.round_dp_with_strategy(places, strategy);
        amount.rescale(places);
        Self(amount)
    }
}

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
