//! What the job takes of each part and colour in all.

use std::collections::BTreeMap;

use super::Piece;
use super::measure::{metres, micrometres, pieces};
use crate::catalog::{Catalog, Colour, PartKind};
use crate::fittings::{Amount, Need};

/// All that the job takes of one part in one colour.
#[derive(Debug, Clone)]
pub(super) struct Demand {
    /// Id of the part.
    pub part: String,
    /// Its kind.
    pub kind: PartKind,
    /// Colour, for parts sold in colours.
    pub colour: Option<Colour>,
    /// One line on it, colour included.
    pub description: String,
    /// Pieces still to be had.
    pub pieces: u32,
    /// Unbroken lengths still to be had, long ones first.
    pub cuts: Vec<Piece>,
}

impl Demand {
    /// Nothing, for tests.
    #[cfg(test)]
    pub(super) fn of_nothing() -> Self {
        Self {
            part: "cable".to_owned(),
            kind: PartKind::Cable,
            colour: None,
            description: "Cable".to_owned(),
            pieces: 0,
            cuts: Vec::new(),
        }
    }

    /// Whether nothing is wanted any more.
    pub(super) fn is_met(&self) -> bool {
        self.pieces == 0 && self.cuts.is_empty()
    }

    /// What is still wanted, in words.
    pub(super) fn in_words(&self) -> String {
        let counted = (self.pieces > 0).then(|| pieces(self.pieces));
        let cut = (!self.cuts.is_empty()).then(|| lengths_in_words(&self.cuts));
        let both: Vec<String> = counted.into_iter().chain(cut).collect();
        both.join(" and ")
    }
}

/// Lengths in words: `3.2 m in 2 pieces`.
pub(super) fn lengths_in_words(cuts: &[Piece]) -> String {
    let count = u32::try_from(cuts.len()).unwrap_or(u32::MAX);
    format!("{} m in {}", metres(total(cuts)), pieces(count))
}

/// Micrometres of all pieces together.
pub(super) fn total(cuts: &[Piece]) -> u64 {
    let lengths = cuts.iter().map(|piece| micrometres(piece.length));
    lengths.fold(0, u64::saturating_add)
}

/// Sums the needs, by kind and then description.
pub(super) fn collect(needs: &[Need], catalog: &Catalog) -> Vec<Demand> {
    let mut by_part: BTreeMap<(&str, Option<Colour>), Demand> = BTreeMap::new();
    for need in needs {
        let key = (need.part.as_str(), need.colour);
        let demand = by_part.entry(key).or_insert_with(|| empty(need, catalog));
        match need.amount {
            Amount::Pieces(count) => demand.pieces = demand.pieces.saturating_add(count),
            Amount::Length(length) if micrometres(length) > 0 => demand.cuts.push(Piece {
                purpose: need.purpose.clone(),
                length,
            }),
            Amount::Length(_) => {}
        }
    }
    let all = by_part.into_values();
    let mut demands: Vec<Demand> = all.filter(|demand| !demand.is_met()).collect();
    for demand in &mut demands {
        // The sort is stable: equal lengths stay in the order of the needs.
        demand.cuts.sort_by(|a, b| b.length.total_cmp(&a.length));
    }
    demands.sort_by(|a, b| (a.kind, &a.description).cmp(&(b.kind, &b.description)));
    demands
}

fn empty(need: &Need, catalog: &Catalog) -> Demand {
    let part = catalog.part(&need.part);
    let description = part.map_or(need.part.as_str(), |part| part.description());
    Demand {
        part: need.part.clone(),
        kind: part.map_or(need.kind, |part| part.kind()),
        colour: need.colour,
        description: described(description, need.colour),
        pieces: 0,
        cuts: Vec::new(),
    }
}

fn described(description: &str, colour: Option<Colour>) -> String {
    let Some(colour) = colour else {
        return description.to_owned();
    };
    let mut words = description.split(|c: char| !c.is_alphanumeric());
    if words.any(|word| word.eq_ignore_ascii_case(colour.as_str())) {
        return description.to_owned();
    }
    format!("{description}, {colour}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_colour_is_named_once() {
        let red = Some(Colour::Red);
        assert_eq!(described("Cable 25 mm²", red), "Cable 25 mm², red");
        assert_eq!(described("Red boot", red), "Red boot");
        assert_eq!(described("Covered boot", red), "Covered boot, red");
        assert_eq!(described("Covered boot", None), "Covered boot");
    }
}
