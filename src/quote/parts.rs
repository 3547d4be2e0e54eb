//! Parts with their cost, their markup and their price.

use rust_decimal::Decimal;
use serde::Serialize;

use super::reckon::TaxRule;
use crate::catalog::{Catalog, Pack, PartKind};
use crate::purchase::{BillLine, FromStock, Purchase};
use crate::quantity::{Currency, Length, Markup, Money};
use crate::shop::ShopFile;

/// One part of the list.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PricedPart {
    /// Id of the part.
    pub part: String,
    /// Its kind.
    pub kind: PartKind,
    /// One line on it, colour included.
    pub description: String,
    /// What is charged, in words.
    pub amount: String,
    /// Where it comes from: a supplier, or `shelf`.
    pub origin: String,
    /// What it costs; from the shelf, what it costs to have it again.
    pub cost: Money,
    /// What is added; nothing for consumables that are charged by the labour.
    pub markup: Option<Markup>,
    /// The price before tax; none for those.
    pub price: Money,
}

/// What parts are priced by.
#[derive(Debug, Clone, Copy)]
pub struct Pricing<'a> {
    /// The workshop.
    pub shop: &'a ShopFile,
    /// Price lists.
    pub catalog: &'a Catalog,
    /// Rounding.
    pub rule: &'a TaxRule,
    /// Currency of the quote.
    pub currency: Currency,
}

/// Everything that is bought or taken from the shelf; and what of the shelf nobody offers.
pub fn parts(purchase: &Purchase, pricing: Pricing<'_>) -> (Vec<PricedPart>, Vec<String>) {
    let bought = purchase.bill.lines.iter();
    let mut parts: Vec<PricedPart> = bought.map(|line| pricing.bought(line)).collect();
    let mut unpriced = Vec::new();
    for item in &purchase.from_stock {
        let kind = pricing.catalog.part(&item.part).map(|part| part.kind());
        if kind.is_some_and(|kind| matches!(kind, PartKind::Tool | PartKind::Die)) {
            continue;
        }
        match kind.zip(pricing.again(item)) {
            Some((kind, cost)) => parts.push(pricing.taken(item, kind, cost)),
            None => unpriced.push(item.description.clone()),
        }
    }
    (parts, unpriced)
}

impl Pricing<'_> {
    /// The markup on a kind of part.
    fn markup(&self, kind: PartKind) -> Markup {
        let mut own = self.shop.markup_on.iter();
        let own = own.find(|row| row.kinds.contains(&kind));
        own.map_or(self.shop.markup, |row| row.markup)
    }

    fn priced(&self, kind: PartKind, cost: Money) -> (Option<Markup>, Money) {
        if kind == PartKind::Consumable && self.shop.consumables.is_some() {
            return (None, Money::ZERO.rounded(self.currency));
        }
        let markup = self.markup(kind);
        (
            Some(markup),
            self.rule.marked_up(cost, markup, self.currency),
        )
    }

    fn bought(&self, line: &BillLine) -> PricedPart {
        let (markup, price) = self.priced(line.kind, line.before_tax);
        PricedPart {
            part: line.part.clone(),
            kind: line.kind,
            description: line.description.clone(),
            amount: format!("{} × {}", line.packs, line.pack),
            origin: line.supplier.clone(),
            cost: line.before_tax,
            markup,
            price,
        }
    }

    fn taken(&self, item: &FromStock, kind: PartKind, cost: Money) -> PricedPart {
        let (markup, price) = self.priced(kind, cost);
        PricedPart {
            part: item.part.clone(),
            kind,
            description: item.description.clone(),
            amount: item.amount.clone(),
            origin: "shelf".to_owned(),
            cost,
            markup,
            price,
        }
    }

    /// What it costs to have again what is taken from the shelf, at the cheapest offer by piece or
    /// by metre; nothing where nobody offers it at a price that can be converted.
    fn again(&self, item: &FromStock) -> Option<Money> {
        let lists = self.catalog.price_lists.iter();
        let offers = lists.flat_map(|list| list.offer.iter().map(move |offer| (list, offer)));
        let costs = offers.filter(|(_, offer)| *offer.part == item.part);
        let costs = costs.filter_map(|(list, offer)| {
            let price = self
                .shop
                .converted(offer.price.value, list.currency, self.currency)?;
            let (taken, held) = match offer.pack {
                Pack::Pieces(held) => (Decimal::from(item.pieces), Decimal::from(held)),
                Pack::Length(held) => (micrometres(item.length), micrometres(held)),
            };
            let cost = (price.decimal() * taken).checked_div(held)?;
            Some(self.rule.rounded(cost, self.currency))
        });
        costs.min()
    }
}

/// Whole micrometres, so that shares of a roll are exact.
fn micrometres(length: Length) -> Decimal {
    Decimal::from((length.mm() * 1000.0).round().max(0.0) as u64)
}
