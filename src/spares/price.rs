//! What an item costs by itself.

use crate::catalog::{Catalog, Colour, Part};
use crate::fittings::{Amount, Need};
use crate::purchase::goods_alone;
use crate::quantity::{Currency, Money};
use crate::shop::ShopFile;

/// Buys for the kit. What lies on the shelf was counted on by the job itself, and is left to it.
#[derive(Debug)]
pub(super) struct Till<'a> {
    shop: &'a ShopFile,
    catalog: &'a Catalog,
    currency: Currency,
}

impl<'a> Till<'a> {
    pub(super) fn new(shop: &'a ShopFile, catalog: &'a Catalog, currency: Currency) -> Self {
        Self {
            shop,
            catalog,
            currency,
        }
    }

    /// The least price, tax included, delivery left out; `None` where nobody offers it.
    pub(super) fn price(&self, needs: &[Need]) -> Option<Money> {
        goods_alone(needs, self.shop, self.catalog, self.currency)
    }

    /// The smallest units of the currency in an amount, rounded up.
    pub(super) fn units(&self, money: Money) -> u64 {
        let mut amount = money.rounded(self.currency).decimal();
        amount.rescale(self.currency.minor_digits());
        u64::try_from(amount.mantissa()).unwrap_or(u64::MAX)
    }
}

/// So many pieces of a part, in the first colour that it comes in.
pub(super) fn pieces(part: &dyn Part, count: u32, catalog: &Catalog) -> Need {
    need(
        part,
        Amount::Pieces(count),
        catalog.colours(part.id()).first().copied(),
    )
}

/// An amount of a part.
pub(super) fn need(part: &dyn Part, amount: Amount, colour: Option<Colour>) -> Need {
    Need {
        part: part.id().to_owned(),
        kind: part.kind(),
        colour,
        amount,
        purpose: "spares kit".to_owned(),
    }
}
