//! Lines added up: goods, delivery, tax and total.

use std::collections::BTreeSet;

use rust_decimal::Decimal;

use super::lines::Line;
use super::market::Market;
use super::shortage::shop_and_lists;
use super::{Bill, BillLine, Delivery, OrderProof, OtherWay};
use crate::catalog::TaxPlace;
use crate::check::{Check, CheckRule};
use crate::quantity::Money;

/// Adds up a bill. Suppliers already `served` by another order bring these goods along.
pub(super) fn total(
    mut lines: Vec<Line>,
    (order, ways): (OrderProof, Vec<OtherWay>),
    market: &Market<'_>,
    served: &BTreeSet<String>,
) -> Bill {
    lines.sort_by(|a, b| key(a).cmp(&key(b)));
    let lines: Vec<BillLine> = lines.into_iter().map(|line| line.line).collect();
    let currency = market.currency;
    let sum = |place: TaxPlace| {
        let taxed = lines.iter().filter(move |line| line.tax == place);
        taxed.map(|line| line.line_total).sum::<Money>()
    };
    let (outside, inside) = (sum(TaxPlace::Outside), sum(TaxPlace::Inside));
    let deliveries = deliveries(&lines, market, served);
    let delivery: Money = deliveries.iter().map(|row| row.charge).sum();
    let rate = market.shop.tax.fraction();
    let tax = (outside + delivery).scaled(rate, currency);
    let tax_inside = Money::from_decimal(inside.decimal() * rate / (Decimal::ONE + rate));
    Bill {
        currency,
        goods_total: (outside + inside).rounded(currency),
        deliveries,
        delivery: delivery.rounded(currency),
        tax,
        tax_inside: tax_inside.rounded(currency),
        total: (outside + inside + delivery + tax).rounded(currency),
        lines,
        order,
        ways,
    }
}

/// By kind, description and pack; what follows only settles ties.
fn key(line: &Line) -> impl Ord + '_ {
    let row = &line.line;
    let settles = (row.supplier.as_str(), row.part.as_str(), row.colour);
    let price = row.unit_price;
    (row.kind, &row.description, line.size, settles, price)
}

fn deliveries(lines: &[BillLine], market: &Market<'_>, served: &BTreeSet<String>) -> Vec<Delivery> {
    let suppliers: BTreeSet<&str> = lines.iter().map(|line| line.supplier.as_str()).collect();
    let rows = suppliers.into_iter().map(|supplier| {
        let mine = lines.iter().filter(|line| line.supplier == supplier);
        let goods: Money = mine.map(|line| line.line_total).sum();
        let charge = if served.contains(supplier) {
            Money::ZERO
        } else {
            charge(supplier, goods, market)
        };
        Delivery {
            supplier: supplier.to_owned(),
            goods: goods.rounded(market.currency),
            charge: charge.rounded(market.currency),
        }
    });
    rows.collect()
}

/// Nothing without terms.
fn charge(supplier: &str, goods: Money, market: &Market<'_>) -> Money {
    let Some(terms) = market.terms(supplier) else {
        return Money::ZERO;
    };
    let convert = |amount| market.converted(amount, market.shop.currency);
    let free_from = terms.free_from.and_then(convert);
    if free_from.is_some_and(|limit| goods >= limit) {
        return Money::ZERO;
    }
    convert(terms.delivery).unwrap_or(Money::ZERO)
}

/// An open verdict where the search reckoned another total than the bill, which is exact.
pub(super) fn differing(bill: &Bill) -> Option<Check> {
    if bill.total == bill.order.total {
        return None;
    }
    let note = format!(
        "the order was chosen at {} {} and adds up to {}: it may not be the cheapest",
        bill.order.total, bill.currency, bill.total
    );
    let mut check = Check::open(CheckRule::Supply, "total", &note);
    check.source = shop_and_lists().citation;
    check.basis = shop_and_lists().basis;
    Some(check)
}
