//! Lines added up: goods, delivery, tax and total.

use std::collections::BTreeSet;

use super::lines::Line;
use super::market::Market;
use super::shortage::shop_and_lists;
use super::{Bill, BillLine, Delivery};
use crate::check::{Check, CheckRule};
use crate::quantity::Money;

/// Adds up a bill. Suppliers already `served` by another order bring these goods along.
pub(super) fn total(mut lines: Vec<Line>, market: &Market<'_>, served: &BTreeSet<String>) -> Bill {
    lines.sort_by(|a, b| key(a).cmp(&key(b)));
    let lines: Vec<BillLine> = lines.into_iter().map(|line| line.line).collect();
    let currency = market.currency;
    let goods: Money = lines.iter().map(|line| line.line_total).sum();
    let deliveries = deliveries(&lines, market, served);
    let delivery: Money = deliveries.iter().map(|row| row.charge).sum();
    let tax = (goods + delivery).scaled(market.shop.tax.fraction(), currency);
    Bill {
        currency,
        goods_total: goods.rounded(currency),
        deliveries,
        delivery: delivery.rounded(currency),
        tax,
        total: (goods + delivery + tax).rounded(currency),
        lines,
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

/// Nothing without terms, and nothing where no rate converts them: [`unpriced_delivery`] tells.
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

/// An open verdict when delivery is charged in a currency without a rate.
pub(super) fn unpriced_delivery(bill: &Bill, tools: &Bill, market: &Market<'_>) -> Option<Check> {
    let (from, to) = (market.shop.currency, market.currency);
    if market.converted(Money::ZERO, from).is_some() {
        return None;
    }
    let used = bill.deliveries.iter().chain(&tools.deliveries);
    let charging: BTreeSet<&str> = used
        .filter_map(|row| market.terms(&row.supplier))
        .filter(|terms| terms.delivery > Money::ZERO)
        .map(|terms| terms.name.as_str())
        .collect();
    if charging.is_empty() {
        return None;
    }
    let suppliers: Vec<&str> = charging.into_iter().collect();
    let note = format!(
        "delivery by {} is charged in {from} and the shop file has no rate of exchange to {to}, \
         so the totals are without it: add an [[exchange]] table with the rate for {from}",
        suppliers.join(", ")
    );
    let mut check = Check::open(CheckRule::Supply, "delivery", &note);
    check.source = shop_and_lists().citation;
    check.basis = shop_and_lists().basis;
    Some(check)
}
