//! What the workshop has already.

use super::demand::Demand;
use super::measure::micrometres;
use crate::catalog::Colour;
use crate::shop::ShopFile;

/// What is left on the shelf while demands take from it.
#[derive(Debug)]
pub(super) struct Shelf<'a> {
    entries: Vec<Entry<'a>>,
}

#[derive(Debug)]
struct Entry<'a> {
    part: &'a str,
    colour: Option<Colour>,
    pieces: u32,
    /// Micrometres of each offcut that nobody has laid claim to.
    offcuts: Vec<Option<u64>>,
}

/// An offcut on the shelf.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Offcut {
    /// Position of its entry in the shop file.
    pub entry: usize,
    /// Its position among the offcuts of the entry.
    pub position: usize,
    /// Its length in micrometres.
    pub length: u64,
}

impl<'a> Shelf<'a> {
    /// The shelf as the shop file gives it.
    pub(super) fn new(shop: &'a ShopFile) -> Self {
        let entries = shop.stock.iter().map(|stock| Entry {
            part: &stock.part,
            colour: stock.colour,
            pieces: stock.pieces,
            offcuts: stock
                .offcuts
                .iter()
                .map(|length| Some(micrometres(*length)))
                .collect(),
        });
        Self {
            entries: entries.collect(),
        }
    }

    /// Takes pieces that suit a demand, and lessens the demand by them: how many of which entry.
    pub(super) fn take_pieces(&mut self, demand: &mut Demand) -> Vec<(usize, u32)> {
        let mut taken = Vec::new();
        for index in self.suiting(demand) {
            let entry = &mut self.entries[index];
            let count = entry.pieces.min(demand.pieces);
            entry.pieces -= count;
            demand.pieces -= count;
            if count > 0 {
                taken.push((index, count));
            }
        }
        taken
    }

    /// Lays claim to all offcuts that suit a demand.
    pub(super) fn claim_offcuts(&mut self, demand: &Demand) -> Vec<Offcut> {
        if demand.cuts.is_empty() {
            return Vec::new();
        }
        let mut claimed = Vec::new();
        for entry in self.suiting(demand) {
            let offcuts = self.entries[entry].offcuts.iter_mut().enumerate();
            claimed.extend(offcuts.filter_map(|(position, length)| {
                Some(Offcut {
                    entry,
                    position,
                    length: length.take()?,
                })
            }));
        }
        claimed
    }

    /// Entries of the part and colour. An entry without a colour is of a part that comes in one.
    fn suiting(&self, demand: &Demand) -> Vec<usize> {
        let suits = |entry: &Entry| {
            entry.part == demand.part && (entry.colour.is_none() || entry.colour == demand.colour)
        };
        let all = self.entries.iter().enumerate();
        let suiting = all.filter(|(_, entry)| suits(entry));
        suiting.map(|(index, _)| index).collect()
    }
}
