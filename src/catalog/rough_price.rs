//! Rough prices, for comparing choices only; what is bought where is settled with the purchase.

use std::collections::BTreeMap;

use super::{Catalog, Pack, Protective};

/// What a preferred part counts for, so that it is chosen wherever it keeps the limits. Judgement:
/// little enough to outweigh any difference in price, and not nothing, so that less of it is still
/// better than more.
const PREFERRED: f64 = 0.1;

/// The cheapest price of each part that somebody offers, for one piece or one metre.
#[derive(Debug, Clone)]
pub struct RoughPrices<'a>(BTreeMap<&'a str, f64>);

impl RoughPrices<'_> {
    /// The price of a part; more than any that is offered where nobody offers it.
    pub fn of(&self, part: &str) -> f64 {
        const NOT_OFFERED: f64 = 1e5;
        let price = self.0.get(part).copied();
        price.unwrap_or(NOT_OFFERED).min(NOT_OFFERED)
    }

    /// The price of a device with its holder.
    pub fn of_device(&self, device: &Protective<'_>) -> f64 {
        let holder = device.holder.map_or(0.0, |row| self.of(&row.id));
        self.of(device.part) + holder
    }
}

impl Catalog {
    /// The rough prices of all parts.
    pub fn rough_prices(&self) -> RoughPrices<'_> {
        let mut prices = BTreeMap::new();
        for offer in self.price_lists.iter().flat_map(|list| &list.offer) {
            let Ok(price) = f64::try_from(offer.price.decimal()) else {
                continue;
            };
            let each = match offer.pack {
                Pack::Pieces(count) => price / f64::from(count),
                Pack::Length(length) => price / length.m(),
            };
            let known = prices
                .entry(offer.part.value.as_str())
                .or_insert(f64::INFINITY);
            *known = known.min(each);
        }
        for part in self.parts().filter(|part| part.preferred()) {
            if let Some(price) = prices.get_mut(part.id()) {
                *price *= PREFERRED;
            }
        }
        RoughPrices(prices)
    }
}
