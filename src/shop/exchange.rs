//! Amounts in other currencies.

use rust_decimal::Decimal;

use super::ShopFile;
use crate::quantity::{Currency, Money};

impl ShopFile {
    /// An amount in another currency, rounded to its minor unit; `None` without a rate.
    pub fn converted(&self, amount: Money, from: Currency, to: Currency) -> Option<Money> {
        if from == to {
            return Some(amount.rounded(to));
        }
        // Multiplied before it is divided, so that an exact half stays one.
        let in_shop_currency = amount.decimal().checked_mul(self.rate_of(from)?)?;
        let converted = in_shop_currency.checked_div(self.rate_of(to)?)?;
        Some(Money::from_decimal(converted).rounded(to))
    }

    /// What one unit of a currency costs in the shop's.
    fn rate_of(&self, currency: Currency) -> Option<Decimal> {
        if currency == self.currency {
            return Some(Decimal::ONE);
        }
        let mut rates = self.exchange.iter();
        let row = rates.find(|row| row.currency.value == currency)?;
        Some(row.rate.decimal())
    }
}
