//! Purchase: what to buy where, and what it costs, exact to the cent.

use serde::Serialize;

use crate::catalog::{Colour, PartKind};
use crate::check::Check;
use crate::quantity::{Currency, Length, Money};

/// Outcome of the purchase stage.
#[derive(Debug, Clone, Serialize)]
pub struct Purchase {
    /// Material to buy and what it costs.
    pub bill: Bill,
    /// Tools and dies not owned, a list of their own.
    pub tools: Bill,
    /// Tools and dies owned, by description.
    pub tools_owned: Vec<String>,
    /// What is taken from the shelf.
    pub from_stock: Vec<FromStock>,
    /// Which piece comes from which roll or offcut.
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
    /// Delivery of each supplier that charges or is used.
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
    /// How much the job needs of it from this purchase: pieces or metres.
    pub quantity: String,
    /// `piece` or `m`.
    pub unit: &'static str,
    /// The supplier.
    pub supplier: String,
    /// What one pack holds, in words.
    pub pack: String,
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
    /// One line on it.
    pub description: String,
    /// How much, in words.
    pub amount: String,
}

/// The pieces cut from one roll or offcut, in the order of cutting.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RollCuts {
    /// Id of the part.
    pub part: String,
    /// Colour, for parts sold in colours.
    pub colour: Option<Colour>,
    /// Where the roll comes from: the shelf or a supplier.
    pub origin: String,
    /// Length of the roll.
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
