//! Ways to buy.

use crate::diagnostic::Spanned;
use crate::file::{table, words};
use crate::quantity::{Currency, Date, Length, Money, Quantity, QuantityError};

/// How much one pack holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Pack {
    /// A number of pieces, at least one.
    Pieces(u32),
    /// A length, more than none.
    Length(Length),
}

impl Quantity for Pack {
    const NAME: &'static str = "a pack";
    const EXAMPLES: &'static str = r#""1 piece", "10 pieces" or "25 m""#;

    fn parse(text: &str) -> Result<Self, QuantityError> {
        let text = text.trim();
        let pieces = text.strip_suffix("pieces").or(text.strip_suffix("piece"));
        let nothing = || QuantityError::NotKnown {
            text: text.to_owned(),
            known: "packs that hold something".to_owned(),
        };
        match pieces {
            Some(number) => match number.trim().parse() {
                Ok(0) => Err(nothing()),
                Ok(count) => Ok(Self::Pieces(count)),
                Err(_) => Err(QuantityError::NotANumber {
                    text: text.to_owned(),
                }),
            },
            None => match Length::parse(text) {
                Ok(length) if length > Length::ZERO => Ok(Self::Length(length)),
                Ok(_) => Err(nothing()),
                Err(QuantityError::NoUnit { .. }) => Err(QuantityError::NoUnit {
                    units: "piece, pieces, m, cm, mm, ft, in".to_owned(),
                }),
                Err(error) => Err(error),
            },
        }
    }
}

table! {
    /// One way to buy a part.
    pub struct Offer as "offer" {
        /// Id of the part.
        part: Spanned<String>,
        /// What one pack holds.
        pack: Pack,
        /// Price of one pack, as a text so that no digit is lost; before tax, unless the list says that tax is inside.
        price: Spanned<Money>,
        /// Whether several packs come as one unbroken length, cut at the counter.
        cut_to_length: bool = "false",
        /// Smallest length that is cut at the counter; one pack when absent.
        smallest: Option<Length>,
        /// Lower prices for more packs, by rising numbers of packs.
        breaks: Vec<PriceBreak>,
        /// Day from which the price is known; that of the price list when absent.
        date: Option<Date>,
        /// Whether the supplier has it today.
        in_stock: bool = "true",
    }
}

table! {
    /// A price of a pack for whoever buys many; it holds for all packs then.
    pub struct PriceBreak as "price break" {
        /// Number of packs from which it holds.
        from: u32,
        /// Price of one pack then, taxed as the others.
        price: Spanned<Money>,
    }
}

words! {
    /// Where the tax is.
    pub enum TaxPlace as "a place of the tax" {
        /// Tax comes on top of the prices.
        Outside = "outside",
        /// The prices hold the shop file's tax already.
        Inside = "inside",
    }
}

table! {
    /// The offers of one supplier.
    pub struct PriceList as "price list" {
        /// The supplier's name, as in the shop file.
        supplier: Spanned<String>,
        /// Currency of all its prices.
        currency: Currency,
        /// Where the prices come from; `invented` for example data.
        source: String,
        /// Whether tax comes on top of its prices or is inside them.
        tax: TaxPlace = "outside",
        /// Day from which its prices are known.
        date: Option<Date>,
        /// The offers.
        offer: Vec<Offer>,
    }
}
