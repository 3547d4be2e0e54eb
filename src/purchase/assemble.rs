//! From wishes to an order in whole numbers.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use super::demand::Demand;
use super::market::{Market, Quote};
use super::measure::micrometres;
use super::solve::{Amount, Bought, Cutting, Demand as Task, Offer, Order, Terms, Tier, Wanted};
use super::wish::{Allowed, Wish, pack_size};
use crate::catalog::TaxPlace;
use crate::quantity::{Currency, Money};

/// An order with where its parts come from.
#[derive(Debug)]
pub(super) struct Assembled<'a> {
    /// The order.
    pub order: Order,
    /// What each of its demands stands for.
    pub asked: Vec<Asked>,
    /// Names of its suppliers.
    pub suppliers: Vec<&'a str>,
    /// Parts of a minor unit in which its costs are told.
    pub unit: Amount,
    /// For each wish, pieces that only an offcut holds, each with the position of that offcut.
    pub fixed: Vec<Vec<(usize, usize)>>,
    /// For each wish, what cannot be had.
    pub short: Vec<Option<Demand>>,
}

/// A demand of the order.
#[derive(Debug)]
pub(super) struct Asked {
    /// Position of the wish.
    pub wish: usize,
    /// Position of each offer among the quotes of the wish.
    pub offers: Vec<usize>,
    /// Positions of the unbroken lengths.
    pub cuts: Vec<usize>,
    /// What is left of each offcut for them, in micrometres.
    pub offcuts: Vec<u64>,
}

/// Digits of a tax that the search takes into account; the bill takes all.
const TAX_DIGITS: u32 = 8;

/// The order for wishes when only some offers may be taken. Suppliers who are `served` already
/// charge no delivery and take any order.
pub(super) fn assemble<'a>(
    wishes: &[Wish<'a>],
    market: &Market<'a>,
    served: &BTreeSet<String>,
    allowed: Allowed<'_>,
) -> Assembled<'a> {
    let quotes = wishes.iter().flat_map(|wish| &wish.quotes.usable);
    let taxes = quotes.map(|quote| (quote.supplier, quote.tax));
    let taxes: BTreeMap<&str, TaxPlace> = taxes.collect();
    let tax = market.shop.tax.fraction().round_dp(TAX_DIGITS).normalize();
    let unit = Amount::from(10).pow(tax.scale());
    let outside = unit + tax.mantissa();
    let terms = taxes.iter().map(|(supplier, place)| {
        let weight = match place {
            TaxPlace::Outside => outside,
            TaxPlace::Inside => unit,
        };
        terms(supplier, weight, market, served)
    });
    let mut assembled = Assembled {
        order: Order {
            suppliers: terms.collect(),
            demands: Vec::new(),
            charge_weight: outside,
        },
        asked: Vec::new(),
        suppliers: taxes.into_keys().collect(),
        unit,
        fixed: Vec::new(),
        short: Vec::new(),
    };
    for (position, wish) in wishes.iter().enumerate() {
        assembled.add(position, wish, market, allowed);
    }
    assembled
}

fn terms(supplier: &str, weight: Amount, market: &Market<'_>, served: &BTreeSet<String>) -> Terms {
    let free = Terms {
        weight,
        ..Terms::default()
    };
    let Some(terms) = market
        .terms(supplier)
        .filter(|_| !served.contains(supplier))
    else {
        return free;
    };
    let convert = |amount| {
        let amount = market.converted(amount, market.shop.currency)?;
        Some(minor_units(amount, market.currency))
    };
    Terms {
        charge: convert(terms.delivery).unwrap_or(0),
        free_from: terms.free_from.and_then(convert),
        smallest: terms.smallest_order.and_then(convert).unwrap_or(0),
        weight,
    }
}

/// An amount in whole minor units.
pub(super) fn minor_units(amount: Money, currency: Currency) -> Amount {
    amount.rounded(currency).decimal().mantissa()
}

impl Assembled<'_> {
    /// The amount of a cost, rounded half up to the minor unit.
    pub(super) fn amount(&self, cost: Amount, currency: Currency) -> Money {
        let whole = (2 * cost + self.unit).div_euclid(2 * self.unit);
        let scale = currency.minor_digits();
        let exact = Decimal::try_from_i128_with_scale(whole, scale).unwrap_or(Decimal::MAX);
        Money::from_decimal(exact)
    }

    /// Names of the suppliers that an order uses.
    pub(super) fn used(&self, bought: &Bought) -> Vec<String> {
        let demands = self.order.demands.iter().zip(&bought.packs);
        let taken = demands.flat_map(|(demand, packs)| demand.offers.iter().zip(packs));
        let used = taken.filter(|(_, packs)| **packs > 0);
        let used: BTreeSet<usize> = used.map(|(offer, _)| offer.supplier).collect();
        let names = used.into_iter().map(|supplier| self.suppliers[supplier]);
        names.map(str::to_owned).collect()
    }

    fn add(&mut self, position: usize, wish: &Wish<'_>, market: &Market<'_>, allowed: Allowed<'_>) {
        let mut short = Demand {
            pieces: 0,
            cuts: Vec::new(),
            ..wish.demand.clone()
        };
        if wish.demand.pieces > 0 {
            let offers = wish.offers(allowed, false);
            if offers.is_empty() {
                short.pieces = wish.demand.pieces;
            } else {
                let wanted = Wanted::Pieces(u64::from(wish.demand.pieces));
                self.ask(position, wish, market, offers, wanted);
            }
        }
        let (fixed, offcuts, cuts, lacking) = self.sort_lengths(wish, market, allowed);
        for piece in lacking {
            short.cuts.push(wish.demand.cuts[piece].clone());
        }
        if !cuts.is_empty() {
            let allowance = micrometres(market.shop.cut_allowance);
            let sizes = cuts.iter().map(|piece| &wish.demand.cuts[*piece]);
            let wanted = Wanted::Lengths(Cutting {
                pieces: sizes
                    .map(|piece| micrometres(piece.length) + allowance)
                    .collect(),
                offcuts: offcuts.clone(),
            });
            self.ask(position, wish, market, wish.offers(allowed, true), wanted);
            if let Some(asked) = self.asked.last_mut() {
                asked.cuts = cuts;
                asked.offcuts = offcuts;
            }
        }
        self.fixed.push(fixed);
        self.short.push((!short.is_met()).then_some(short));
    }

    /// Sorts lengths by what can hold them: those that only an offcut holds, with the offcut that
    /// they leave shortest; what is left of the offcuts; those for the order; those that nothing
    /// holds.
    #[allow(clippy::type_complexity)]
    fn sort_lengths(
        &self,
        wish: &Wish<'_>,
        market: &Market<'_>,
        allowed: Allowed<'_>,
    ) -> (Vec<(usize, usize)>, Vec<u64>, Vec<usize>, Vec<usize>) {
        let allowance = micrometres(market.shop.cut_allowance);
        let offers = wish.offers(allowed, true).into_iter();
        let offers: Vec<&Quote<'_>> = offers.map(|offer| &wish.quotes.usable[offer]).collect();
        let any_length = offers.iter().any(|quote| quote.joined.is_some());
        let longest = offers
            .iter()
            .map(|quote| pack_size(quote))
            .max()
            .unwrap_or(0);
        let mut left: Vec<u64> = wish.offcuts.iter().map(|offcut| offcut.length).collect();
        let (mut fixed, mut cuts, mut lacking) = (Vec::new(), Vec::new(), Vec::new());
        for (piece, cut) in wish.demand.cuts.iter().enumerate() {
            let size = micrometres(cut.length) + allowance;
            if any_length || size <= longest {
                cuts.push(piece);
                continue;
            }
            let fitting = (0..left.len()).filter(|offcut| left[*offcut] >= size);
            match fitting.min_by_key(|offcut| left[*offcut]) {
                Some(offcut) => {
                    left[offcut] -= size;
                    fixed.push((piece, offcut));
                }
                None => lacking.push(piece),
            }
        }
        (fixed, left, cuts, lacking)
    }

    fn ask(
        &mut self,
        position: usize,
        wish: &Wish<'_>,
        market: &Market<'_>,
        offers: Vec<usize>,
        wanted: Wanted,
    ) {
        let made = offers.iter().map(|offer| {
            let quote = &wish.quotes.usable[*offer];
            let tiers = quote.prices.iter().map(|(from, price)| Tier {
                from: *from,
                price: minor_units(*price, market.currency),
            });
            let known = self.suppliers.iter();
            Offer {
                supplier: known.take_while(|name| **name != quote.supplier).count(),
                size: pack_size(quote).max(1),
                joined: quote.joined,
                tiers: tiers.collect(),
            }
        });
        let offers_made = made.collect();
        self.order.demands.push(Task {
            offers: offers_made,
            wanted,
        });
        self.asked.push(Asked {
            wish: position,
            offers,
            cuts: Vec::new(),
            offcuts: Vec::new(),
        });
    }
}
