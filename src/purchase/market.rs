//! Who offers a part, at what price in the job's currency.

use std::collections::BTreeSet;

use crate::catalog::{Catalog, Offer, Pack, PriceList, TaxPlace};
use crate::quantity::{Currency, Date, Money};
use crate::shop::{ShopFile, SupplierFile};

/// The suppliers that the shop buys from.
#[derive(Debug, Clone, Copy)]
pub struct Market<'a> {
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
    /// Prices of one pack, rounded to the minor unit, each from a number of packs on.
    pub prices: Vec<(u32, Money)>,
    /// Where several packs come as one unbroken length: the fewest packs that are cut.
    pub joined: Option<u32>,
    /// Whether the supplier has it today.
    pub in_stock: bool,
    /// Whether tax is inside the price.
    pub tax: TaxPlace,
    /// Day from which the price is known.
    pub date: Option<Date>,
}

impl Quote<'_> {
    /// Price of one pack when so many are bought.
    pub(super) fn price(&self, packs: u32) -> Money {
        let reached = self.prices.iter().rev().find(|(from, _)| *from <= packs);
        let price = reached.or(self.prices.first());
        price.map_or(Money::ZERO, |(_, price)| *price)
    }
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
                match self.quote(list, offer) {
                    None => {
                        quotes.missing_rates.insert(list.currency);
                    }
                    Some(quote) => quotes.usable.push(quote),
                }
            }
        }
        quotes.usable.sort_by_key(|quote| quote.supplier);
        quotes
    }

    /// `None` without a rate for the list's currency.
    fn quote(&self, list: &'a PriceList, offer: &'a Offer) -> Option<Quote<'a>> {
        let mut prices = vec![(1, self.converted(offer.price.value, list.currency)?)];
        for row in &offer.breaks {
            prices.push((row.from, self.converted(row.price.value, list.currency)?));
        }
        // Rounded to a coarser currency, a break may be none any more.
        prices.dedup_by(|later, earlier| later.1 >= earlier.1);
        let smallest = |pack: Pack| match (offer.smallest, pack) {
            (Some(smallest), Pack::Length(step)) => (smallest / step - HAIR).ceil().max(1.0) as u32,
            _ => 1,
        };
        Some(Quote {
            supplier: &list.supplier,
            pack: offer.pack,
            prices,
            joined: offer.cut_to_length.then(|| smallest(offer.pack)),
            in_stock: offer.in_stock,
            tax: list.tax,
            date: offer.date.or(list.date),
        })
    }

    /// Whether a day is so long ago that a price of that day is doubtful.
    pub(super) fn is_old(&self, date: Option<Date>) -> bool {
        let (Some(date), Some(today)) = (date, self.shop.offers_as_of.or(self.newest())) else {
            return false;
        };
        date.after(self.shop.old_after_days) < today
    }

    /// The newest day of any offer.
    fn newest(&self) -> Option<Date> {
        let lists = self.catalog.price_lists.iter();
        let days = lists.flat_map(|list| {
            let offers = list.offer.iter().map(|offer| offer.date);
            offers.chain([list.date])
        });
        days.flatten().max()
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

/// A smallest length that is a multiple of the step already must not gain a step from rounding.
const HAIR: f64 = 1e-9;
