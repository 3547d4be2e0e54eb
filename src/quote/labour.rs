//! Hours and what they cost: the minutes of the plan at the rates of the shop.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use serde::Serialize;

use super::reckon::TaxRule;
use crate::method::{Method, Stage, Step};
use crate::quantity::{Currency, Money};
use crate::shop::{ShopFile, Workplace};

/// Work of one phase at one rate.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Labour {
    /// The phase.
    pub stage: Stage,
    /// Where it is done.
    pub workplace: Workplace,
    /// Name of the rate.
    pub rate: String,
    /// Minutes of the plan.
    pub minutes: Decimal,
    /// Hours that are charged.
    pub hours: Decimal,
    /// Price of one hour.
    pub hour: Money,
    /// Price before tax.
    pub price: Money,
    /// What the hours cost the workshop, where the shop file says.
    pub cost: Option<Money>,
}

/// The rate of a place of work in the currency of the quote.
struct Rate {
    name: String,
    hour: Option<Money>,
    cost: Option<Money>,
}

/// The work by phase and rate; nothing where no rate of exchange gives the price of an hour.
pub fn labour(
    method: &Method,
    shop: &ShopFile,
    rule: &TaxRule,
    currency: Currency,
) -> Option<Vec<Labour>> {
    let mut tenths: BTreeMap<(Stage, Workplace), i64> = BTreeMap::new();
    for step in &method.steps {
        *tenths.entry((step.stage, workplace(step))).or_default() += tenths_of_minutes(step);
    }
    let rows = tenths.into_iter().filter(|(_, tenths)| *tenths > 0);
    let line = |((stage, workplace), tenths)| {
        let rate = rate(shop, workplace, currency);
        let hour = rate.hour?;
        let hours = charged(tenths, shop);
        let amount = |hour: Money| rule.rounded(hour.decimal() * hours, currency);
        Some(Labour {
            stage,
            workplace,
            rate: rate.name,
            minutes: Decimal::new(tenths, 1),
            hours,
            hour,
            price: amount(hour),
            cost: rate.cost.map(amount),
        })
    };
    rows.map(line).collect()
}

fn workplace(step: &Step) -> Workplace {
    match step.at_bench {
        true => Workplace::Bench,
        false => Workplace::Vehicle,
    }
}

/// Minutes of a step are whole tenths.
fn tenths_of_minutes(step: &Step) -> i64 {
    (step.minutes * 10.0).round() as i64
}

/// Hours, rounded up to the step of the shop, which is a whole number of hundredths of an hour.
fn charged(tenths: i64, shop: &ShopFile) -> Decimal {
    /// Tenths of a minute in a hundredth of an hour.
    const TENTHS: i64 = 6;
    let step = ((shop.labour_step.value.s() / 36.0).round() as i64).max(1);
    let hundredths = Decimal::from(tenths) / Decimal::from(TENTHS * step);
    let hundredths = hundredths.ceil() * Decimal::from(step);
    hundredths * Decimal::new(1, 2)
}

fn rate(shop: &ShopFile, workplace: Workplace, currency: Currency) -> Rate {
    let mut own = shop.rate.iter();
    let own = own.find(|rate| rate.work.contains(&workplace));
    let common_cost = shop.labour_cost.as_ref();
    let (name, hour, cost) = match own {
        Some(rate) => (
            rate.name.value.clone(),
            &rate.hour,
            rate.cost.as_ref().or(common_cost),
        ),
        None => ("standard".to_owned(), &shop.labour_rate, common_cost),
    };
    let convert = |amount: Money| shop.converted(amount, shop.currency, currency);
    Rate {
        name,
        hour: convert(hour.value),
        cost: cost.and_then(|cost| convert(cost.value)),
    }
}
