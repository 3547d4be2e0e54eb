//! The choice of one part among many, or the nearest misses.

use std::cmp::Ordering;

use super::NearMiss;
use crate::catalog::Part;
use crate::check::HAIR;

/// How many misses are worth telling.
const NEAREST: usize = 3;

/// What stands against a part, and by how much.
#[derive(Debug, Default)]
pub(super) struct Lacks {
    reasons: Vec<String>,
    /// Sum of the logarithms of how many times each figure is off.
    off: f64,
}

impl Lacks {
    /// Adds a reason unless the condition holds.
    pub fn unless(&mut self, holds: bool, reason: impl FnOnce() -> String) {
        if !holds {
            self.reasons.push(reason());
        }
    }

    /// Adds a reason if what the part has falls short of what is needed.
    pub fn at_least(&mut self, has: f64, needs: f64, reason: impl FnOnce() -> String) {
        self.compare(has >= needs * (1.0 - HAIR), has, needs, reason);
    }

    /// Adds a reason if what the part has exceeds what is needed.
    pub fn at_most(&mut self, has: f64, needs: f64, reason: impl FnOnce() -> String) {
        self.compare(has <= needs * (1.0 + HAIR), has, needs, reason);
    }

    /// Adds a reason and the distance of two figures, unless the condition holds.
    pub fn compare(&mut self, holds: bool, has: f64, needs: f64, reason: impl FnOnce() -> String) {
        self.unless(holds, reason);
        if !holds && has > 0.0 && needs > 0.0 {
            self.off += (needs / has).ln().abs();
        }
    }

    /// Adds reasons found elsewhere, and how far off they are.
    pub fn extend(&mut self, reasons: Vec<String>, off: f64) {
        self.reasons.extend(reasons);
        self.off += off;
    }

    fn nearer(&self, other: &Self) -> Ordering {
        let by_reasons = self.reasons.len().cmp(&other.reasons.len());
        by_reasons.then(self.off.total_cmp(&other.off))
    }
}

/// The part that lacks nothing and ranks lowest, preferred ones before all others; ties go to the
/// first id.
///
/// # Errors
/// The parts that lack least, when every one lacks something.
pub(super) fn choose<T: Part, const RANKS: usize>(
    rows: &[T],
    lacks: impl Fn(&T) -> Lacks,
    rank: impl Fn(&T) -> [f64; RANKS],
) -> Result<&T, Vec<NearMiss>> {
    let mut judged: Vec<(Lacks, [f64; RANKS], &T)> = rows
        .iter()
        .map(|row| (lacks(row), rank(row), row))
        .collect();
    judged.sort_by(|a, b| {
        let ranks = a.1.iter().zip(&b.1).map(|(a, b)| a.total_cmp(b));
        let by_rank = ranks.fold(Ordering::Equal, Ordering::then);
        let nearer = a.0.nearer(&b.0);
        let preferred = b.2.preferred().cmp(&a.2.preferred());
        nearer
            .then(preferred)
            .then(by_rank)
            .then_with(|| a.2.id().cmp(b.2.id()))
    });
    match judged.first() {
        Some((lacks, _, row)) if lacks.reasons.is_empty() => Ok(row),
        _ => Err(judged
            .into_iter()
            .take(NEAREST)
            .map(|(lacks, _, row)| NearMiss {
                part: row.id().to_owned(),
                lacks: lacks.reasons,
            })
            .collect()),
    }
}

/// The nearest miss in one phrase, for the note of a check.
pub(super) fn in_words(nearest: &[NearMiss]) -> String {
    let Some(first) = nearest.first() else {
        return "the catalog holds none of the kind".to_owned();
    };
    format!("nearest is `{}`: {}", first.part, first.lacks.join("; "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::Fastener;
    use crate::diagnostic::{Sources, Spanned};
    use crate::quantity::{Length, Thread};

    fn bolts(lengths_mm: &[f64]) -> Vec<Fastener> {
        let span = crate::diagnostic::Span::new(Sources::default().add("test", ""), 0..0);
        let bolt = |length: &f64| Fastener {
            id: Spanned {
                value: format!("bolt-{length}"),
                span,
            },
            description: "bolt".to_owned(),
            source: "invented".to_owned(),
            mass: None,
            preferred: false,
            kind: crate::catalog::FastenerKind::Bolt,
            thread: Thread::M8,
            length: Some(Length::from_mm(*length)),
            across_flats: None,
            hole: None,
            span,
        };
        lengths_mm.iter().map(bolt).collect()
    }

    fn at_least(needs: f64) -> impl Fn(&Fastener) -> Lacks {
        move |row| {
            let mut lacks = Lacks::default();
            let has = row.length.map_or(0.0, Length::mm);
            lacks.at_least(has, needs, || format!("{has} is less than {needs}"));
            lacks
        }
    }

    fn by_length(row: &Fastener) -> [f64; 1] {
        [row.length.map_or(0.0, Length::mm)]
    }

    #[test]
    fn the_smallest_that_suffices_is_chosen() {
        let rows = bolts(&[40.0, 20.0, 30.0]);
        let chosen = choose(&rows, at_least(25.0), by_length).map(|row| row.id.value.clone());
        assert_eq!(chosen, Ok("bolt-30".to_owned()));
    }

    #[test]
    fn a_preferred_one_goes_before_smaller_ones_but_not_before_what_fits() {
        let mut rows = bolts(&[20.0, 30.0, 40.0]);
        rows[0].preferred = true;
        rows[2].preferred = true;
        let chosen = choose(&rows, at_least(25.0), by_length).map(|row| row.id.value.clone());
        assert_eq!(chosen, Ok("bolt-40".to_owned()));
    }

    #[test]
    fn the_nearest_misses_come_nearest_first() {
        let rows = bolts(&[10.0, 20.0, 30.0, 40.0]);
        let nearest = choose(&rows, at_least(50.0), by_length)
            .err()
            .unwrap_or_default();
        let ids: Vec<&str> = nearest.iter().map(|miss| miss.part.as_str()).collect();
        assert_eq!(ids, ["bolt-40", "bolt-30", "bolt-20"]);
        assert_eq!(nearest[0].lacks, ["40 is less than 50"]);
    }

    #[test]
    fn an_empty_catalog_misses_by_nothing() {
        let rows: Vec<Fastener> = Vec::new();
        let nearest = choose(&rows, at_least(1.0), by_length)
            .err()
            .unwrap_or_default();
        assert!(nearest.is_empty());
        assert_eq!(in_words(&nearest), "the catalog holds none of the kind");
    }
}
