//! A quote as its two readers see it: the customer, and the workshop.
//!
//! What the customer sees is made of types that have no room for a cost, a markup or a supplier.

use rust_decimal::Decimal;
use serde::Serialize;

use crate::plan::Status;
use crate::quantity::{Currency, Date, Money};
use crate::quote::{Line, LinePlace, Quote, QuoteOption};
use crate::shop::{PricesShown, ShopFile, TaxOn};

/// Who makes the quote.
#[derive(Debug, Clone, Serialize)]
pub struct LetterheadView {
    /// Name of the workshop.
    pub name: String,
    /// Its address.
    pub address: Vec<String>,
    /// How to reach it.
    pub contact: Vec<String>,
    /// Number under which it pays its taxes.
    pub tax_number: Option<String>,
}

impl LetterheadView {
    fn of(shop: &ShopFile) -> Self {
        let given = shop.letterhead.as_ref();
        Self {
            name: shop.name.clone(),
            address: given.map_or_else(Vec::new, |head| head.address.clone()),
            contact: given.map_or_else(Vec::new, |head| head.contact.clone()),
            tax_number: given.and_then(|head| head.tax_number.clone()),
        }
    }
}

/// The customer's page.
#[derive(Debug, Clone, Serialize)]
pub struct CustomerView {
    /// `READY TO BUILD` or `NOT READY TO BUILD`, of the option that stands worst.
    pub status: &'static str,
    /// Whether every option may be built.
    pub ready: bool,
    /// What the job is.
    pub title: String,
    /// Who makes the quote.
    pub from: LetterheadView,
    /// Its number.
    pub number: Option<String>,
    /// Its date.
    pub date: Option<Date>,
    /// For how many days it holds.
    pub valid_days: u32,
    /// The last day on which it holds.
    pub valid_until: Option<Date>,
    /// Whether the lines hold their tax.
    pub tax_inside: bool,
    /// Whether tax is told on each line.
    pub tax_on_each_line: bool,
    /// The tax, such as `20 %`.
    pub tax_rate: String,
    /// The options, one a column.
    pub options: Vec<CustomerOption>,
    /// Work, one phase a row.
    pub work: Vec<RowView>,
    /// Parts and delivery.
    pub goods: Vec<RowView>,
    /// What the work will give.
    pub expected: Vec<ExpectedRow>,
    /// What the price includes.
    pub included: Vec<String>,
    /// What it does not include.
    pub not_included: Vec<String>,
    /// Terms of payment.
    pub terms: Vec<String>,
    /// What it rests on.
    pub assumptions: Vec<String>,
    /// What the customer should know.
    pub cautions: Vec<String>,
}

/// An option in a column.
#[derive(Debug, Clone, Serialize)]
pub struct CustomerOption {
    /// What it is called.
    pub name: String,
    /// What is special about it.
    pub note: Option<String>,
    /// Currency of its amounts.
    pub currency: Currency,
    /// Whether it may be built.
    pub ready: bool,
    /// Hours of work.
    pub hours: Decimal,
    /// Price before tax.
    pub net: Money,
    /// Tax.
    pub tax: Money,
    /// Price with tax.
    pub total: Money,
    /// What rounding to the smallest coin adds, where it does.
    pub cash_rounding: Option<Money>,
    /// What is to be paid.
    pub due: Money,
    /// What is paid before the work begins.
    pub deposit: Option<Money>,
    /// What is paid afterwards.
    pub balance: Money,
    /// What has no price yet.
    pub unpriced: Vec<String>,
}

/// A row of the quote over all options.
#[derive(Debug, Clone, Serialize)]
pub struct RowView {
    /// What it is.
    pub name: String,
    /// One cell an option; nothing where the option has no such line.
    pub cells: Vec<Option<CellView>>,
}

/// A line in an option's column.
#[derive(Debug, Clone, Serialize)]
pub struct CellView {
    /// Hours, for work.
    pub hours: Option<Decimal>,
    /// The price as shown.
    pub price: Money,
    /// The tax on it or in it, where tax is reckoned on each line.
    pub tax: Option<Money>,
}

/// A figure over all options.
#[derive(Debug, Clone, Serialize)]
pub struct ExpectedRow {
    /// What it is.
    pub what: &'static str,
    /// One figure an option.
    pub figures: Vec<Option<String>>,
}

impl CustomerView {
    /// The page of a quote.
    pub fn of(quote: &Quote, title: &str, shop: &ShopFile) -> Self {
        let is_work = |place: &LinePlace| matches!(place, LinePlace::Work(_));
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
            from: LetterheadView::of(shop),
            number: quote.number.clone(),
            date: quote.date,
            valid_days: quote.valid_days,
            valid_until: quote.valid_until,
            tax_inside: quote.rule.prices == PricesShown::TaxInside,
            tax_on_each_line: quote.rule.tax_on == TaxOn::EachLine,
            tax_rate: quote.rule.tax.to_string(),
            options: quote.options.iter().map(customer_option).collect(),
            work: rows(quote, is_work),
            goods: rows(quote, |place| !is_work(place)),
            expected: expected(quote),
            included: quote.included.clone(),
            not_included: quote.not_included.clone(),
            terms: quote.terms.clone(),
            assumptions: quote.assumptions.clone(),
            cautions: quote.cautions.clone(),
        }
    }
}

fn customer_option(option: &QuoteOption) -> CustomerOption {
    let sums = option.sums;
    CustomerOption {
        name: option.name.clone(),
        note: option.note.clone(),
        currency: option.currency,
        ready: option.ready,
        hours: option.lines.iter().filter_map(|line| line.hours).sum(),
        net: sums.net,
        tax: sums.tax,
        total: sums.total,
        cash_rounding: (!sums.cash_rounding.decimal().is_zero()).then_some(sums.cash_rounding),
        due: sums.due,
        deposit: option.deposit,
        balance: option.balance,
        unpriced: option.unpriced.clone(),
    }
}

/// Lines in the same place of the options side by side.
fn rows(quote: &Quote, wanted: impl Fn(&LinePlace) -> bool) -> Vec<RowView> {
    let lines = quote.options.iter().flat_map(|option| &option.lines);
    let mut named: Vec<(LinePlace, &str)> = Vec::new();
    for line in lines.filter(|line| wanted(&line.place)) {
        if !named.iter().any(|(place, _)| *place == line.place) {
            named.push((line.place, &line.name));
        }
    }
    named.sort();
    let cell = |line: &Line| CellView {
        hours: line.hours,
        price: line.shown,
        tax: line.tax,
    };
    let row = |(place, name): (LinePlace, &str)| {
        let of = |option: &QuoteOption| {
            let mut lines = option.lines.iter();
            lines.find(|line| line.place == place).map(cell)
        };
        RowView {
            name: name.to_owned(),
            cells: quote.options.iter().map(of).collect(),
        }
    };
    named.into_iter().map(row).collect()
}

/// Figures that at least one option has.
fn expected(quote: &Quote) -> Vec<ExpectedRow> {
    let first = quote.options.first();
    let count = first.map_or(0, |option| option.expected.len());
    let row = |at: usize| {
        let what = first?.expected.get(at)?.what;
        let figure = |option: &QuoteOption| option.expected.get(at)?.figure.clone();
        let figures: Vec<Option<String>> = quote.options.iter().map(figure).collect();
        let any = figures.iter().any(Option::is_some);
        any.then_some(ExpectedRow { what, figures })
    };
    (0..count).filter_map(row).collect()
}
