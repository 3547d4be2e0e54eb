//! The jobs that the variants of a job give.

use toml::de::DeTable;

use super::file::JobFile;
use super::judged;
use super::model::{Job, Variant};
use super::variant_file::VariantFile;
use crate::catalog::Catalog;
use crate::diagnostic::{Diagnostic, Problem, Span};
use crate::file::{Document, Overlay, Reader, Table};

/// The key under which variants stand.
const VARIANT: &str = "variant";

/// Lays every variant over the job and judges what comes of it like any job. Mistakes that the job
/// has by itself are not told again.
pub fn all(
    document: &Document<'_>,
    given: &[VariantFile],
    catalog: &Catalog,
    mistakes: &mut Vec<Diagnostic>,
) -> Vec<Variant> {
    let tables = document.table.get(VARIANT);
    let tables = tables.and_then(|value| value.get_ref().as_array());
    let tables = tables.into_iter().flatten().map(|table| table.get_ref());
    let mut base = document.table.clone();
    base.remove(VARIANT);
    let own = std::mem::take(mistakes);
    let mut variants = Vec::new();
    for (given, table) in given.iter().zip(tables) {
        let Some(table) = table.as_table() else {
            continue;
        };
        let (job, found) = laid_over(&base, document.start, table, catalog);
        mistakes.extend(
            found
                .into_iter()
                .filter_map(|found| found.of_variant(&own, given)),
        );
        variants.extend(job.map(|job| Variant {
            name: given.name.value.clone(),
            note: given.note.clone(),
            job: Job {
                variant: Some(given.name.value.clone()),
                ..job
            },
        }));
    }
    mistakes.splice(0..0, own);
    variants
}

/// A mistake found in a variant's job.
struct Found {
    mistake: Diagnostic,
    /// Where it would stand if the job had it.
    in_base: Span,
}

impl Found {
    /// The mistake, unless the job has it by itself, with a word on where it arises.
    fn of_variant(self, own: &[Diagnostic], variant: &VariantFile) -> Option<Diagnostic> {
        let known = |known: &Diagnostic| {
            known.problem == self.mistake.problem
                && (known.span == self.in_base || known.span == self.mistake.span)
        };
        let told = own.iter().any(known);
        (!told).then(|| {
            self.mistake
                .with_related(variant.name.span, "in this variant")
        })
    }
}

/// The job that a variant gives, and every mistake in it.
fn laid_over(
    base: &DeTable<'_>,
    start: Span,
    variant: &DeTable<'_>,
    catalog: &Catalog,
) -> (Option<Job>, Vec<Found>) {
    let mut overlay = Overlay::new(start.source);
    let mut upper = variant.clone();
    for key in VariantFile::OWN {
        upper.remove(key);
    }
    if let Some(nested) = upper.remove(VARIANT) {
        let reason = "a variant holds no variants of its own";
        let help = "write it as a variant of the job, with all that it changes";
        let problem = Problem::contradiction_with_help(reason, help);
        let span = Span::new(start.source, nested.span());
        overlay.mistakes.push(Diagnostic::new(problem, span));
    }
    let laid = overlay.table(base, &upper, &JobFile::fields());
    let (job, mut mistakes) = judged(Reader::table(&laid, start), catalog);
    let Overlay {
        mistakes: own,
        moved,
        ..
    } = overlay;
    mistakes.extend(own);
    let found = mistakes.into_iter().map(|mistake| Found {
        in_base: moved.get(&mistake.span).copied().unwrap_or(mistake.span),
        mistake,
    });
    (job, found.collect())
}
