//! A demand, what the shelf has for it, and who offers it.

use std::fmt;

use super::demand::Demand;
use super::market::{Market, Quote, Quotes};
use super::measure::micrometres;
use super::shelf::{Offcut, Shelf};
use super::shortage::Shortage;
use crate::catalog::Pack;

/// A demand with all ways to meet it.
#[derive(Debug)]
pub(super) struct Wish<'a> {
    /// What is still wanted once pieces were taken from the shelf.
    pub demand: Demand,
    /// Pieces taken from the shelf: how many of which entry.
    pub taken: Vec<(usize, u32)>,
    /// Offcuts on the shelf.
    pub offcuts: Vec<Offcut>,
    /// What is offered.
    pub quotes: Quotes<'a>,
    /// Why nothing that is offered will do.
    pub barred: Option<Shortage<'a>>,
}

/// Which offers may be taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Allowed<'a> {
    /// All.
    All,
    /// Those of one supplier.
    Only(&'a str),
    /// What is in stock today.
    InStock,
}

impl Allowed<'_> {
    /// Whether an offer may be taken.
    pub(super) fn takes(self, quote: &Quote<'_>) -> bool {
        match self {
            Self::All => true,
            Self::Only(supplier) => quote.supplier == supplier,
            Self::InStock => quote.in_stock,
        }
    }
}

impl fmt::Display for Allowed<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::All => write!(f, "all suppliers"),
            Self::Only(supplier) => write!(f, "only from {supplier}"),
            Self::InStock => write!(f, "only what is in stock today"),
        }
    }
}

impl<'a> Wish<'a> {
    /// Takes pieces from the shelf and asks the market for the rest.
    pub(super) fn new(mut demand: Demand, shelf: &mut Shelf<'_>, market: &Market<'a>) -> Self {
        let taken = shelf.take_pieces(&mut demand);
        let offcuts = shelf.claim_offcuts(&demand);
        let mut unavailable = market.shop.unavailable.iter();
        let barred = if unavailable.any(|part| part.value == demand.part) {
            Some(Shortage::Unavailable)
        } else {
            let colour = demand.colour;
            let lacking = colour.filter(|colour| !market.comes_in(&demand.part, *colour));
            lacking.map(Shortage::Colour)
        };
        Self {
            quotes: market.quotes(&demand.part),
            taken,
            offcuts,
            barred,
            demand,
        }
    }

    /// Positions of the offers that may be taken, by the piece or by length.
    pub(super) fn offers(&self, allowed: Allowed<'_>, by_length: bool) -> Vec<usize> {
        if self.barred.is_some() {
            return Vec::new();
        }
        let quotes = self.quotes.usable.iter().enumerate();
        let suiting = quotes.filter(|(_, quote)| {
            allowed.takes(quote) && matches!(quote.pack, Pack::Length(_)) == by_length
        });
        suiting.map(|(position, _)| position).collect()
    }

    /// Why some of it cannot be had, when only some offers may be taken.
    pub(super) fn why_short(&self, allowed: Allowed<'a>, market: &Market<'_>) -> Shortage<'a> {
        if let Some(shortage) = &self.barred {
            return shortage.clone();
        }
        let by_length = !self.demand.cuts.is_empty();
        if allowed != Allowed::All && !self.offers(Allowed::All, by_length).is_empty() {
            return Shortage::NotAllowed(allowed);
        }
        if !self.quotes.missing_rates.is_empty() {
            // What wants only a rate would perhaps do, so it is named first.
            return Shortage::NoRate(self.quotes.missing_rates.clone(), market.currency);
        }
        let rolls = self.offers(allowed, true).into_iter();
        let longest = rolls
            .map(|offer| pack_size(&self.quotes.usable[offer]))
            .max();
        match (self.demand.cuts.first(), longest) {
            (Some(piece), Some(roll)) => Shortage::TooLong(micrometres(piece.length), roll),
            _ if !self.quotes.unlisted.is_empty() => {
                Shortage::Unlisted(self.quotes.unlisted.clone())
            }
            (Some(_), None) => Shortage::NotOffered("by length"),
            (None, _) => Shortage::NotOffered("by the piece"),
        }
    }
}

/// What one pack holds: pieces or micrometres.
pub(super) fn pack_size(quote: &Quote<'_>) -> u64 {
    match quote.pack {
        Pack::Pieces(count) => u64::from(count),
        Pack::Length(length) => micrometres(length),
    }
}
