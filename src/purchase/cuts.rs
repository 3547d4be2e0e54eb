//! The cut plan: which piece from which roll, in which order, and where to mark it.
//!
//! The longest piece of a roll is cut first. If it is spoilt, what is left of the roll is longest
//! then, and the spoilt piece may still serve as a later, shorter one.

use super::demand::Demand;
use super::measure::{length, micrometres};
use super::{Cut, Piece, Rescue, RollCuts};

/// A roll, an offcut or a length from the counter, with the pieces to be cut from it.
#[derive(Debug)]
pub(super) struct Roll {
    /// Where it comes from.
    pub origin: String,
    /// Its length in micrometres.
    pub length: u64,
    /// The pieces.
    pub pieces: Vec<Piece>,
}

/// The cuts of a roll when each takes `allowance` beside the piece, in micrometres.
pub(super) fn cuts(demand: &Demand, mut roll: Roll, allowance: u64) -> RollCuts {
    // The sort is stable: equal lengths stay in the order of the needs.
    roll.pieces.sort_by(|a, b| b.length.total_cmp(&a.length));
    let sizes: Vec<u64> = roll
        .pieces
        .iter()
        .map(|piece| micrometres(piece.length))
        .collect();
    let taken: u64 = sizes.iter().map(|size| size + allowance).sum();
    let left = roll.length.saturating_sub(taken);
    let mut mark = 0;
    let pieces = roll.pieces.iter().zip(&sizes).enumerate();
    let pieces = pieces.map(|(position, (piece, size))| {
        let from = mark + allowance;
        mark = from + size;
        Cut {
            purpose: piece.purpose.clone(),
            length: piece.length,
            from: length(from),
            mark: length(mark),
            if_spoilt: rescue(&sizes, position, left, allowance),
        }
    });
    RollCuts {
        part: demand.part.clone(),
        colour: demand.colour,
        origin: roll.origin,
        length: length(roll.length),
        pieces: pieces.collect(),
        left: length(left),
    }
}

/// What to do when a piece is spoilt: its end is lost, and most of its length is not.
fn rescue(sizes: &[u64], position: usize, left: u64, allowance: u64) -> Rescue {
    let size = sizes[position];
    if size + allowance <= left {
        return Rescue::CutAgain;
    }
    let later = sizes.iter().enumerate().skip(position + 1);
    let shorter = later.filter(|(_, other)| **other + allowance <= size);
    let mut swaps = shorter.clone().filter(|(_, other)| size <= left + **other);
    // The shortest that will do leaves most for the others.
    if let Some((other, _)) = swaps.next_back() {
        return Rescue::Swap(other + 1);
    }
    match shorter.map(|(other, _)| other).next() {
        Some(other) => Rescue::Short(other + 1),
        None => Rescue::None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_run_from_the_free_end_and_count_every_cut() {
        let piece = |mm: u64| Piece {
            purpose: format!("{mm}"),
            length: length(mm * 1000),
        };
        let demand = Demand::of_nothing();
        let roll = Roll {
            origin: "shelf".to_owned(),
            length: 4_000_000,
            pieces: vec![piece(500), piece(2000), piece(1200)],
        };
        let cut = cuts(&demand, roll, 3000);
        let marks = cut
            .pieces
            .iter()
            .map(|cut| (micrometres(cut.from), micrometres(cut.mark)));
        let marks: Vec<(u64, u64)> = marks.collect();
        let expected = [
            (3_000, 2_003_000),
            (2_006_000, 3_206_000),
            (3_209_000, 3_709_000),
        ];
        assert_eq!(marks, expected);
        assert_eq!(micrometres(cut.left), 291_000);
    }

    #[test]
    fn a_spoilt_piece_is_made_good_where_that_can_be() {
        // 2 m left: both can be cut again.
        assert_eq!(rescue(&[1500, 900], 0, 2000, 3), Rescue::CutAgain);
        // 700 left: the spoilt 1500 serves as the 900, and 1500 fits into 700 and 900.
        assert_eq!(rescue(&[1500, 900], 0, 700, 3), Rescue::Swap(2));
        // 100 left: the spoilt piece serves as the 900, but a new 1500 must be bought.
        assert_eq!(rescue(&[1500, 900], 0, 100, 3), Rescue::Short(2));
        assert_eq!(rescue(&[1500, 900], 1, 100, 3), Rescue::None);
        // Of two that will do, the shorter.
        assert_eq!(rescue(&[1500, 900, 800], 0, 700, 3), Rescue::Swap(3));
    }
}
