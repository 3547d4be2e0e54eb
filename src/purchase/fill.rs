//! Meets wishes with what an order brings and what the shelf has.

use std::collections::BTreeSet;

use super::choose::{Aim, Choice, Chosen};
use super::cuts::{Roll, cuts};
use super::demand::{Demand, lengths_in_words};
use super::leftovers::{Remains, change, leftover};
use super::lines::{Line, Used, line};
use super::market::Market;
use super::measure::{micrometres, pieces};
use super::shelf::Shelf;
use super::shortage::{Shortage, check};
use super::solve::packed;
use super::wish::{Wish, pack_size};
use super::{Comparison, FromStock, Leftover, OrderProof, OtherWay, Piece, RollCuts, StockChange};
use crate::check::Check;
use crate::quantity::Money;

/// The name of the shelf where the origin of a roll is told.
const SHELF: &str = "shelf";

/// What meeting some demands gives.
#[derive(Debug, Default)]
pub(super) struct Filled {
    /// What to buy.
    pub lines: Vec<Line>,
    /// What is taken from the shelf.
    pub from_stock: Vec<FromStock>,
    /// What to cut from where.
    pub cuts: Vec<RollCuts>,
    /// What is left.
    pub left: Vec<Leftover>,
    /// How the stock changes.
    pub stock: Vec<StockChange>,
    /// A verdict on each demand.
    pub checks: Vec<Check>,
    /// How good the order is, and other ways to buy where they were asked for.
    pub order: (OrderProof, Vec<OtherWay>),
}

/// Meets every demand as far as can be. Suppliers who are `served` already bring these goods along.
pub(super) fn fill<'a>(
    demands: Vec<Demand>,
    shelf: &mut Shelf<'_>,
    market: &Market<'a>,
    served: &BTreeSet<String>,
    comparison: Comparison,
) -> Filled {
    let wishes = demands.into_iter();
    let wishes: Vec<Wish<'a>> = wishes
        .map(|demand| Wish::new(demand, shelf, market))
        .collect();
    let choice = Choice {
        wishes: &wishes,
        market,
        served,
    };
    let aim = Aim::of(market.shop);
    let chosen = choice.order(aim);
    let ways = match comparison {
        Comparison::LeftOut => Vec::new(),
        Comparison::Made => {
            let offers = wishes.iter().flat_map(|wish| &wish.quotes.usable);
            let offered = offers.map(|quote| quote.supplier).collect();
            choice.ways(aim, &chosen, &offered)
        }
    };
    let mut filled = Filled {
        order: (proof(&chosen, market), ways),
        ..Filled::default()
    };
    for (position, wish) in wishes.iter().enumerate() {
        filled.meet(position, wish, &chosen, market);
    }
    for (position, wish) in wishes.iter().enumerate() {
        let short = short(&chosen, position, wish);
        let why = short.as_ref().map(|short| {
            let is_ordered = chosen.assembled.short[position].is_none();
            match is_ordered {
                true => (short, Shortage::SmallestOrder),
                false => (short, wish.why_short(aim.allowed, market)),
            }
        });
        filled.checks.push(check(&wish.demand.description, why));
    }
    filled
}

/// What cannot be had of a wish.
fn short(chosen: &Chosen<'_>, position: usize, wish: &Wish<'_>) -> Option<Demand> {
    let asked = |wish: usize| {
        chosen
            .assembled
            .asked
            .iter()
            .any(|asked| asked.wish == wish)
    };
    match &chosen.assembled.short[position] {
        Some(short) => Some(short.clone()),
        None if chosen.bought.is_none() && asked(position) => Some(wish.demand.clone()),
        None => None,
    }
}

fn proof(chosen: &Chosen<'_>, market: &Market<'_>) -> OrderProof {
    let amount = |cost| chosen.assembled.amount(cost, market.currency);
    let Some(bought) = &chosen.bought else {
        return OrderProof::default();
    };
    let (total, bound) = (amount(bought.cost), amount(bought.bound));
    OrderProof {
        total,
        bound,
        gap: Money::from_decimal(total.decimal() - bound.decimal()),
        proved: total == bound,
    }
}

impl Filled {
    fn meet(&mut self, position: usize, wish: &Wish<'_>, chosen: &Chosen<'_>, market: &Market<'_>) {
        let mut remains = Remains {
            taken: wish.taken.clone(),
            ..Remains::default()
        };
        let mut on_offcuts = vec![Vec::new(); wish.offcuts.len()];
        for (piece, offcut) in &chosen.assembled.fixed[position] {
            on_offcuts[*offcut].push(wish.demand.cuts[*piece].clone());
        }
        let mut rolls = Vec::new();
        let asked = chosen.assembled.asked.iter().enumerate();
        for (task, asked) in asked.filter(|(_, asked)| asked.wish == position) {
            let Some(bought) = &chosen.bought else {
                continue;
            };
            let packs = asked
                .offers
                .iter()
                .copied()
                .zip(bought.packs[task].iter().copied());
            let packs: Vec<(usize, u32)> = packs.filter(|(_, packs)| *packs > 0).collect();
            if asked.cuts.is_empty() {
                self.add_pieces(wish, packs, market, &mut remains);
            } else {
                let bought = from_rolls(wish, packs, asked, market, &mut on_offcuts);
                self.add_lines(wish, &bought, market);
                rolls.extend(bought.into_iter().map(|bought| bought.roll));
            }
        }
        self.cut(wish, on_offcuts, rolls, market, &mut remains);
        let keep = micrometres(market.shop.keep_offcuts_from).max(1);
        self.left.extend(leftover(&wish.demand, &remains, keep));
        self.stock.push(change(&wish.demand, &remains, keep));
    }

    /// Lines for packs of pieces: large packs are used up first.
    fn add_pieces(
        &mut self,
        wish: &Wish<'_>,
        mut packs: Vec<(usize, u32)>,
        market: &Market<'_>,
        remains: &mut Remains,
    ) {
        let size = |offer: usize| pack_size(&wish.quotes.usable[offer]);
        packs.sort_by_key(|(offer, _)| std::cmp::Reverse(size(*offer)));
        let mut wanted = u64::from(wish.demand.pieces);
        for (offer, packs) in packs {
            let held = size(offer).saturating_mul(u64::from(packs));
            let used = wanted.min(held);
            wanted -= used;
            remains.pieces += held - used;
            let quote = &wish.quotes.usable[offer];
            self.lines
                .push(line(&wish.demand, quote, packs, Used::Pieces(used), market));
        }
    }

    /// A line for each offer of lengths.
    fn add_lines(&mut self, wish: &Wish<'_>, bought: &[BoughtRoll], market: &Market<'_>) {
        let offers: BTreeSet<usize> = bought.iter().map(|roll| roll.offer).collect();
        for offer in offers {
            let mine = bought.iter().filter(|roll| roll.offer == offer);
            let packs = mine.clone().map(|roll| roll.packs).sum();
            let cut = mine.flat_map(|roll| &roll.roll.pieces).cloned();
            let cut: Vec<Piece> = cut.collect();
            let quote = &wish.quotes.usable[offer];
            self.lines
                .push(line(&wish.demand, quote, packs, Used::Cuts(&cut), market));
        }
    }

    /// The cuts, those of offcuts first, and what they leave.
    fn cut(
        &mut self,
        wish: &Wish<'_>,
        on_offcuts: Vec<Vec<Piece>>,
        rolls: Vec<Roll>,
        market: &Market<'_>,
        remains: &mut Remains,
    ) {
        let allowance = micrometres(market.shop.cut_allowance);
        let mut from_shelf = Vec::new();
        for (offcut, pieces) in wish.offcuts.iter().zip(on_offcuts) {
            if pieces.is_empty() {
                continue;
            }
            from_shelf.extend(pieces.iter().cloned());
            let roll = Roll {
                origin: SHELF.to_owned(),
                length: offcut.length,
                pieces,
            };
            let cut = cuts(&wish.demand, roll, allowance);
            remains
                .offcuts
                .push((offcut.entry, offcut.position, micrometres(cut.left)));
            self.cuts.push(cut);
        }
        for roll in rolls {
            let cut = cuts(&wish.demand, roll, allowance);
            remains.rolls.push(micrometres(cut.left));
            if !cut.pieces.is_empty() {
                self.cuts.push(cut);
            }
        }
        self.from_stock.extend(from_stock(wish, &from_shelf));
    }
}

/// A roll or a length from the counter.
#[derive(Debug)]
struct BoughtRoll {
    /// Position of its offer among the quotes of the wish.
    offer: usize,
    /// Packs that it is made of.
    packs: u32,
    roll: Roll,
}

/// Distributes the pieces over the rolls bought and the offcuts.
fn from_rolls(
    wish: &Wish<'_>,
    packs: Vec<(usize, u32)>,
    asked: &super::assemble::Asked,
    market: &Market<'_>,
    on_offcuts: &mut [Vec<Piece>],
) -> Vec<BoughtRoll> {
    let mut rolls = Vec::new();
    for (offer, packs) in packs {
        let quote = &wish.quotes.usable[offer];
        let (each, count) = match quote.joined {
            Some(_) => (packs, 1),
            None => (1, packs),
        };
        rolls.extend((0..count).map(|_| BoughtRoll {
            offer,
            packs: each,
            roll: Roll {
                origin: quote.supplier.to_owned(),
                length: pack_size(quote).saturating_mul(u64::from(each)),
                pieces: Vec::new(),
            },
        }));
    }
    let offcuts = on_offcuts.len();
    let bought = rolls.iter().map(|roll| roll.roll.length);
    let lengths: Vec<u64> = asked.offcuts.iter().copied().chain(bought).collect();
    // In rising order, as the search that chose the rolls had them.
    let mut rising: Vec<usize> = (0..lengths.len()).collect();
    rising.sort_by_key(|place| lengths[*place]);
    let sorted: Vec<u64> = rising.iter().map(|place| lengths[*place]).collect();
    let allowance = micrometres(market.shop.cut_allowance);
    let cut = |piece: &usize| &wish.demand.cuts[*piece];
    let sizes = asked
        .cuts
        .iter()
        .map(|piece| micrometres(cut(piece).length) + allowance);
    let sizes: Vec<u64> = sizes.collect();
    let places = packed(&sizes, &sorted).unwrap_or_default();
    for (piece, place) in asked.cuts.iter().zip(places) {
        let place = rising[place];
        let piece = cut(piece).clone();
        match place.checked_sub(offcuts) {
            Some(roll) => rolls[roll].roll.pieces.push(piece),
            None => on_offcuts[place].push(piece),
        }
    }
    rolls
}

fn from_stock(wish: &Wish<'_>, cut: &[Piece]) -> Option<FromStock> {
    let taken: u32 = wish.taken.iter().map(|(_, count)| count).sum();
    let counted = (taken > 0).then(|| pieces(taken));
    let lengths = (!cut.is_empty()).then(|| lengths_in_words(cut));
    let amounts: Vec<String> = counted.into_iter().chain(lengths).collect();
    (!amounts.is_empty()).then(|| FromStock {
        part: wish.demand.part.clone(),
        colour: wish.demand.colour,
        description: wish.demand.description.clone(),
        amount: amounts.join(" and "),
        pieces: taken,
        length: cut.iter().map(|piece| piece.length).sum(),
    })
}
