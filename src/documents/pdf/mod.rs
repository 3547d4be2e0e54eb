//! Writes a document for print.
//!
//! The work is done in four steps, each in files of its own: the blocks become
//! pieces that stay together (`compose`, `table`), the pieces fill pages
//! (`flow`, `layout`), the pages become drawing operations (`paint`), and those a
//! file with its fonts (`subset`) and bookmarks (`outline`). Up to the drawing
//! nothing knows of the file format, so the layout can be checked by itself.
//!
//! The same document always gives the same bytes.

mod compose;
mod compress;
mod face;
mod figure;
mod flow;
mod layout;
mod outline;
mod page;
mod paint;
mod subset;
mod table;
#[cfg(test)]
mod tests;

use super::Label;
use super::block::Document;
use face::Faces;
use page::Pages;
use printpdf::{PdfDocument, PdfFont, PdfSaveOptions};
use std::fmt;

/// The paper a document is printed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum PaperSize {
    /// 210 mm by 297 mm.
    #[default]
    A4,
    /// 8.5 inches by 11 inches.
    Letter,
}

impl PaperSize {
    /// The width and the height in points.
    fn points(self) -> (f32, f32) {
        match self {
            PaperSize::A4 => (595.276, 841.89),
            PaperSize::Letter => (612.0, 792.0),
        }
    }
}

/// A document could not be made ready for print.
#[derive(Debug)]
pub enum PdfError {
    /// The built-in font of this name cannot be read.
    Font(&'static str),
    /// The file could not be put together.
    File(lopdf::Error),
    /// The file could not be written out.
    Writing(std::io::Error),
}

impl fmt::Display for PdfError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Font(name) => write!(formatter, "the font `{name}` cannot be read"),
            Self::File(cause) => write!(formatter, "the file for print is at fault: {cause}"),
            Self::Writing(cause) => {
                write!(formatter, "the file for print cannot be written: {cause}")
            }
        }
    }
}

impl std::error::Error for PdfError {}

/// Writes a document as a PDF file, headed by the job and its status.
pub fn write(document: &Document, label: &Label, paper: PaperSize) -> Result<Vec<u8>, PdfError> {
    let faces = Faces::load()?;
    let pages = layout::lay_out(document, label, paper, faces);
    let mut file = file(&document.title, &pages, faces)?;
    outline::add(&mut file, &pages.bookmarks).map_err(PdfError::File)?;
    compress::compress(&mut file).map_err(PdfError::Writing)?;
    let mut bytes = Vec::new();
    file.save_to(&mut bytes).map_err(PdfError::Writing)?;
    Ok(bytes)
}

fn file(title: &str, pages: &Pages, faces: &Faces) -> Result<lopdf::Document, PdfError> {
    let mut document = PdfDocument::new(title);
    document.metadata.info.creator = env!("CARGO_PKG_NAME").to_string();
    for (face, letters) in subset::letters_used(pages) {
        let font = subset::cut_down(face, faces, &letters)?;
        let fonts = &mut document.resources.fonts.map;
        fonts.insert(paint::font_id(face), PdfFont::new(font));
    }
    document.with_pages(paint::pdf_pages(pages));
    let options = PdfSaveOptions::default();
    let mut file = printpdf::to_lopdf_doc(&document, &options, &mut Vec::new());
    leave_out_chance(&mut file).map_err(PdfError::File)?;
    Ok(file)
}

/// Takes out what differs from one writing to the next, or says nothing: the
/// random file identifier and the dates.
fn leave_out_chance(file: &mut lopdf::Document) -> Result<(), lopdf::Error> {
    file.trailer.remove(b"ID");
    let information = file.trailer.get(b"Info")?.as_reference()?;
    let information = file.get_dictionary_mut(information)?;
    for entry in ["CreationDate", "ModDate", "GTS_PDFXVersion", "Identifier"] {
        information.remove(entry.as_bytes());
    }
    let catalog = file.catalog_mut()?;
    catalog.set("Lang", lopdf::Object::string_literal("en"));
    Ok(())
}
