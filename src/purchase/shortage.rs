//! Why something cannot be had, and what would cure it.

use std::collections::BTreeSet;
use std::fmt;

use super::demand::Demand;
use super::measure::metres;
use super::wish::Allowed;
use crate::catalog::{Basis, Cited, Colour};
use crate::check::{Check, CheckRule};
use crate::quantity::Currency;

/// Why a demand, or some of it, cannot be met.
#[derive(Debug, Clone)]
pub(super) enum Shortage<'a> {
    /// The shop file says so.
    Unavailable,
    /// The part does not come in that colour.
    Colour(Colour),
    /// It is offered only in currencies without a rate.
    NoRate(BTreeSet<Currency>, Currency),
    /// Only suppliers that the shop does not buy from offer it.
    Unlisted(BTreeSet<&'a str>),
    /// Nobody offers it in this way: by the piece or by length.
    NotOffered(&'static str),
    /// The shop file forbids the offers that there are.
    NotAllowed(Allowed<'a>),
    /// No order of it keeps every supplier's smallest order.
    SmallestOrder,
    /// A piece is longer than the longest roll, both in micrometres.
    TooLong(u64, u64),
}

impl fmt::Display for Shortage<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unavailable => write!(
                f,
                "it is marked as not to be had (`unavailable` in the shop file, or --without): \
                 choose another part, or take the mark off once it can be had again"
            ),
            Self::Colour(colour) => write!(
                f,
                "it does not come in {colour}: choose a colour that it is sold in"
            ),
            Self::NoRate(from, to) => {
                let codes: Vec<&str> = from.iter().map(|currency| currency.code()).collect();
                let codes = codes.join(" or ");
                write!(
                    f,
                    "it is offered in {codes} and the shop file has no rate of exchange to {to}: \
                     add an [[exchange]] table with the rate for {codes}"
                )
            }
            Self::Unlisted(suppliers) => {
                let names: Vec<&str> = suppliers.iter().copied().collect();
                let names = names.join(", ");
                write!(
                    f,
                    "no supplier of the shop file offers it, but these do: {names}; add one of \
                     them to the shop file"
                )
            }
            Self::NotOffered(way) => write!(
                f,
                "nobody offers it {way}: add an offer to a price list, or enter under `stock` in the \
                 shop file what you have"
            ),
            Self::NotAllowed(Allowed::Only(supplier)) => write!(
                f,
                "{supplier} does not offer it, and the shop file says `only_from`: take that key \
                 away, or name another supplier"
            ),
            Self::NotAllowed(_) => write!(
                f,
                "nobody has it in stock today, and the shop file says `buy = \"in stock\"`: wait, \
                 or buy the cheapest"
            ),
            Self::SmallestOrder => write!(
                f,
                "no order was found that every supplier takes: their smallest orders are too large"
            ),
            Self::TooLong(piece, roll) => write!(
                f,
                "a piece of {} m is longer than the longest roll, {} m, and nobody cuts it to \
                 length: find an offer with a longer roll or one cut to length",
                metres(*piece),
                metres(*roll)
            ),
        }
    }
}

/// The verdict on one demand: what cannot be had of it, and why.
pub(super) fn check(description: &str, short: Option<(&Demand, Shortage<'_>)>) -> Check {
    let is_met = short.is_none();
    let check = Check::holds(CheckRule::Supply, description, is_met, &shop_and_lists());
    match short {
        Some((rest, shortage)) => {
            check.with_note(format!("{} cannot be had: {shortage}", rest.in_words()))
        }
        None => check,
    }
}

/// What verdicts on supply rest on.
pub(super) fn shop_and_lists() -> Cited<()> {
    Cited {
        value: (),
        citation: "shop file and price lists".to_owned(),
        basis: Basis::User,
    }
}
