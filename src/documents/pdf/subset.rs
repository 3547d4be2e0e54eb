//! Cuts a font file down to the glyphs a document uses.
//!
//! The whole file of one face is thirty times as large as what a document needs
//! of it.

use super::PdfError;
use super::face::{self, Face, Faces};
use super::page::{Mark, Pages};
use allsorts::binary::read::ReadScope;
use allsorts::font_data::FontData;
use allsorts::subset::{CmapTarget, SubsetProfile, subset};
use printpdf::ParsedFont;
use std::collections::{BTreeMap, BTreeSet};

/// The letters printed in each face.
pub(super) fn letters_used(pages: &Pages) -> BTreeMap<Face, BTreeSet<char>> {
    let mut used: BTreeMap<Face, BTreeSet<char>> = BTreeMap::new();
    for item in pages.pages.iter().flatten() {
        if let Mark::Words { words, face, .. } = &item.mark {
            used.entry(*face).or_default().extend(words.chars());
        }
    }
    used
}

/// A face with no glyphs but those of `letters`.
pub(super) fn cut_down(
    face: Face,
    faces: &Faces,
    letters: &BTreeSet<char>,
) -> Result<ParsedFont, PdfError> {
    let glyph_of = |letter: &char| Some((*letter, faces.glyph(*letter, face)?));
    let wanted: BTreeMap<char, u16> = letters.iter().filter_map(glyph_of).collect();
    // Glyph 0 must lead; the set is in ascending order.
    let kept: BTreeSet<u16> = std::iter::once(0).chain(wanted.values().copied()).collect();
    let kept: Vec<u16> = kept.into_iter().collect();

    let mut font = face::parse(face, &font_file(face, &kept)?)?;
    // The mark that readers know a partial font by.
    font.font_name = Some(format!("SUBSET+{}", face.name()));
    // Two letters may share a glyph, of which the cut-down file keeps one only.
    for (letter, glyph) in wanted {
        if let Ok(index) = kept.binary_search(&glyph) {
            font.set_codepoint_mapping(u32::from(letter), index as u16);
        }
    }
    Ok(font)
}

fn font_file(face: Face, glyphs: &[u16]) -> Result<Vec<u8>, PdfError> {
    let unreadable = || PdfError::Font(face.name());
    let file = ReadScope::new(face.bytes())
        .read::<FontData<'_>>()
        .map_err(|_| unreadable())?;
    let tables = file.table_provider(0).map_err(|_| unreadable())?;
    subset(&tables, glyphs, &SubsetProfile::Pdf, CmapTarget::Unicode).map_err(|_| unreadable())
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use super::*;

    #[test]
    fn a_cut_down_face_is_small_and_keeps_its_widths() {
        let faces = Faces::load().unwrap();
        // The two ohm signs share a glyph, as the two micro signs may.
        let letters: BTreeSet<char> = "Cable 50 mm² ΩΩ µμ".chars().collect();
        let font = cut_down(Face::Regular, faces, &letters).unwrap();
        assert!(
            font.original_bytes.len() < 10_000,
            "{}",
            font.original_bytes.len()
        );
        for letter in letters {
            let glyph = font.lookup_glyph_index(u32::from(letter)).unwrap();
            let width = f32::from(font.get_glyph_width(glyph).unwrap());
            let whole = faces.width(&letter.to_string(), Face::Regular, 1.0);
            assert!(
                (width / f32::from(font.units_per_em) - whole).abs() < 0.001,
                "{letter}"
            );
        }
    }
}
