//! What is paid before the work begins.

use std::fmt;

use crate::quantity::{Money, Percent, Quantity, QuantityError};

/// What is paid before the work begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Deposit {
    /// A share of what is to be paid.
    Share(Percent),
    /// An amount in the shop's currency.
    Amount(Money),
}

impl Quantity for Deposit {
    const NAME: &'static str = "a deposit";
    const EXAMPLES: &'static str = r#""40 %" or "500.00""#;

    fn parse(text: &str) -> Result<Self, QuantityError> {
        match Percent::parse(text) {
            Err(QuantityError::NoUnit { .. }) => Money::parse(text).map(Self::Amount),
            share => share.map(Self::Share),
        }
    }
}

impl fmt::Display for Deposit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Share(share) => share.fmt(f),
            Self::Amount(amount) => amount.fmt(f),
        }
    }
}
