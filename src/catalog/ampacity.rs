//! Allowed currents, read from a table with its notes.

use super::AmpacityTable;
use crate::quantity::{Area, ConductorSize, Current, Temperature};

/// An allowed current and how it comes about.
#[derive(Debug, Clone, PartialEq)]
pub struct Allowed {
    /// The allowed current.
    pub current: Current,
    /// Each factor in words.
    pub terms: Vec<String>,
}

/// What a conductor meets on its way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Surroundings {
    /// Hottest air.
    pub ambient: Temperature,
    /// Whether any of it is an engine space.
    pub engine_space: bool,
    /// Current-carrying conductors together, itself included.
    pub bundled: usize,
}

impl AmpacityTable {
    /// The current that a copper conductor may carry; `None` when its insulation's rating is below
    /// the lowest of the table or not above the ambient.
    pub fn allowed(
        &self,
        size: ConductorSize,
        rating: Temperature,
        around: Surroundings,
    ) -> Option<Allowed> {
        let column = self.ratings.iter().rposition(|listed| *listed <= rating)?;
        let listed = *self.ratings.get(column)?;
        if around.ambient >= rating {
            return None;
        }
        let (base, how) = self.base(size, column)?;
        let mut terms = vec![format!(
            "{:.0} A for {size} at {:.0} °C ({}{how})",
            base.a(),
            listed.c(),
            self.citation
        )];
        let heat = self.heat_factor(column, listed, rating, around);
        if heat < 1.0 {
            let why = if around.engine_space {
                "engine space"
            } else {
                "surroundings"
            };
            terms.push(format!(
                "× {heat:.3} for {why} at {:.0} °C",
                around.ambient.c()
            ));
        }
        let bundle = self.bundle_factor(around.bundled);
        if bundle < 1.0 {
            terms.push(format!(
                "× {bundle:.2} for {} conductors together",
                around.bundled
            ));
        }
        Some(Allowed {
            current: base * (heat * bundle),
            terms,
        })
    }

    /// The table's own figure, and how it was read; between two rows by the logarithms of area and
    /// current, below the first row in proportion to the area.
    fn base(&self, size: ConductorSize, column: usize) -> Option<(Current, String)> {
        let current = |row: &super::AmpacityRow| row.currents.get(column).copied();
        if let Some(row) = self.row.iter().find(|row| row.size == size) {
            return Some((current(row)?, String::new()));
        }
        let area = size.nominal_area();
        let above = self.row.iter().find(|row| row.size.nominal_area() > area);
        let below = self.row.iter().rfind(|row| row.size.nominal_area() < area);
        match (below, above) {
            (Some(below), Some(above)) => {
                let (low, high) = (below.size.nominal_area(), above.size.nominal_area());
                let part = (area / low).ln() / (high / low).ln();
                let how = format!(", between {} and {}", below.size, above.size);
                let (low, high) = (current(below)?, current(above)?);
                Some((low * (high / low).powf(part), how))
            }
            (None, Some(above)) => {
                let how = format!(", by its area from {}", above.size);
                Some((
                    scaled(current(above)?, area, above.size.nominal_area()),
                    how,
                ))
            }
            // Above the last row the table says nothing: its last row is the safe reading.
            (Some(below), None) => Some((current(below)?, format!(", as {}", below.size))),
            (None, None) => None,
        }
    }

    /// Note on engine spaces, and for any other heat the square-root law that the note itself
    /// follows: the part of the temperature rise that is left.
    fn heat_factor(
        &self,
        column: usize,
        listed: Temperature,
        rating: Temperature,
        around: Surroundings,
    ) -> f64 {
        let note = self
            .engine_factors
            .get(column)
            .map_or(1.0, |factor| factor.fraction());
        let room = rating.min(listed).c();
        let left = (room - around.ambient.c()) / (room - self.ambient.c());
        let law = left.max(0.0).sqrt().min(1.0);
        if !around.engine_space {
            return law;
        }
        if around.ambient > self.engine_ambient {
            law.min(note)
        } else {
            note
        }
    }

    /// What remains of a conductor's current among so many together.
    pub fn bundle_factor(&self, bundled: usize) -> f64 {
        self.bundle
            .iter()
            .rfind(|row| row.from as usize <= bundled)
            .map_or(1.0, |row| row.factor.fraction())
    }
}

fn scaled(current: Current, area: Area, listed: Area) -> Current {
    current * (area / listed)
}
