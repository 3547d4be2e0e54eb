//! The workshop's page of a quote: costs, markups, and what is left.

use rust_decimal::Decimal;
use serde::Serialize;

use crate::plan::Status;
use crate::quantity::{Date, Money};
use crate::quote::{Labour, PricedPart, Quote, QuoteOption, Sums, TaxRule};

/// The workshop's page.
#[derive(Debug, Clone, Serialize)]
pub struct CostingView {
    /// `READY TO BUILD` or `NOT READY TO BUILD`, of the option that stands worst.
    pub status: &'static str,
    /// Whether every option may be built.
    pub ready: bool,
    /// What the job is.
    pub title: String,
    /// Number of the quote.
    pub number: Option<String>,
    /// Its date.
    pub date: Option<Date>,
    /// How its amounts come about.
    pub rule: TaxRule,
    /// The options, one after the other.
    pub options: Vec<CostingOption>,
}

/// One option.
#[derive(Debug, Clone, Serialize)]
pub struct CostingOption {
    /// What it is called.
    pub name: String,
    /// Currency of all its amounts.
    pub currency: crate::quantity::Currency,
    /// Hours by phase and rate.
    pub labour: Vec<LabourView>,
    /// Sum of the hours.
    pub hours: Decimal,
    /// Sum of their prices.
    pub labour_price: Money,
    /// Parts, each with its margin.
    pub parts: Vec<PartView>,
    /// What the customer reads, each with its margin.
    pub lines: Vec<MarginView>,
    /// What taking tax out of shown prices adds to the lines' prices before tax, or takes off.
    pub rounding: Option<Money>,
    /// What the lines come to.
    pub sums: Sums,
    /// What is paid before the work begins.
    pub deposit: Option<Money>,
    /// What has no price yet.
    pub unpriced: Vec<String>,
    /// What is left.
    pub costing: crate::quote::Costing,
}

/// Work of a phase with its margin.
#[derive(Debug, Clone, Serialize)]
pub struct LabourView {
    /// As priced.
    #[serde(flatten)]
    pub labour: Labour,
    /// The price less the cost, where the shop file says what an hour costs.
    pub margin: Option<Money>,
}

/// A part with its margin.
#[derive(Debug, Clone, Serialize)]
pub struct PartView {
    /// As priced.
    #[serde(flatten)]
    pub part: PricedPart,
    /// The price less the cost.
    pub margin: Money,
}

/// A line with its margin.
#[derive(Debug, Clone, Serialize)]
pub struct MarginView {
    /// What it is.
    pub name: String,
    /// Hours, for work.
    pub hours: Option<Decimal>,
    /// What it costs; nothing for work whose hours have no cost in the shop file.
    pub cost: Option<Money>,
    /// The price before tax.
    pub net: Money,
    /// The price less the cost.
    pub margin: Option<Money>,
}

impl CostingView {
    /// The page of a quote.
    pub fn of(quote: &Quote, title: &str) -> Self {
        let ready = quote.options.iter().all(|option| option.ready);
        let status = if ready {
            Status::Ready
        } else {
            Status::NotReady
        };
        Self {
            status: status.as_str(),
            ready,
            title: title.to_owned(),
            number: quote.number.clone(),
            date: quote.date,
            rule: quote.rule,
            options: quote.options.iter().map(option).collect(),
        }
    }
}

fn option(option: &QuoteOption) -> CostingOption {
    let labour = option.labour.iter().map(|row| LabourView {
        margin: row
            .cost
            .map(|cost| (row.price - cost).rounded(option.currency)),
        labour: row.clone(),
    });
    let prices: Money = option.labour.iter().map(|row| row.price).sum();
    let parts = option.parts.iter().map(|part| PartView {
        margin: (part.price - part.cost).rounded(option.currency),
        part: part.clone(),
    });
    let lines = option.lines.iter().map(|line| MarginView {
        name: line.name.clone(),
        hours: line.hours,
        cost: line.cost.map(|cost| cost.rounded(option.currency)),
        net: line.net,
        margin: line
            .cost
            .map(|cost| (line.net - cost).rounded(option.currency)),
    });
    let nets: Money = option.lines.iter().map(|line| line.net).sum();
    let rounding = (option.sums.net - nets).rounded(option.currency);
    CostingOption {
        name: option.name.clone(),
        currency: option.currency,
        hours: option.labour.iter().map(|row| row.hours).sum(),
        labour: labour.collect(),
        labour_price: prices.rounded(option.currency),
        parts: parts.collect(),
        lines: lines.collect(),
        rounding: (!rounding.decimal().is_zero()).then_some(rounding),
        sums: option.sums,
        deposit: option.deposit,
        unpriced: option.unpriced.clone(),
        costing: option.costing.clone(),
    }
}
