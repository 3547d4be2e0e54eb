//! Figures that stand in where a job does not give its own.

use super::{Basis, Catalog, Cited};
use crate::file::{table, words};
use crate::quantity::Ratio;

words! {
    /// A figure that a job may leave out.
    pub enum Assumption as "an assumption" {
        /// What an alternator gives on the hottest day, in percent of its rated current.
        AlternatorHotOutput = "alternator hot output",
        /// What an alternator gives while the engine idles, in percent of its rated current.
        AlternatorIdleOutput = "alternator idle output",
        /// What a converter gives out, in percent of the power that it takes in.
        ConverterEfficiency = "converter efficiency",
    }
}

table! {
    /// A figure that stands in where a job does not give its own.
    pub struct AssumptionRow as "assumption row" {
        /// What it is.
        word: Assumption,
        /// The figure.
        value: Ratio,
        /// Publication and clause, or the reasoning.
        citation: String,
        /// How far it can be trusted.
        basis: Basis,
    }
}

impl Catalog {
    /// The figure that stands in; the whole, of unknown source, where the catalog does not say.
    pub fn assumed(&self, word: Assumption) -> Cited<Ratio> {
        let row = self.assumptions.iter().find(|row| row.word == word);
        Cited {
            value: row.map_or(Ratio::from_fraction(1.0), |row| row.value),
            citation: row.map_or_else(String::new, |row| row.citation.clone()),
            basis: row.map_or(Basis::CommonPractice, |row| row.basis),
        }
    }
}
