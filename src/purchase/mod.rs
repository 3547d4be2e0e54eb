//! Purchase: what to buy where, and what it costs, exact to the cent.

mod assemble;
mod bill;
mod choose;
mod cuts;
mod demand;
mod fill;
mod leftovers;
mod lines;
mod market;
mod measure;
mod shelf;
mod shortage;
mod solve;
mod stock_file;
#[cfg(test)]
mod tests;
mod tools;
mod wish;

use std::collections::BTreeSet;

use serde::Serialize;

use crate::catalog::{Catalog, Colour, Pack, PartKind, TaxPlace};
use crate::check::Check;
use crate::fittings::Need;
use crate::quantity::{Currency, Date, Length, Money};
use crate::shop::ShopFile;

pub use market::Market;
pub use stock_file::stock_after;

/// Whether the order is held against other ways to buy.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Comparison {
    /// It is.
    Made,
    /// It stands alone.
    LeftOut,
}

/// Takes what is on the shelf, and buys the rest as the shop file asks: the cheapest order, proved,
/// or the best found with the gap that is left.
///
/// All amounts are in the market's currency, the job's. What cannot be had is left out of the bills and
/// fails a `supply` check that says why.
pub fn buy(
    needs: &[Need],
    tools: &[String],
    market: Market<'_>,
    comparison: Comparison,
) -> Purchase {
    let Market { shop, catalog, .. } = market;
    let mut shelf = shelf::Shelf::new(shop);
    let sorted = tools::sort(tools, shop, catalog);
    let nobody = BTreeSet::new();
    let wanted = demand::collect(needs, catalog);
    let material = fill::fill(wanted, &mut shelf, &market, &nobody, comparison);
    let bill = bill::total(material.lines, material.order, &market, &nobody);
    let served = bill.deliveries.iter().map(|row| row.supplier.clone());
    let served: BTreeSet<String> = served.collect();
    let wanted = demand::collect(&sorted.missing, catalog);
    let missing = fill::fill(wanted, &mut shelf, &market, &served, Comparison::LeftOut);
    let tools = bill::total(missing.lines, missing.order, &market, &served);
    let mut checks = material.checks;
    checks.extend(missing.checks);
    checks.extend([&bill, &tools].into_iter().filter_map(bill::differing));
    Purchase {
        bill,
        tools,
        tools_owned: sorted.owned,
        from_stock: [material.from_stock, missing.from_stock].concat(),
        cuts: [material.cuts, missing.cuts].concat(),
        cut_allowance: shop.cut_allowance,
        keep_from: shop.keep_offcuts_from,
        left: material.left,
        stock: material.stock,
        checks,
    }
}

/// The least that goods cost by themselves, tax included, when every supplier comes anyway; `None`
/// where some of them cannot be had. Nothing is taken from the shelf.
///
/// The amount is in `currency`.
pub fn goods_alone(
    needs: &[Need],
    shop: &ShopFile,
    catalog: &Catalog,
    currency: Currency,
) -> Option<Money> {
    let bare = ShopFile {
        stock: Vec::new(),
        ..shop.clone()
    };
    let market = Market {
        shop: &bare,
        catalog,
        currency,
    };
    let mut shelf = shelf::Shelf::new(&bare);
    let suppliers = catalog
        .price_lists
        .iter()
        .map(|list| list.supplier.value.clone());
    let everybody: BTreeSet<String> = suppliers.collect();
    let wanted = demand::collect(needs, catalog);
    let filled = fill::fill(wanted, &mut shelf, &market, &everybody, Comparison::LeftOut);
    let all = needs
        .iter()
        .all(|need| filled.lines.iter().any(|line| line.line.part == need.part));
    all.then(|| bill::total(filled.lines, filled.order, &market, &everybody).total)
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
    /// What each cut takes of a roll beside the piece.
    pub cut_allowance: Length,
    /// Shortest offcut that is worth keeping.
    pub keep_from: Length,
    /// What is left of the material, by kind and then description.
    pub left: Vec<Leftover>,
    /// How the stock changes when the material is bought and used.
    #[serde(skip)]
    pub stock: Vec<StockChange>,
    /// Verdicts on supply.
    pub checks: Vec<Check>,
}

/// How good an order is.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct OrderProof {
    /// Its total, tax and delivery included.
    pub total: Money,
    /// No order has a lower total.
    pub bound: Money,
    /// The difference.
    pub gap: Money,
    /// Whether there is none, so that the order is proved the cheapest of its kind.
    pub proved: bool,
}

/// A way to buy.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OtherWay {
    /// What it is.
    pub way: String,
    /// Whether the shop file asks for it.
    pub chosen: bool,
    /// The suppliers that it uses.
    pub suppliers: Vec<String>,
    /// Its total; `None` where it cannot be.
    pub total: Option<Money>,
    /// What it costs more than the cheapest.
    pub extra: Option<Money>,
    /// How many parts cannot be had so that could be had otherwise.
    pub lacking: usize,
}

/// What is left of a part.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Leftover {
    /// Id of the part.
    pub part: String,
    /// Colour, for parts sold in colours.
    pub colour: Option<Colour>,
    /// One line on it, colour included.
    pub description: String,
    /// Spare pieces in packs.
    pub pieces: u32,
    /// Offcuts worth keeping, long ones first.
    pub offcuts: Vec<Length>,
    /// Shorter ends.
    pub scrap: Vec<Length>,
}

/// How buying and using one part in one colour changes the stock.
#[derive(Debug, Clone, PartialEq)]
pub struct StockChange {
    /// Id of the part.
    pub part: String,
    /// Colour, for parts sold in colours.
    pub colour: Option<Colour>,
    /// Pieces taken: position of the entry in the shop file, and how many.
    pub taken: Vec<(usize, u32)>,
    /// Offcuts cut up: position of the entry, and position in it.
    pub cut: Vec<(usize, usize)>,
    /// Spare pieces that come in.
    pub pieces: u32,
    /// Offcuts that come in.
    pub offcuts: Vec<Length>,
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
    /// Tax that comes on top, rounded half up.
    pub tax: Money,
    /// Tax that is inside the prices of goods already, rounded half up.
    pub tax_inside: Money,
    /// Goods, delivery and the tax that comes on top.
    pub total: Money,
    /// How good the order is.
    pub order: OrderProof,
    /// Ways to buy the same, the cheapest first; none for tools.
    pub ways: Vec<OtherWay>,
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
    /// Whether tax comes on top of the price.
    pub tax: TaxPlace,
    /// The same without tax, rounded half up where the tax is inside.
    pub before_tax: Money,
    /// Day from which the price is known.
    pub date: Option<Date>,
    /// Whether that is so long ago that the price is doubtful.
    pub old: bool,
    /// Whether the supplier has it today.
    pub in_stock: bool,
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
    /// The pieces, the longest first.
    pub pieces: Vec<Cut>,
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

/// One piece as it is cut.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Cut {
    /// What it is for.
    pub purpose: String,
    /// Its length.
    pub length: Length,
    /// Where it begins, from the free end of the roll.
    pub from: Length,
    /// Where to mark and cut it, from the free end of the roll.
    pub mark: Length,
    /// What to do if it is spoilt.
    pub if_spoilt: Rescue,
}

/// What to do with a spoilt piece. Pieces are told by their number in the roll, from one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Rescue {
    /// Enough is left of the roll to cut it again.
    CutAgain,
    /// Cut this later piece from the spoilt one, and the piece again from the roll.
    Swap(usize),
    /// This later piece can be cut from it, but a new length must be had for the piece.
    Short(usize),
    /// A new length must be had.
    None,
}
