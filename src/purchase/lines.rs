//! Lines of a bill and the rolls behind them.

use super::demand::{Demand, total};
use super::market::Quote;
use super::measure::{length, metres, micrometres, pieces};
use super::packs::PiecePack;
use super::rolls::{LengthPack, Roll};
use super::{BillLine, Piece, RollCuts};
use crate::catalog::Pack;

/// A line, and the size of its pack to sort by.
#[derive(Debug)]
pub(super) struct Line {
    /// The line.
    pub line: BillLine,
    /// Pieces or micrometres of one pack.
    pub size: u64,
}

/// The offers by the piece, each with its quote.
pub(super) fn by_the_piece<'a, 'b>(
    quotes: &'b [Quote<'a>],
) -> (Vec<&'b Quote<'a>>, Vec<PiecePack>) {
    let offers = quotes.iter().filter_map(|quote| match quote.pack {
        Pack::Length(_) => None,
        Pack::Pieces(pieces) => Some((
            quote,
            PiecePack {
                pieces,
                price: quote.price,
            },
        )),
    });
    offers.unzip()
}

/// The offers by length, each with its quote.
pub(super) fn by_length<'a, 'b>(quotes: &'b [Quote<'a>]) -> (Vec<&'b Quote<'a>>, Vec<LengthPack>) {
    let offers = quotes.iter().filter_map(|quote| match quote.pack {
        Pack::Pieces(_) => None,
        Pack::Length(length) => Some((
            quote,
            LengthPack {
                length: micrometres(length),
                price: quote.price,
                cut_to_length: quote.cut_to_length,
            },
        )),
    });
    offers.unzip()
}

/// Lines for packs of pieces: large packs are used up first.
pub(super) fn of_packs(demand: &Demand, quotes: &[&Quote<'_>], packs: &[u32]) -> Vec<Line> {
    let bought = quotes.iter().zip(packs).filter(|(_, packs)| **packs > 0);
    let mut bought: Vec<(u32, &Quote<'_>, u32)> = bought
        .filter_map(|(quote, packs)| match quote.pack {
            Pack::Pieces(size) => Some((size, *quote, *packs)),
            Pack::Length(_) => None,
        })
        .collect();
    bought.sort_by_key(|(size, _, _)| std::cmp::Reverse(*size));
    let mut left = demand.pieces;
    let mut lines = Vec::new();
    for (size, quote, packs) in bought {
        let used = left.min(size.saturating_mul(packs));
        left -= used;
        lines.push(Line {
            line: line(demand, quote, packs, used.to_string(), "piece"),
            size: u64::from(size),
        });
    }
    lines
}

/// Lines for rolls and lengths from the counter, one an offer.
pub(super) fn of_rolls(demand: &Demand, quotes: &[&Quote<'_>], rolls: &[Roll]) -> Vec<Line> {
    let mut lines = Vec::new();
    for (offer, quote) in quotes.iter().enumerate() {
        let mine: Vec<&Roll> = rolls.iter().filter(|roll| roll.offer == offer).collect();
        if mine.is_empty() {
            continue;
        }
        let packs = mine
            .iter()
            .fold(0, |sum: u32, roll| sum.saturating_add(roll.packs));
        let cut = mine.iter().flat_map(|roll| cut_from(roll, demand));
        let cut: Vec<Piece> = cut.collect();
        lines.push(Line {
            line: line(demand, quote, packs, metres(total(&cut)), "m"),
            size: pack_length(quote),
        });
    }
    lines
}

/// Which piece comes from which roll.
pub(super) fn cuts(demand: &Demand, quotes: &[&Quote<'_>], rolls: &[Roll]) -> Vec<RollCuts> {
    let cuts = rolls.iter().map(|roll| {
        let quote = quotes[roll.offer];
        let whole = pack_length(quote).saturating_mul(u64::from(roll.packs));
        let pieces = cut_from(roll, demand);
        RollCuts {
            part: demand.part.clone(),
            colour: demand.colour,
            origin: quote.supplier.to_owned(),
            length: length(whole),
            left: length(whole.saturating_sub(total(&pieces))),
            pieces,
        }
    });
    cuts.collect()
}

fn cut_from(roll: &Roll, demand: &Demand) -> Vec<Piece> {
    let pieces = roll.pieces.iter();
    pieces.map(|piece| demand.cuts[*piece].clone()).collect()
}

fn pack_length(quote: &Quote<'_>) -> u64 {
    match quote.pack {
        Pack::Length(length) => micrometres(length),
        Pack::Pieces(_) => 0,
    }
}

fn line(
    demand: &Demand,
    quote: &Quote<'_>,
    packs: u32,
    quantity: String,
    unit: &'static str,
) -> BillLine {
    BillLine {
        part: demand.part.clone(),
        kind: demand.kind,
        description: demand.description.clone(),
        colour: demand.colour,
        quantity,
        unit,
        supplier: quote.supplier.to_owned(),
        pack: in_words(quote),
        contents: quote.pack,
        packs,
        unit_price: quote.price,
        line_total: quote.price.times(u64::from(packs)),
    }
}

fn in_words(quote: &Quote<'_>) -> String {
    match quote.pack {
        Pack::Pieces(count) => pieces(count),
        Pack::Length(length) => {
            let metres = metres(micrometres(length));
            if quote.cut_to_length {
                format!("{metres} m, cut to length")
            } else {
                format!("roll of {metres} m")
            }
        }
    }
}
