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
    count: usize,
    /// The reasons in words, where they are wanted: most parts lack something for most places, and
    /// nobody reads what.
    told: Option<Vec<String>>,
    /// Sum of the logarithms of how many times each figure is off.
    off: f64,
}

impl Lacks {
    fn telling() -> Self {
        Self {
            told: Some(Vec::new()),
            ..Self::default()
        }
    }

    /// Adds a reason unless the condition holds.
    pub fn unless(&mut self, holds: bool, reason: impl FnOnce() -> String) {
        if !holds {
            self.count += 1;
            if let Some(told) = &mut self.told {
                told.push(reason());
            }
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
    pub fn extend<T: ToString>(&mut self, reasons: impl IntoIterator<Item = T>, off: f64) {
        for reason in reasons {
            self.unless(false, || reason.to_string());
        }
        self.off += off;
    }

    fn nearer(&self, other: &Self) -> Ordering {
        let by_reasons = self.count.cmp(&other.count);
        by_reasons.then(self.off.total_cmp(&other.off))
    }
}

/// The part that lacks nothing and ranks lowest, preferred ones before all others; ties go to the
/// first id. What a part lacks is noted by `judge`.
///
/// # Errors
/// The parts that lack least, when every one lacks something.
pub(super) fn choose<T: Part, const RANKS: usize>(
    rows: &[T],
    judge: impl Fn(&T, &mut Lacks),
    rank: impl Fn(&T) -> [f64; RANKS],
) -> Result<&T, Vec<NearMiss>> {
    let judged = |row| {
        let mut lacks = Lacks::default();
        judge(row, &mut lacks);
        (lacks, rank(row), row)
    };
    let mut judged: Vec<(Lacks, [f64; RANKS], &T)> = rows.iter().map(judged).collect();
    match judged.iter().min_by(|a, b| better(a, b)) {
        Some((lacks, _, row)) if lacks.count == 0 => return Ok(row),
        _ => judged.sort_by(better),
    }
    let nearest = judged.into_iter().take(NEAREST);
    Err(nearest.map(|(_, _, row)| miss(row, &judge)).collect())
}

/// Which of two judged parts comes first.
fn better<T: Part, const RANKS: usize>(
    a: &(Lacks, [f64; RANKS], &T),
    b: &(Lacks, [f64; RANKS], &T),
) -> Ordering {
    let ranks = a.1.iter().zip(&b.1).map(|(a, b)| a.total_cmp(b));
    let by_rank = ranks.fold(Ordering::Equal, Ordering::then);
    let preferred = b.2.preferred().cmp(&a.2.preferred());
    let nearer = a.0.nearer(&b.0).then(preferred).then(by_rank);
    nearer.then_with(|| a.2.id().cmp(b.2.id()))
}

/// A part that does not fit, with the reasons.
fn miss<T: Part>(row: &T, judge: impl Fn(&T, &mut Lacks)) -> NearMiss {
    let mut lacks = Lacks::telling();
    judge(row, &mut lacks);
    NearMiss {
        part: row.id().to_owned(),
        lacks: lacks.told.unwrap_or_default(),
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

    fn at_least(needs: f64) -> impl Fn(&Fastener, &mut Lacks) {
        move |row, lacks| {
            let has = row.length.map_or(0.0, Length::mm);
            lacks.at_least(has, needs, || format!("{has} is less than {needs}"));
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
