//! What is left to the workshop, and how soon it is gone.

use rust_decimal::Decimal;
use serde::Serialize;

use super::labour::Labour;
use super::reckon::{Sums, TaxRule};
use crate::quantity::{Currency, Money};

/// Discounts that are looked at, in percent of the price before tax.
const DISCOUNTS: [u32; 4] = [5, 10, 15, 20];

/// Overruns that are looked at, in percent of the hours.
const OVERRUNS: [u32; 3] = [10, 25, 50];

/// What a price leaves to the workshop.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Costing {
    /// Cost of all parts before tax.
    pub parts: Money,
    /// Cost of delivery before tax.
    pub delivery: Money,
    /// Cost of the hours, where the shop file says.
    pub labour: Option<Money>,
    /// What is left of the price before tax once these are paid; below nothing it is lost.
    pub left: Money,
    /// The same in percent of the price before tax.
    pub left_percent: Option<Decimal>,
    /// What is left after a discount.
    pub discounts: Vec<Discount>,
    /// What is left when the work takes longer than planned.
    pub overruns: Vec<Overrun>,
    /// Tools and dies to buy for the job with their delivery, in no price.
    pub tools: Money,
}

/// What is left after a discount.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Discount {
    /// The discount.
    pub percent: u32,
    /// What it takes off.
    pub given: Money,
    /// The price before tax that remains.
    pub price: Money,
    /// What is left of it.
    pub left: Money,
}

/// What is left when the work takes longer than planned.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Overrun {
    /// How much longer.
    pub percent: u32,
    /// The further hours.
    pub hours: Decimal,
    /// What they cost.
    pub cost: Money,
    /// What is left.
    pub left: Money,
}

/// What a costing is made from.
#[derive(Debug, Clone, Copy)]
pub struct Costs {
    /// Parts.
    pub parts: Money,
    /// Delivery.
    pub delivery: Money,
    /// Tools to buy.
    pub tools: Money,
}

/// Works out what is left of a price.
pub fn costing(
    sums: &Sums,
    labour: &[Labour],
    costs: Costs,
    rule: &TaxRule,
    currency: Currency,
) -> Costing {
    let of_labour: Option<Money> = labour
        .iter()
        .map(|row| row.cost.map(Money::decimal))
        .sum::<Option<Decimal>>()
        .map(|sum| Money::from_decimal(sum).rounded(currency));
    let spent = costs.parts + costs.delivery + of_labour.unwrap_or_default();
    let left = (sums.net - spent).rounded(currency);
    let percent = |percent: u32| Decimal::new(i64::from(percent), 2);
    let discounts = DISCOUNTS.map(|discount| {
        let price = rule.rounded(
            sums.net.decimal() * (Decimal::ONE - percent(discount)),
            currency,
        );
        Discount {
            percent: discount,
            given: (sums.net - price).rounded(currency),
            price,
            left: (price - spent).rounded(currency),
        }
    });
    let hours: Decimal = labour.iter().map(|row| row.hours).sum();
    let overruns = OVERRUNS.map(|longer| {
        let exact = of_labour.unwrap_or_default().decimal() * percent(longer);
        let cost = rule.rounded(exact, currency);
        Overrun {
            percent: longer,
            hours: (hours * percent(longer)).round_dp(1),
            cost,
            left: (left - cost).rounded(currency),
        }
    });
    Costing {
        parts: costs.parts.rounded(currency),
        delivery: costs.delivery.rounded(currency),
        labour: of_labour,
        left,
        left_percent: left
            .decimal()
            .checked_div(sums.net.decimal())
            .map(|share| (share * Decimal::ONE_HUNDRED).round_dp(1)),
        discounts: discounts.to_vec(),
        overruns: match of_labour {
            Some(_) => overruns.to_vec(),
            None => Vec::new(),
        },
        tools: costs.tools,
    }
}
