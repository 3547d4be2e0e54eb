//! Whether pieces can be cut from given lengths, and how.

use super::Work;

/// Steps of one search at most; beyond them the answer stays open.
const MOST_STEPS: u64 = 20_000;

/// Answer to whether pieces fit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Fits {
    /// They do.
    Yes,
    /// They do not.
    No,
    /// Not known: the search was cut short.
    Open,
}

/// For each piece, given long ones first, the length that it is cut from; `None` where there is no
/// way or none was found.
pub(in super::super) fn packed(pieces: &[u64], lengths: &[u64]) -> Option<Vec<usize>> {
    search(pieces, lengths, &mut Work::new(u64::MAX)).1
}

/// Whether the pieces, given long ones first, can be cut from the lengths.
pub(super) fn fits(pieces: &[u64], lengths: &[u64], work: &mut Work) -> Fits {
    search(pieces, lengths, work).0
}

fn search(pieces: &[u64], lengths: &[u64], work: &mut Work) -> (Fits, Option<Vec<usize>>) {
    let sum = |all: &[u64]| all.iter().fold(0, |sum: u64, one| sum.saturating_add(*one));
    if sum(pieces) > sum(lengths) {
        return (Fits::No, None);
    }
    if let Some(places) = best_fit(pieces, lengths) {
        return (Fits::Yes, Some(places));
    }
    let mut packing = Packing {
        pieces,
        rest: rests(pieces),
        left: lengths.to_vec(),
        places: Vec::new(),
        steps: MOST_STEPS,
    };
    let found = packing.place();
    work.spend(MOST_STEPS - packing.steps);
    match found {
        true => (Fits::Yes, Some(packing.places)),
        false if packing.steps == 0 => (Fits::Open, None),
        false => (Fits::No, None),
    }
}

/// Each piece goes where it leaves least; of equals the first wins.
fn best_fit(pieces: &[u64], lengths: &[u64]) -> Option<Vec<usize>> {
    let mut left = lengths.to_vec();
    let place = |piece: &u64| {
        let fitting = (0..left.len()).filter(|place| left[*place] >= *piece);
        let place = fitting.min_by_key(|place| left[*place])?;
        left[place] -= piece;
        Some(place)
    };
    pieces.iter().map(place).collect()
}

/// Length of all pieces from each position on.
fn rests(pieces: &[u64]) -> Vec<u64> {
    let mut rests = vec![0; pieces.len() + 1];
    for (position, piece) in pieces.iter().enumerate().rev() {
        rests[position] = rests[position + 1] + piece;
    }
    rests
}

struct Packing<'a> {
    pieces: &'a [u64],
    rest: Vec<u64>,
    left: Vec<u64>,
    places: Vec<usize>,
    steps: u64,
}

impl Packing<'_> {
    /// Places the pieces that wait, the longest first.
    fn place(&mut self) -> bool {
        let next = self.places.len();
        let Some(piece) = self.pieces.get(next).copied() else {
            return true;
        };
        if self.steps == 0 || self.usable() < self.rest[next] {
            return false;
        }
        self.steps -= 1;
        let mut tried: Vec<u64> = Vec::new();
        // Equal pieces go to places in rising order: any other order is the same cut.
        let equal = next > 0 && self.pieces[next - 1] == piece;
        let start = if equal { self.places[next - 1] } else { 0 };
        for place in start..self.left.len() {
            let left = self.left[place];
            if left < piece || tried.contains(&left) {
                continue;
            }
            tried.push(left);
            self.left[place] -= piece;
            self.places.push(place);
            if self.place() {
                return true;
            }
            self.places.pop();
            self.left[place] += piece;
            // A place that the piece fills to the end is as good as any.
            if left == piece {
                return false;
            }
        }
        false
    }

    /// Length in places that the shortest piece fits at all.
    fn usable(&self) -> u64 {
        let shortest = self.pieces.last().copied().unwrap_or(0);
        let usable = self.left.iter().filter(|left| **left >= shortest);
        usable.fold(0, |sum: u64, left| sum.saturating_add(*left))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pieces_that_only_one_arrangement_fits_are_found() {
        // Best fit puts 5 and 4 together and cannot end; 5 + 3 + 2 and 4 + 4 + 2 fill both.
        let pieces = [5, 4, 4, 3, 2, 2];
        assert_eq!(best_fit(&pieces, &[10, 10]), None);
        let places = packed(&pieces, &[10, 10]).unwrap_or_default();
        let sum = |bin: usize| {
            let mine = pieces
                .iter()
                .zip(&places)
                .filter(|(_, place)| **place == bin);
            mine.map(|(piece, _)| piece).sum::<u64>()
        };
        assert_eq!((sum(0), sum(1)), (10, 10));
    }

    #[test]
    fn pieces_that_fit_by_their_sum_alone_do_not_fit() {
        assert_eq!(fits(&[6, 6, 6], &[10, 10], &mut Work::new(100)), Fits::No);
        assert_eq!(
            fits(&[6, 4, 6, 4], &[10, 10], &mut Work::new(100)),
            Fits::Yes
        );
    }
}
