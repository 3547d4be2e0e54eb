//! What the workshop has already.

use super::demand::Demand;
use super::measure::{length, micrometres};
use super::{Piece, RollCuts};
use crate::catalog::Colour;
use crate::shop::ShopFile;

/// The name of the shelf where the origin of a roll is told.
pub(super) const SHELF: &str = "shelf";

/// What is left on the shelf.
#[derive(Debug)]
pub(super) struct Shelf<'a> {
    entries: Vec<Entry<'a>>,
}

#[derive(Debug)]
struct Entry<'a> {
    part: &'a str,
    colour: Option<Colour>,
    pieces: u32,
    /// Micrometres of each offcut that nobody has cut yet.
    offcuts: Vec<u64>,
}

/// What one demand takes from the shelf.
#[derive(Debug)]
pub(super) struct Taken {
    /// Pieces.
    pub pieces: u32,
    /// Cuts from offcuts, the longest piece first.
    pub cuts: Vec<RollCuts>,
}

/// An offcut while one demand is cut from it.
struct Offcut {
    entry: usize,
    position: usize,
    length: u64,
    left: u64,
    pieces: Vec<Piece>,
}

impl<'a> Shelf<'a> {
    /// The shelf as the shop file gives it.
    pub(super) fn new(shop: &'a ShopFile) -> Self {
        let entries = shop.stock.iter().map(|stock| Entry {
            part: &stock.part,
            colour: stock.colour,
            pieces: stock.pieces,
            offcuts: stock.offcuts.iter().copied().map(micrometres).collect(),
        });
        Self {
            entries: entries.collect(),
        }
    }

    /// Takes all that suits the demand, and lessens the demand by it.
    pub(super) fn take(&mut self, demand: &mut Demand) -> Taken {
        let suiting = self.suiting(demand);
        Taken {
            pieces: self.take_pieces(demand, &suiting),
            cuts: self.take_lengths(demand, &suiting),
        }
    }

    /// Entries of the part and colour; those that name no colour last, as they fit any.
    fn suiting(&self, demand: &Demand) -> Vec<usize> {
        let suits = |entry: &Entry| {
            entry.part == demand.part && (entry.colour.is_none() || entry.colour == demand.colour)
        };
        let all = self.entries.iter().enumerate();
        let mut suiting: Vec<(bool, usize)> = all
            .filter(|(_, entry)| suits(entry))
            .map(|(index, entry)| (entry.colour.is_none(), index))
            .collect();
        suiting.sort_unstable();
        suiting.into_iter().map(|(_, index)| index).collect()
    }

    fn take_pieces(&mut self, demand: &mut Demand, suiting: &[usize]) -> u32 {
        let mut taken = 0;
        for index in suiting {
            let entry = &mut self.entries[*index];
            let count = entry.pieces.min(demand.pieces);
            entry.pieces -= count;
            demand.pieces -= count;
            taken += count;
        }
        taken
    }

    /// Best fit, longest piece first: each piece goes on the offcut that it leaves shortest.
    fn take_lengths(&mut self, demand: &mut Demand, suiting: &[usize]) -> Vec<RollCuts> {
        let mut offcuts = self.offcuts(suiting);
        let mut waiting = Vec::new();
        for piece in std::mem::take(&mut demand.cuts) {
            let size = micrometres(piece.length);
            let fitting = offcuts.iter_mut().filter(|offcut| offcut.left >= size);
            // Of equals the first wins, so that named colours go before unnamed ones.
            match fitting.min_by_key(|offcut| offcut.left) {
                Some(offcut) => {
                    offcut.left -= size;
                    offcut.pieces.push(piece);
                }
                None => waiting.push(piece),
            }
        }
        demand.cuts = waiting;
        offcuts.retain(|offcut| !offcut.pieces.is_empty());
        self.remove(&offcuts);
        let cuts = offcuts.into_iter().map(|offcut| RollCuts {
            part: demand.part.clone(),
            colour: demand.colour,
            origin: SHELF.to_owned(),
            length: length(offcut.length),
            pieces: offcut.pieces,
            left: length(offcut.left),
        });
        cuts.collect()
    }

    fn offcuts(&self, suiting: &[usize]) -> Vec<Offcut> {
        let mut offcuts = Vec::new();
        for entry in suiting {
            for (position, length) in self.entries[*entry].offcuts.iter().enumerate() {
                offcuts.push(Offcut {
                    entry: *entry,
                    position,
                    length: *length,
                    left: *length,
                    pieces: Vec::new(),
                });
            }
        }
        offcuts
    }

    /// An offcut has one colour even where the file names none: once cut for a demand it serves
    /// no other.
    fn remove(&mut self, used: &[Offcut]) {
        for offcut in used.iter().rev() {
            self.entries[offcut.entry].offcuts.remove(offcut.position);
        }
    }
}
