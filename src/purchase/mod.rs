//! Purchase: what to buy where, and what it costs, exact to the cent.

mod bill;
mod demand;
mod fill;
mod lines;
mod market;
mod measure;
mod packs;
mod rolls;
mod shelf;
mod shortage;
#[cfg(test)]
mod tests;
mod tools;

use std::collections::BTreeSet;

use serde::Serialize;

use crate::catalog::{Catalog, Colour, Pack, PartKind};
use crate::check::Check;
use crate::fittings::Need;
use crate::quantity::{Currency, Length, Money};
use crate::shop::ShopFile;

/// Takes what is on the shelf, and buys the rest part by part as cheaply as can be found.
///
/// All amounts are in `currency`, the job's. What cannot be had is left out of the bills and
/// fails a `supply` check that says why.
pub fn buy(
    needs: &[Need],
    tools: &[String],
    shop: &ShopFile,
    catalog: &Catalog,
    currency: Currency,
) -> Purchase {
    let market = market::Market {
        shop,
        catalog,
        currency,
    };
    let mut shelf = shelf::Shelf::new(shop);
    let sorted = tools::sort(tools, shop, catalog);
    let material = fill::fill(demand::collect(needs, catalog), &mut shelf, &market);
    let missing = fill::fill(
        demand::collect(&sorted.missing, catalog),
        &mut shelf,
        &market,
    );
    let bill = bill::total(material.lines, &market, &BTreeSet::new());
    let served = bill.deliveries.iter().map(|row| row.supplier.clone());
    let served: BTreeSet<String> = served.collect();
    let tools = bill::total(missing.lines, &market, &served);
    let mut checks = material.checks;
    checks.extend(missing.checks);
    checks.extend(bill::unpriced_delivery(&bill, &tools, &market));
    Purchase {
        bill,
        tools,
        tools_owned: sorted.owned,
        from_stock: [material.from_stock, missing.from_stock].concat(),
        cuts: [material.cuts, missing.cuts].concat(),
        checks,
    }
}

/// Outcome of the purchase stage.
#[derive(Debug, Clone, Serialize)]
pub struct Purchase {
    /// Material to buy and what it costs.
    pub bill: Bill,
    /// Tools and dies not owned, a list of their own.
    pub tools: Bill,
    /// Tools and dies owned, by description.
    pub tools_owned: Vec<String>,
    /// What is taken from the shelf, by kind and then description.
    pub from_stock: Vec<FromStock>,
    /// Which piece comes from which roll or offcut; those from the shelf first for each part.
    pub cuts: Vec<RollCuts>,
    /// Verdicts on supply.
    pub checks: Vec<Check>,
}

/// Lines and totals.
#[derive(Debug, Clone, Serialize)]
pub struct Bill {
    /// Currency of all amounts.
    pub currency: Currency,
    /// The lines, by kind and then description.
    pub lines: Vec<BillLine>,
    /// Sum of the lines.
    pub goods_total: Money,
    /// Delivery of each supplier that is used, by name.
    pub deliveries: Vec<Delivery>,
    /// Sum of the deliveries.
    pub delivery: Money,
    /// Tax on goods and delivery, rounded half up.
    pub tax: Money,
    /// Goods, delivery and tax.
    pub total: Money,
}

/// One line of a bill: one part in one pack from one supplier.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BillLine {
    /// Id of the part.
    pub part: String,
    /// Its kind.
    pub kind: PartKind,
    /// One line on it, colour included.
    pub description: String,
    /// Colour, for parts sold in colours.
    pub colour: Option<Colour>,
    /// How much the job needs of it from this purchase: a number of pieces, or metres to the
    /// millimetre.
    pub quantity: String,
    /// `piece` or `m`.
    pub unit: &'static str,
    /// The supplier.
    pub supplier: String,
    /// What one pack holds, in words.
    pub pack: String,
    /// What one pack holds.
    #[serde(skip)]
    pub contents: Pack,
    /// Number of packs.
    pub packs: u32,
    /// Price of one pack.
    pub unit_price: Money,
    /// Packs times price.
    pub line_total: Money,
}

/// Delivery of one supplier.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Delivery {
    /// The supplier.
    pub supplier: String,
    /// What is bought there.
    pub goods: Money,
    /// What delivery costs.
    pub charge: Money,
}

/// Something taken from the shelf.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FromStock {
    /// Id of the part.
    pub part: String,
    /// Colour, for parts sold in colours.
    pub colour: Option<Colour>,
    /// One line on it, colour included.
    pub description: String,
    /// How much, in words.
    pub amount: String,
    /// How many pieces of it.
    #[serde(skip)]
    pub pieces: u32,
    /// How much length of it.
    #[serde(skip)]
    pub length: Length,
}

/// The pieces cut from one roll or offcut, in the order of cutting.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RollCuts {
    /// Id of the part.
    pub part: String,
    /// Colour, for parts sold in colours.
    pub colour: Option<Colour>,
    /// Where the roll comes from: `shelf` or a supplier.
    pub origin: String,
    /// Length of the roll or offcut, or of what the counter cuts.
    pub length: Length,
    /// The pieces, each with its purpose.
    pub pieces: Vec<Piece>,
    /// What is left.
    pub left: Length,
}

/// One piece to cut.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Piece {
    /// What it is for.
    pub purpose: String,
    /// Its length.
    pub length: Length,
}
