//! The shop file: what belongs to the workshop, not to the vehicle.

mod check;

use crate::diagnostic::{Diagnostic, SourceId, Sources, Spanned};
use crate::file::{Reader, table, words};
use crate::quantity::{Currency, Date, Length, Money, Percent};

table! {
    /// A workshop: rates, tax, suppliers, stock and tools.
    pub struct ShopFile as "shop" {
        /// Its name, for the head of documents.
        name: String,
        /// Currency of the money in this file.
        currency: Currency = "EUR",
        /// Labour for one hour, before tax.
        labour_rate: Money = "0",
        /// Tax on goods and delivery.
        tax: Percent = "0 %",
        /// Suppliers it buys from; their offers are in the catalog.
        supplier: Vec<SupplierFile>,
        /// What lies on the shelf.
        stock: Vec<StockFile>,
        /// Ids of the tools and dies it owns.
        tools: Vec<Spanned<String>>,
        /// Ids of parts not to be had.
        unavailable: Vec<Spanned<String>>,
        /// How to buy.
        buy: BuyingWay = "cheapest",
        /// The only supplier to buy from.
        only_from: Option<Spanned<String>>,
        /// Day to which the age of offers is told; the day of the newest offer when absent.
        offers_as_of: Option<Date>,
        /// Days after which an offer counts as old (judgement).
        old_after_days: u32 = "365",
        /// Length that each cut takes of a roll: the saw's kerf and squaring the end (judgement).
        cut_allowance: Length = "3 mm",
        /// Shortest offcut that is worth keeping (judgement).
        keep_offcuts_from: Length = "0.3 m",
        /// What one unit of another currency costs.
        exchange: Vec<ExchangeFile>,
    }
}

words! {
    /// What an order is chosen for.
    pub enum BuyingWay as "a way to buy" {
        /// The least total.
        Cheapest = "cheapest",
        /// As few suppliers as can be, and of such orders the least total.
        FewestSuppliers = "fewest suppliers",
        /// The least total of what suppliers have today.
        InStock = "in stock",
    }
}

table! {
    /// A supplier.
    pub struct SupplierFile as "supplier" {
        /// Name, as in the catalog's price lists.
        name: Spanned<String>,
        /// Delivery charge of one order, before tax.
        delivery: Money = "0",
        /// Goods total from which delivery is free.
        free_from: Option<Money>,
        /// Goods total below which it takes no order.
        smallest_order: Option<Money>,
    }
}

table! {
    /// Something on the shelf: pieces, or offcuts by their lengths.
    pub struct StockFile as "stock" {
        /// Id of the part.
        part: Spanned<String>,
        /// Colour, for parts sold in colours.
        colour: Option<crate::catalog::Colour>,
        /// Number of pieces.
        pieces: u32 = "0",
        /// Lengths of the offcuts of cable, hose or sleeving.
        offcuts: Vec<Length>,
    }
}

table! {
    /// A rate of exchange.
    pub struct ExchangeFile as "exchange" {
        /// Another currency than the shop's.
        currency: Spanned<Currency>,
        /// What one unit of it costs in the shop's currency, as a text.
        rate: Spanned<Money>,
    }
}

/// Reads a shop file and checks it against the catalog.
///
/// # Errors
/// Every mistake in the file.
pub fn load(
    source: SourceId,
    sources: &Sources,
    catalog: &crate::catalog::Catalog,
) -> Result<ShopFile, Vec<Diagnostic>> {
    let mut reading = Reader::read::<ShopFile>(source, sources);
    let Some(shop) = reading.table.take() else {
        return Err(reading.mistakes);
    };
    let found = reading.not_caused_by_stand_ins(check::check(&shop, catalog));
    reading.mistakes.extend(found);
    if reading.mistakes.is_empty() {
        Ok(shop)
    } else {
        Err(reading.mistakes)
    }
}
