//! Documents: one model, several forms.
//!
//! A document starts as a Markdown template. [`template`] fills it in with a
//! view, [`escape`] keeping every text from outside harmless on the way. The
//! filled-in Markdown is a form in its own right; for the others [`markdown`]
//! reads it into the model in [`block`], from which [`terminal`], [`html`] and
//! [`pdf`] write. They share the breaking of lines (`wrap`, `quantity`) and the
//! sharing out of table widths (`columns`), and compute nothing: what a document says was
//! settled before it got here. Rows for a spreadsheet go through [`csv`] instead.

pub mod block;
mod columns;
pub mod csv;
pub mod escape;
pub mod html;
pub mod json;
pub mod markdown;
pub mod pdf;
mod quantity;
pub mod quote_rows;
pub mod record_form;
pub mod rows;
#[cfg(test)]
mod samples;
pub mod template;
pub mod terminal;
pub mod view;
mod wrap;

use crate::drawings::Drawing;
use block::Document;
use pdf::{PaperSize, PdfError};
use serde::Serialize;
use std::fmt;
use std::sync::Arc;
use template::{TemplateError, Templates};

/// What a document is written as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// Text for a terminal.
    Text {
        /// The width of the terminal in character cells.
        width: usize,
        /// Whether to use terminal colours.
        colour: bool,
    },
    /// The Markdown the template gives.
    Markdown,
    /// A page for a browser.
    Html,
    /// Pages for print.
    Pdf(PaperSize),
}

/// What stands at the head and the foot of every page besides the document's title.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    /// The title of the job.
    pub job: String,
    /// How far the document can be relied on, such as "Draft, not checked".
    pub status: String,
    /// What the workshop has on every page.
    pub stationery: Stationery,
}

/// What a workshop has on every page of every document.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Stationery {
    /// At the head.
    pub header: Option<String>,
    /// At the foot.
    pub footer: Option<String>,
}

impl Label {
    /// A label for a job and its status.
    pub fn new(job: impl Into<String>, status: impl Into<String>) -> Self {
        Self {
            job: job.into(),
            status: status.into(),
            stationery: Stationery::default(),
        }
    }

    /// The same on the pages of a workshop.
    pub fn on(self, stationery: &Stationery) -> Self {
        Self {
            stationery: stationery.clone(),
            ..self
        }
    }
}

/// A document could not be written.
#[derive(Debug)]
pub enum DocumentError {
    /// Its template could not be filled in.
    Template(TemplateError),
    /// It could not be made ready for print.
    Pdf(PdfError),
}

impl fmt::Display for DocumentError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Template(cause) => cause.fmt(formatter),
            Self::Pdf(cause) => cause.fmt(formatter),
        }
    }
}

impl std::error::Error for DocumentError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Template(cause) => Some(cause),
            Self::Pdf(cause) => Some(cause),
        }
    }
}

impl From<TemplateError> for DocumentError {
    fn from(cause: TemplateError) -> Self {
        Self::Template(cause)
    }
}

impl From<PdfError> for DocumentError {
    fn from(cause: PdfError) -> Self {
        Self::Pdf(cause)
    }
}

/// Fills in the template `name` with a view and writes the result in a form.
///
/// A paragraph that is a picture of the name of one of the drawings becomes that drawing.
///
/// All forms but the print one are UTF-8 text.
pub fn write(
    name: &str,
    title: &str,
    view: &impl Serialize,
    drawings: &[Arc<Drawing>],
    label: &Label,
    form: Form,
) -> Result<Vec<u8>, DocumentError> {
    write_by(
        &Templates::embedded()?,
        (name, title),
        view,
        drawings,
        label,
        form,
    )
}

/// The same by templates of one's own; the name is followed by the title.
pub fn write_by(
    templates: &Templates,
    (name, title): (&str, &str),
    view: &impl Serialize,
    drawings: &[Arc<Drawing>],
    label: &Label,
    form: Form,
) -> Result<Vec<u8>, DocumentError> {
    let filled = templates.render(name, view)?;
    written(&filled, title, drawings, label, form)
}

/// Fills in a template and reads what comes of it; the name is followed by the title.
pub fn read_by(
    templates: &Templates,
    (name, title): (&str, &str),
    view: &impl Serialize,
    drawings: &[Arc<Drawing>],
) -> Result<Document, DocumentError> {
    let filled = templates.render(name, view)?;
    Ok(markdown::parse_illustrated(title, &filled, drawings))
}

/// Writes filled-in Markdown in a form.
fn written(
    filled: &str,
    title: &str,
    drawings: &[Arc<Drawing>],
    label: &Label,
    form: Form,
) -> Result<Vec<u8>, DocumentError> {
    let document = markdown::parse_illustrated(title, filled, drawings);
    Ok(match form {
        Form::Text { width, colour } => terminal::write(&document, width, colour).into_bytes(),
        Form::Markdown => filled.as_bytes().to_vec(),
        Form::Html => html::write(&document, label).into_bytes(),
        Form::Pdf(paper) => pdf::write(&document, label, paper)?,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use super::*;

    #[test]
    fn every_form_starts_as_it_should() {
        let text = Form::Text {
            width: 80,
            colour: false,
        };
        let forms = [
            (text, "Cut list\n════════\n"),
            (Form::Markdown, "# Cut list\n"),
            (Form::Html, "<!DOCTYPE html>\n"),
            (Form::Pdf(PaperSize::Letter), "%PDF-1."),
        ];
        let label = Label::new("Van", "Draft");
        for (form, start) in forms {
            let bytes = written("# Cut list\n\nText.\n", "Cut list", &[], &label, form).unwrap();
            assert!(bytes.starts_with(start.as_bytes()), "{form:?}");
        }
    }

    #[test]
    fn an_unknown_document_is_named_in_the_error() {
        let label = Label::new("Van", "Draft");
        let error = write("cut_lisst", "Cut list", &(), &[], &label, Form::Html).unwrap_err();
        assert_eq!(error.to_string(), "there is no document named `cut_lisst`");
    }
}
