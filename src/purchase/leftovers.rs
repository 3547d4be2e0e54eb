//! What is left once everything is bought and cut, and the stock then.

use super::demand::Demand;
use super::measure::length;
use super::{Leftover, StockChange};
use crate::quantity::Length;

/// Micrometres that are left of rolls, and pieces of packs, of one demand.
#[derive(Debug, Clone, Default)]
pub(super) struct Remains {
    /// Pieces in packs that nobody needs.
    pub pieces: u64,
    /// What is left of each roll or length bought.
    pub rolls: Vec<u64>,
    /// What is left of each offcut that was cut: its entry and position in the shop file.
    pub offcuts: Vec<(usize, usize, u64)>,
    /// Pieces taken: how many of which entry of the shop file.
    pub taken: Vec<(usize, u32)>,
}

/// What is left of a demand, where offcuts from `keep` on are worth keeping.
pub(super) fn leftover(demand: &Demand, remains: &Remains, keep: u64) -> Option<Leftover> {
    let cut = remains.offcuts.iter().map(|(_, _, left)| left);
    let all = remains.rolls.iter().chain(cut).copied();
    let (kept, scrap): (Vec<u64>, Vec<u64>) =
        all.filter(|left| *left > 0).partition(|left| *left >= keep);
    let lengths = |mut all: Vec<u64>| {
        all.sort_unstable_by_key(|length| std::cmp::Reverse(*length));
        all.into_iter().map(length).collect::<Vec<Length>>()
    };
    let leftover = Leftover {
        part: demand.part.clone(),
        colour: demand.colour,
        description: demand.description.clone(),
        pieces: u32::try_from(remains.pieces).unwrap_or(u32::MAX),
        offcuts: lengths(kept),
        scrap: lengths(scrap),
    };
    let is_any = leftover.pieces > 0 || !leftover.offcuts.is_empty() || !leftover.scrap.is_empty();
    is_any.then_some(leftover)
}

/// How a demand changes the stock.
pub(super) fn change(demand: &Demand, remains: &Remains, keep: u64) -> StockChange {
    let kept = |left: &&u64| **left >= keep;
    let cut = remains.offcuts.iter().map(|(_, _, left)| left);
    let new = remains.rolls.iter().chain(cut).filter(kept);
    StockChange {
        part: demand.part.clone(),
        colour: demand.colour,
        taken: remains.taken.clone(),
        cut: remains
            .offcuts
            .iter()
            .map(|(entry, position, _)| (*entry, *position))
            .collect(),
        pieces: u32::try_from(remains.pieces).unwrap_or(u32::MAX),
        offcuts: new.map(|left| length(*left)).collect(),
    }
}
