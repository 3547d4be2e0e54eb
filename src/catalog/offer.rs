//! Ways to buy.

use crate::diagnostic::Spanned;
use crate::file::table;
use crate::quantity::{Currency, Length, Money, Quantity, QuantityError};

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
        /// Price of one pack before tax, as a text so that no digit is lost.
        price: Spanned<Money>,
        /// Whether several packs come as one unbroken length, cut at the counter.
        cut_to_length: bool = "false",
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
        /// The offers.
        offer: Vec<Offer>,
    }
}
