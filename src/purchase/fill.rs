//! Meets demands: from the shelf first, then from the suppliers.

use super::demand::{Demand, lengths_in_words};
use super::lines::{self, Line};
use super::market::{Market, Quotes};
use super::measure::{micrometres, pieces};
use super::shelf::{Shelf, Taken};
use super::shortage::{Shortage, check};
use super::{FromStock, Piece, RollCuts, packs, rolls};
use crate::check::Check;

/// What meeting some demands gives.
#[derive(Debug, Default)]
pub(super) struct Filled {
    /// What to buy.
    pub lines: Vec<Line>,
    /// What is taken from the shelf.
    pub from_stock: Vec<FromStock>,
    /// What to cut from where.
    pub cuts: Vec<RollCuts>,
    /// A verdict on each demand.
    pub checks: Vec<Check>,
}

/// Meets every demand as far as can be.
pub(super) fn fill(demands: Vec<Demand>, shelf: &mut Shelf<'_>, market: &Market<'_>) -> Filled {
    let mut filled = Filled::default();
    for mut demand in demands {
        let taken = shelf.take(&mut demand);
        filled.from_stock.extend(from_stock(&demand, &taken));
        filled.cuts.extend(taken.cuts);
        let shortage = filled.buy(&mut demand, market);
        let verdict = check(&demand.description, &demand, shortage.as_ref());
        filled.checks.push(verdict);
    }
    filled
}

fn from_stock(demand: &Demand, taken: &Taken) -> Option<FromStock> {
    let cut = taken.cuts.iter().flat_map(|roll| &roll.pieces).cloned();
    let cut: Vec<Piece> = cut.collect();
    let counted = (taken.pieces > 0).then(|| pieces(taken.pieces));
    let lengths = (!cut.is_empty()).then(|| lengths_in_words(&cut));
    let amounts: Vec<String> = counted.into_iter().chain(lengths).collect();
    (!amounts.is_empty()).then(|| FromStock {
        part: demand.part.clone(),
        colour: demand.colour,
        description: demand.description.clone(),
        amount: amounts.join(" and "),
        pieces: taken.pieces,
        length: cut.iter().map(|piece| piece.length).sum(),
    })
}

impl Filled {
    /// Buys what the demand still wants, and leaves in it what cannot be had.
    fn buy<'a>(&mut self, demand: &mut Demand, market: &Market<'a>) -> Option<Shortage<'a>> {
        if demand.is_met() {
            return None;
        }
        let mut unavailable = market.shop.unavailable.iter();
        if unavailable.any(|part| part.value == demand.part) {
            return Some(Shortage::Unavailable);
        }
        if let Some(colour) = demand.colour
            && !market.comes_in(&demand.part, colour)
        {
            return Some(Shortage::Colour(colour));
        }
        let quotes = market.quotes(&demand.part);
        self.buy_pieces(demand, &quotes);
        let longest_roll = self.buy_lengths(demand, &quotes);
        (!demand.is_met()).then(|| why_short(demand, quotes, longest_roll, market))
    }

    fn buy_pieces(&mut self, demand: &mut Demand, quotes: &Quotes<'_>) {
        let (offered, offers) = lines::by_the_piece(&quotes.usable);
        if let Some(packs) = packs::cheapest(demand.pieces, &offers) {
            self.lines.extend(lines::of_packs(demand, &offered, &packs));
            demand.pieces = 0;
        }
    }

    /// Gives the longest roll, in micrometres, where there is an offer by length.
    fn buy_lengths(&mut self, demand: &mut Demand, quotes: &Quotes<'_>) -> Option<u64> {
        let (offered, offers) = lines::by_length(&quotes.usable);
        let longest = offers.iter().map(|offer| offer.length).max()?;
        let mut too_long = Vec::new();
        if !offers.iter().any(|offer| offer.cut_to_length) {
            let all = std::mem::take(&mut demand.cuts).into_iter();
            (too_long, demand.cuts) = all.partition(|cut| micrometres(cut.length) > longest);
        }
        let sizes = demand.cuts.iter().map(|cut| micrometres(cut.length));
        let sizes: Vec<u64> = sizes.collect();
        if let Some(rolls) = rolls::cheapest(&sizes, &offers) {
            self.lines.extend(lines::of_rolls(demand, &offered, &rolls));
            self.cuts.extend(lines::cuts(demand, &offered, &rolls));
            demand.cuts = too_long;
        }
        Some(longest)
    }
}

/// Offers that want only a rate would perhaps do, so they are named first.
fn why_short<'a>(
    demand: &Demand,
    quotes: Quotes<'a>,
    longest_roll: Option<u64>,
    market: &Market<'_>,
) -> Shortage<'a> {
    if !quotes.missing_rates.is_empty() {
        return Shortage::NoRate(quotes.missing_rates, market.currency);
    }
    match (demand.cuts.first(), longest_roll) {
        (Some(piece), Some(roll)) => Shortage::TooLong(micrometres(piece.length), roll),
        (Some(_), None) if quotes.unlisted.is_empty() => Shortage::NotOffered("by length"),
        (None, _) if quotes.unlisted.is_empty() => Shortage::NotOffered("by the piece"),
        _ => Shortage::Unlisted(quotes.unlisted),
    }
}
