//! Who offers a part, at what price in the job's currency.

use std::collections::BTreeSet;

use crate::catalog::{Catalog, Pack};
use crate::quantity::{Currency, Money};
use crate::shop::{ShopFile, SupplierFile};

/// The suppliers that the shop buys from.
#[derive(Debug, Clone, Copy)]
pub(super) struct Market<'a> {
    /// The workshop.
    pub shop: &'a ShopFile,
    /// Parts and price lists.
    pub catalog: &'a Catalog,
    /// Currency of the job.
    pub currency: Currency,
}

/// An offer in the job's currency.
#[derive(Debug, Clone)]
pub(super) struct Quote<'a> {
    /// The supplier.
    pub supplier: &'a str,
    /// What one pack holds.
    pub pack: Pack,
    /// Price of one pack, rounded to the minor unit.
    pub price: Money,
    /// Whether several packs come as one unbroken length.
    pub cut_to_length: bool,
}

/// All that is offered of a part.
#[derive(Debug, Default)]
pub(super) struct Quotes<'a> {
    /// Offers that can be taken, by supplier and then as in the price list.
    pub usable: Vec<Quote<'a>>,
    /// Currencies of offers that cannot be taken for want of a rate.
    pub missing_rates: BTreeSet<Currency>,
    /// Suppliers that offer it but are not in the shop file.
    pub unlisted: BTreeSet<&'a str>,
}

impl<'a> Market<'a> {
    /// Everything that is offered of a part.
    pub(super) fn quotes(&self, part: &str) -> Quotes<'a> {
        let mut quotes = Quotes::default();
        for list in &self.catalog.price_lists {
            for offer in list.offer.iter().filter(|offer| *offer.part == part) {
                if !self.is_listed(&list.supplier) {
                    quotes.unlisted.insert(&list.supplier);
                    continue;
                }
                match self.converted(offer.price.value, list.currency) {
                    None => {
                        quotes.missing_rates.insert(list.currency);
                    }
                    Some(price) => quotes.usable.push(Quote {
                        supplier: &list.supplier,
                        pack: offer.pack,
                        price,
                        cut_to_length: offer.cut_to_length,
                    }),
                }
            }
        }
        quotes.usable.sort_by_key(|quote| quote.supplier);
        quotes
    }

    /// A shop file without suppliers buys from everybody.
    fn is_listed(&self, supplier: &str) -> bool {
        self.shop.supplier.is_empty() || self.terms(supplier).is_some()
    }

    /// The terms of a supplier in the shop file.
    pub(super) fn terms(&self, supplier: &str) -> Option<&'a SupplierFile> {
        let mut listed = self.shop.supplier.iter();
        listed.find(|row| *row.name == supplier)
    }

    /// An amount in the job's currency, rounded to its minor unit; `None` without a rate.
    pub(super) fn converted(&self, amount: Money, from: Currency) -> Option<Money> {
        self.shop.converted(amount, from, self.currency)
    }

    /// Whether the part comes in a colour; a part without a choice of colours comes in any.
    pub(super) fn comes_in(&self, part: &str, colour: crate::catalog::Colour) -> bool {
        let colours = self.catalog.colours(part);
        colours.is_empty() || colours.contains(&colour)
    }
}
