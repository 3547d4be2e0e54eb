//! Lines of a bill.

use rust_decimal::Decimal;

use super::BillLine;
use super::demand::{Demand, total};
use super::market::{Market, Quote};
use super::measure::{metres, micrometres, pieces};
use super::wish::pack_size;
use crate::catalog::{Pack, TaxPlace};
use crate::quantity::Money;

/// A line, and the size of its pack to sort by.
#[derive(Debug)]
pub(super) struct Line {
    /// The line.
    pub line: BillLine,
    /// Pieces or micrometres of one pack.
    pub size: u64,
}

/// How much of a demand an offer meets.
#[derive(Debug, Clone, Copy)]
pub(super) enum Used<'a> {
    /// Pieces.
    Pieces(u64),
    /// Unbroken lengths.
    Cuts(&'a [super::Piece]),
}

/// A line for packs of an offer.
pub(super) fn line(
    demand: &Demand,
    quote: &Quote<'_>,
    packs: u32,
    used: Used<'_>,
    market: &Market<'_>,
) -> Line {
    let unit_price = quote.price(packs);
    let line_total = unit_price.times(u64::from(packs));
    let (quantity, unit) = match used {
        Used::Pieces(count) => (count.to_string(), "piece"),
        Used::Cuts(cuts) => (metres(total(cuts)), "m"),
    };
    let line = BillLine {
        part: demand.part.clone(),
        kind: demand.kind,
        description: demand.description.clone(),
        colour: demand.colour,
        quantity,
        unit,
        supplier: quote.supplier.to_owned(),
        pack: in_words(quote),
        contents: quote.pack,
        packs,
        unit_price,
        line_total,
        tax: quote.tax,
        before_tax: before_tax(line_total, quote.tax, market),
        date: quote.date,
        old: market.is_old(quote.date),
        in_stock: quote.in_stock,
    };
    Line {
        size: pack_size(quote),
        line,
    }
}

/// An amount without the tax that is inside it, rounded half up.
fn before_tax(amount: Money, tax: TaxPlace, market: &Market<'_>) -> Money {
    match tax {
        TaxPlace::Outside => amount,
        TaxPlace::Inside => {
            let with_tax = Decimal::ONE + market.shop.tax.fraction();
            Money::from_decimal(amount.decimal() / with_tax).rounded(market.currency)
        }
    }
}

fn in_words(quote: &Quote<'_>) -> String {
    match quote.pack {
        Pack::Pieces(count) => pieces(count),
        Pack::Length(length) => {
            let metres = metres(micrometres(length));
            if quote.joined.is_some() {
                format!("{metres} m, cut to length")
            } else {
                format!("roll of {metres} m")
            }
        }
    }
}
