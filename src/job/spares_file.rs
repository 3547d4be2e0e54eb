//! What the spares kit of a job may be, as written.

use super::file::Name;
use super::words::Access;
use crate::catalog::{Catalog, FailingPart};
use crate::diagnostic::{Diagnostic, Problem, Subject};
use crate::file::table;
use crate::quantity::{Mass, Money, Volume};

table! {
    /// The roadside spares kit. What is left out comes from the catalog's `kit` row, which is judgement.
    pub struct SparesFile as "spares" {
        /// Largest mass of the kit.
        mass: Option<Mass>,
        /// Room in its box.
        volume: Option<Volume>,
        /// Most that may be spent on it, tax included, in the currency of the job.
        money: Option<Money>,
        /// Worst access that counts as within reach at the roadside.
        access: Option<Access>,
        /// Whether tools that the workshop owns go into the box and cost nothing.
        own_tools: bool = "true",
        /// Weights of failures that take the place of the catalog's.
        weight: Vec<WeightFile>,
    }
}

table! {
    /// How often a failure happens against the others. The row that names a failure wins over one that names a kind of part.
    pub struct WeightFile as "failure weight" {
        /// Name of a failure of the catalog.
        failure: Option<Name>,
        /// Kind of part, for all its failures.
        of: Option<FailingPart>,
        /// The weight; 0 where it need not be guarded against.
        weight: u32,
    }
}

/// Weights that name no failure, or one that is not known.
pub(super) fn mistakes(spares: &SparesFile, catalog: &Catalog) -> Vec<Diagnostic> {
    let known = || catalog.failures.iter().map(|row| row.name.as_str());
    let wrong = spares.weight.iter().filter_map(|row| match &row.failure {
        None if row.of.is_none() => {
            let reason = "this weight says neither which failure nor which kind of part it is for";
            let help = "give `failure` or `of`";
            let problem = Problem::contradiction_with_help(reason, help);
            Some(Diagnostic::new(problem, row.span))
        }
        // A blank name takes the place of one that was reported already.
        Some(name) if !name.value.is_empty() && !known().any(|other| other == name.value) => {
            let problem = Problem::unknown_name(Subject::Failure, &name.value, known());
            Some(Diagnostic::new(problem, name.span))
        }
        _ => None,
    });
    wrong.collect()
}

impl SparesFile {
    /// The weight that the job gives a failure; `None` where the catalog's own holds.
    pub fn weight_of(&self, failure: &str, of: FailingPart) -> Option<u32> {
        let named = |row: &&WeightFile| {
            row.failure
                .as_ref()
                .is_some_and(|name| name.value == failure)
        };
        let kind = |row: &&WeightFile| row.failure.is_none() && row.of == Some(of);
        let rows = || self.weight.iter();
        let row = rows().find(named).or_else(|| rows().find(kind));
        row.map(|row| row.weight)
    }
}
