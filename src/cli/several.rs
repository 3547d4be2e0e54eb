//! Documents of several plans, and of what became of one.

use serde::Serialize;

use super::arguments::{FormName, Printing};
use super::error::CommandError;
use super::output;
use super::templates::{DocumentTemplates, names_of};
use crate::documents::{self, Form, Label};

/// What a document is called.
pub struct DocumentTitle<'a> {
    /// Name of its template.
    pub template: &'a str,
    /// Its title.
    pub title: &'a str,
    /// The job.
    pub job: &'a str,
    /// How far it can be relied on.
    pub standing: &'a str,
}

/// What stands at the head of a document of several plans.
pub const SEVERAL_PLANS: &str = "Several plans; each says whether it is ready";

/// A document in the form asked for, which must not be rows; `forms` names those that there are.
pub fn written(
    title: &DocumentTitle<'_>,
    templates: &DocumentTemplates,
    view: &impl Serialize,
    printing: &Printing,
    forms: &str,
) -> Result<Vec<u8>, CommandError> {
    let form = match printing.form {
        FormName::Json => return Ok(output::json(view)?.into_bytes()),
        FormName::Text => Form::Text {
            width: output::width(printing.width),
            colour: output::colour(),
        },
        FormName::Md => Form::Markdown,
        FormName::Html => Form::Html,
        FormName::Pdf => Form::Pdf(printing.paper.into()),
        FormName::Csv | FormName::Spice => {
            return Err(CommandError::Usage(format!(
                "error: there is no {} in this form; its forms are: {forms}",
                title.title.to_lowercase()
            )));
        }
    };
    let label = Label::new(title.job, title.standing).on(&templates.stationery);
    let document = (title.template, title.title);
    documents::write_by(&templates.all, document, view, &[], &label, form)
        .map_err(|error| templates.failed(&error, &names_of(view)))
}
