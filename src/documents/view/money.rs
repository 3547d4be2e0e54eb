//! Bills, stock and cuts.

use serde::Serialize;

use super::build::{Context, metres};
use crate::purchase::{Bill, Cut, Rescue};

/// A bill, as the purchase stage made it.
pub type BillView = Bill;

/// Something taken from the shelf, as the purchase stage made it.
pub type StockView = crate::purchase::FromStock;

/// The pieces cut from one roll.
#[derive(Debug, Clone, Serialize)]
pub struct CutView {
    /// Number of the roll, from one.
    pub number: usize,
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
    /// The same in the job's units.
    pub shown: String,
    /// The pieces, in the order of cutting.
    pub pieces: Vec<PieceView>,
    /// What is left.
    pub left_m: f64,
    /// The same in the job's units.
    pub left_shown: String,
    /// Whether that is worth keeping.
    pub keep: bool,
}

/// One piece.
#[derive(Debug, Clone, Serialize)]
pub struct PieceView {
    /// Its number in the roll, from one.
    pub number: usize,
    /// What it is for.
    pub purpose: String,
    /// Its length.
    pub length_m: f64,
    /// The same in the job's units.
    pub shown: String,
    /// Where to mark and cut it, from the free end of the roll.
    pub mark_m: f64,
    /// The same in the job's units.
    pub mark_shown: String,
    /// What to do if it is spoilt: `cut_again`, `swap`, `short` or `none`.
    pub if_spoilt: &'static str,
    /// Number of the later piece that can be cut from the spoilt one.
    pub serves_as: Option<usize>,
    /// The same in words.
    pub rescue: String,
}

/// What is left of a part.
#[derive(Debug, Clone, Serialize)]
pub struct LeftView {
    /// Id of the part.
    pub part: String,
    /// The part in words, colour included.
    pub description: String,
    /// Spare pieces.
    pub pieces: u32,
    /// Offcuts worth keeping.
    pub offcuts_m: Vec<f64>,
    /// Shorter ends.
    pub scrap_m: Vec<f64>,
    /// What goes on the shelf, in words.
    pub shown: String,
}

/// Every roll that is cut.
pub fn cuts(context: Context<'_>) -> Vec<CutView> {
    let keep = context.plan.purchase.keep_from;
    let cuts = context.plan.purchase.cuts.iter().enumerate();
    cuts.map(|(index, roll)| CutView {
        number: index + 1,
        part: roll.part.clone(),
        description: context.described(&roll.part),
        colour: roll.colour.map(|colour| colour.to_string()),
        origin: roll.origin.clone(),
        length_m: metres(roll.length),
        shown: context.shown(roll.length),
        pieces: pieces(context, &roll.pieces),
        left_m: metres(roll.left),
        left_shown: context.shown(roll.left),
        keep: roll.left >= keep,
    })
    .collect()
}

fn pieces(context: Context<'_>, cuts: &[Cut]) -> Vec<PieceView> {
    let pieces = cuts.iter().enumerate();
    pieces
        .map(|(index, cut)| {
            let (if_spoilt, serves_as) = match cut.if_spoilt {
                Rescue::CutAgain => ("cut_again", None),
                Rescue::Swap(other) => ("swap", Some(other)),
                Rescue::Short(other) => ("short", Some(other)),
                Rescue::None => ("none", None),
            };
            PieceView {
                number: index + 1,
                purpose: cut.purpose.clone(),
                length_m: metres(cut.length),
                shown: context.shown_for_marking(cut.length),
                mark_m: metres(cut.mark),
                mark_shown: context.shown_for_marking(cut.mark),
                if_spoilt,
                serves_as,
                rescue: in_words(cut.if_spoilt),
            }
        })
        .collect()
}

fn in_words(rescue: Rescue) -> String {
    match rescue {
        Rescue::CutAgain => "cut it again from what is left".to_owned(),
        Rescue::Swap(other) => {
            format!("make it piece {other}, and cut this one again in its place")
        }
        Rescue::Short(other) => format!("make it piece {other}; for this one buy more"),
        Rescue::None => "buy more".to_owned(),
    }
}

/// What is left over of each part.
pub fn left(context: Context<'_>) -> Vec<LeftView> {
    let left = context.plan.purchase.left.iter();
    left.map(|row| {
        let pieces = (row.pieces > 0).then(|| match row.pieces {
            1 => "1 piece".to_owned(),
            count => format!("{count} pieces"),
        });
        let lengths = row.offcuts.iter().map(|length| context.shown(*length));
        let shown: Vec<String> = pieces.into_iter().chain(lengths).collect();
        LeftView {
            part: row.part.clone(),
            description: row.description.clone(),
            pieces: row.pieces,
            offcuts_m: row.offcuts.iter().copied().map(metres).collect(),
            scrap_m: row.scrap.iter().copied().map(metres).collect(),
            shown: shown.join(", "),
        }
    })
    .collect()
}
