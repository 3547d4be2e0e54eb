//! `reference`: prints every key of a file.

use super::arguments::{FileKind, ReferenceOptions};
use super::error::CommandError;
use super::{Outcome, output};
use crate::catalog::CatalogFile;
use crate::documents::{markdown, terminal};
use crate::file::reference;
use crate::job::JobFile;
use crate::record::RecordFile;
use crate::shop::ShopFile;

/// Runs the command.
pub fn run(options: &ReferenceOptions) -> Result<Outcome, CommandError> {
    let (title, text) = match options.file {
        FileKind::Job => ("Job file", reference::<JobFile>("Job file")),
        FileKind::Shop => ("Shop file", reference::<ShopFile>("Shop file")),
        FileKind::Record => ("Record file", reference::<RecordFile>("Record file")),
        FileKind::Catalog => ("Catalog file", reference::<CatalogFile>("Catalog file")),
    };
    let document = markdown::parse(title, &text);
    let shown = terminal::write(&document, output::width(None), output::colour());
    output::print(shown.as_bytes())?;
    Ok(Outcome::Done)
}
