//! The shop file: what belongs to the workshop, not to the vehicle.

mod check;
mod deposit;
mod exchange;
mod quoting;
mod quoting_check;
mod words;

pub use deposit::Deposit;
pub use quoting::{LetterheadFile, MarkupFile, RateFile};
pub use words::{PricesShown, RoundingRule, TaxOn, Workplace};

use crate::diagnostic::{Diagnostic, SourceId, Sources, Spanned};
use crate::file::{Reader, table, words};
use crate::quantity::{Currency, Date, Duration, Length, Markup, Money, Percent};

table! {
    /// A workshop: rates, tax, suppliers, stock and tools.
    pub struct ShopFile as "shop" {
        /// Its name, for the head of documents.
        name: String,
        /// Folder of the workshop's own templates, beside the shop file: documents (`cut_list.md`) and steps of the work (`steps/*.toml`), which add to the embedded ones or take their place by name.
        templates: Option<Spanned<String>>,
        /// Currency of the money in this file.
        currency: Currency = "EUR",
        /// Price of one hour of labour before tax, where no rate of its own holds.
        labour_rate: Spanned<Money> = "0",
        /// What that hour costs the workshop itself: wage, room and machines; shown in the costing alone.
        labour_cost: Option<Spanned<Money>>,
        /// Rates of their own for work at the bench or at the vehicle.
        rate: Vec<RateFile>,
        /// Hours of each line of labour are rounded up to a multiple of it.
        labour_step: Spanned<Duration> = "6 min",
        /// Tax on goods, delivery and labour.
        tax: Spanned<Percent> = "0 %",
        /// How the prices of a quote are shown.
        prices: PricesShown = "before tax",
        /// On what the tax of a quote is reckoned and rounded.
        tax_on: TaxOn = "total",
        /// Which way amounts of a quote in the middle between two go.
        rounding: RoundingRule = "half-up",
        /// The smallest coin: what is to be paid in this currency is rounded to a multiple of it.
        cash_step: Option<Spanned<Money>>,
        /// What is added to the cost of parts, where no markup for their kind holds.
        markup: Markup = "0 %",
        /// Markups for some kinds of parts.
        markup_on: Vec<MarkupFile>,
        /// What is added to the cost of delivery.
        delivery_markup: Markup = "0 %",
        /// Consumables in percent of the labour; as bought, with their markup, when absent.
        consumables: Option<Percent>,
        /// What is paid before the work begins: a share, or an amount.
        deposit: Option<Spanned<Deposit>>,
        /// For how many days a quote holds.
        valid_days: Spanned<u32> = "30",
        /// Terms of payment; those of the catalog when absent.
        terms: Vec<String>,
        /// What a quote includes; the texts of the catalog when absent.
        included: Vec<String>,
        /// What a quote does not include; the texts of the catalog when absent.
        not_included: Vec<String>,
        /// The head of a quote, below the name.
        letterhead: Option<LetterheadFile>,
        /// Suppliers it buys from; their offers are in the catalog.
        supplier: Vec<SupplierFile>,
        /// What lies on the shelf.
        stock: Vec<StockFile>,
        /// Ids of the tools and dies it owns.
        tools: Vec<Spanned<String>>,
        /// Ids of parts not to be had; the next best fit takes the place of each.
        unavailable: Vec<Spanned<String>>,
        /// Ids of parts that are taken before others that fit as well.
        preferred: Vec<Spanned<String>>,
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
    let mut found = check::check(&shop, catalog);
    found.extend(quoting_check::check(&shop));
    let found = reading.not_caused_by_stand_ins(found);
    reading.mistakes.extend(found);
    if reading.mistakes.is_empty() {
        Ok(shop)
    } else {
        Err(reading.mistakes)
    }
}
