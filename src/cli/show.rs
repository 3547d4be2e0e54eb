//! `show`: prints one document.

use super::arguments::{DocumentName, FormName, ShowOptions};
use super::check::outcome;
use super::error::CommandError;
use super::input::{self, Loaded};
use super::pack::Pack;
use super::{Outcome, circuit, output};
use crate::documents::Form;
use crate::plan::Extras;

/// Runs the command.
pub fn run(options: &ShowOptions) -> Result<Outcome, CommandError> {
    let form = options.form.unwrap_or(match options.document {
        DocumentName::Plan => FormName::Json,
        DocumentName::Circuit => FormName::Spice,
        _ => FormName::Text,
    });
    if options.state.is_some() && form != FormName::Spice {
        let text = "error: --state goes with `show circuit --as spice` alone";
        return Err(CommandError::Usage(text.to_owned()));
    }
    if options.shorts && options.document != DocumentName::Circuit {
        let text = "error: --shorts goes with `show circuit` alone";
        return Err(CommandError::Usage(text.to_owned()));
    }
    let quotes = [DocumentName::Quote, DocumentName::Costing];
    if options.quote.is_given() && !quotes.contains(&options.document) {
        let text = "error: --number, --date and --beside go with `show quote` and `show costing`";
        return Err(CommandError::Usage(text.to_owned()));
    }
    let request = options.quote.request()?;
    let loaded = input::load(&options.files)?;
    let plan = loaded.plan(extras(options.document, &loaded));
    let beside = options.quote.planned_beside(&loaded)?;
    let pack = Pack::of(&loaded, &plan).quoting(request, beside);
    let bytes = match (options.document, form) {
        (DocumentName::Circuit, FormName::Spice) if options.shorts => {
            circuit::with_shorts(&pack)?.into_bytes()
        }
        (DocumentName::Circuit, FormName::Spice) => {
            circuit::states(&pack, options.state.as_deref())?.into_bytes()
        }
        (DocumentName::Circuit, FormName::Json) if options.shorts => {
            circuit::with_shorts_as_json(&pack)?.into_bytes()
        }
        (document, form) => {
            let text = Form::Text {
                width: output::width(options.width),
                colour: output::colour(),
            };
            pack.in_form(document, form, text, options.paper.into())?
        }
    };
    output::print(&bytes)?;
    Ok(outcome(pack.status()))
}

/// What the plan must tell for a document; a workshop's own template may tell of everything.
fn extras(document: DocumentName, loaded: &Loaded) -> Extras {
    match document {
        _ if loaded.documents.has_own() => Extras::ALL,
        DocumentName::Plan => Extras::ALL,
        DocumentName::Bill | DocumentName::Shopping => Extras::WAYS,
        DocumentName::Spares => Extras::SPARES,
        DocumentName::Readings => Extras::READINGS,
        _ => Extras::NONE,
    }
}
