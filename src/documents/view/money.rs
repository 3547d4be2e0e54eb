//! Bills, stock and cuts.

use serde::Serialize;

use super::build::{Context, metres};
use crate::purchase::Bill;

/// A bill, as the purchase stage made it.
pub type BillView = Bill;

/// Something taken from the shelf, as the purchase stage made it.
pub type StockView = crate::purchase::FromStock;

/// The pieces cut from one roll.
#[derive(Debug, Clone, Serialize)]
pub struct CutView {
    /// Id of the part.
    pub part: String,
    /// The part in words.
    pub description: String,
    /// Colour, for parts sold in colours.
    pub colour: Option<String>,
    /// Where the roll comes from.
    pub origin: String,
    /// Length of the roll.
    pub length_m: f64,
    /// The pieces, in the order of cutting.
    pub pieces: Vec<PieceView>,
    /// What is left.
    pub left_m: f64,
}

/// One piece.
#[derive(Debug, Clone, Serialize)]
pub struct PieceView {
    /// What it is for.
    pub purpose: String,
    /// Its length.
    pub length_m: f64,
    /// The same in the job's units.
    pub shown: String,
}

/// Every roll that is cut.
pub fn cuts(context: Context<'_>) -> Vec<CutView> {
    let cuts = context.plan.purchase.cuts.iter();
    cuts.map(|roll| CutView {
        part: roll.part.clone(),
        description: context.described(&roll.part),
        colour: roll.colour.map(|colour| colour.to_string()),
        origin: roll.origin.clone(),
        length_m: metres(roll.length),
        pieces: roll
            .pieces
            .iter()
            .map(|piece| PieceView {
                purpose: piece.purpose.clone(),
                length_m: metres(piece.length),
                shown: context.shown(piece.length),
            })
            .collect(),
        left_m: metres(roll.left),
    })
    .collect()
}
