//! The typefaces and their measures.
//!
//! Noto Sans, Copyright Google LLC, under the SIL Open Font License 1.1, whose
//! text comes with the `notosans` crate. A printed file holds only the glyphs it
//! uses, which the licence allows.

use super::PdfError;
use crate::documents::block::Style;
use printpdf::ParsedFont;

/// One of the faces that text is printed in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Face {
    Regular,
    Bold,
    Italic,
}

impl Face {
    /// The name a face goes by within the file.
    pub(super) fn name(self) -> &'static str {
        match self {
            Face::Regular => "NotoSans-Regular",
            Face::Bold => "NotoSans-Bold",
            Face::Italic => "NotoSans-Italic",
        }
    }

    /// The font file with every glyph.
    pub(super) fn bytes(self) -> &'static [u8] {
        match self {
            Face::Regular => notosans::REGULAR_TTF,
            Face::Bold => notosans::BOLD_TTF,
            Face::Italic => notosans::ITALIC_TTF,
        }
    }
}

impl From<Style> for Face {
    fn from(style: Style) -> Self {
        match style {
            Style::Plain | Style::Code => Face::Regular,
            Style::Strong => Face::Bold,
            Style::Emphasis => Face::Italic,
        }
    }
}

/// The faces, read and ready to measure with.
pub(super) struct Faces {
    regular: ParsedFont,
    bold: ParsedFont,
    italic: ParsedFont,
}

impl Faces {
    pub(super) fn load() -> Result<Self, PdfError> {
        Ok(Self {
            regular: parse(Face::Regular, Face::Regular.bytes())?,
            bold: parse(Face::Bold, Face::Bold.bytes())?,
            italic: parse(Face::Italic, Face::Italic.bytes())?,
        })
    }

    /// The width of words in points. Only what [`Faces::printable`] returned can
    /// be measured: other letters count for nothing.
    pub(super) fn width(&self, words: &str, face: Face, size: f32) -> f32 {
        let font = self.font(face);
        let advance = |letter: char| {
            let glyph = self.glyph(letter, face)?;
            font.get_glyph_width(glyph).map(f32::from)
        };
        let units: f32 = words.chars().filter_map(advance).sum();
        units * size / f32::from(font.units_per_em.max(1))
    }

    /// The words with letters the face lacks replaced by the nearest it has.
    pub(super) fn printable(&self, words: &str, face: Face) -> String {
        let replaced = |letter: char| {
            let has_glyph = letter == '\n' || self.glyph(letter, face).is_some();
            if has_glyph { letter } else { stand_in(letter) }
        };
        words.chars().map(replaced).collect()
    }

    /// The number of a letter's glyph within the whole font file.
    pub(super) fn glyph(&self, letter: char, face: Face) -> Option<u16> {
        // Glyph 0 is the box drawn for a letter that is not in the font.
        self.font(face)
            .lookup_glyph_index(u32::from(letter))
            .filter(|glyph| *glyph != 0)
    }

    fn font(&self, face: Face) -> &ParsedFont {
        match face {
            Face::Regular => &self.regular,
            Face::Bold => &self.bold,
            Face::Italic => &self.italic,
        }
    }
}

/// Reads a font file.
pub(super) fn parse(face: Face, bytes: &[u8]) -> Result<ParsedFont, PdfError> {
    ParsedFont::from_bytes(bytes, 0, &mut Vec::new()).ok_or(PdfError::Font(face.name()))
}

/// A letter from the face that reads like one it lacks.
fn stand_in(letter: char) -> char {
    match letter {
        '\u{2010}' | '\u{2011}' => '-',
        '⌀' => 'Ø',
        '✓' | '✔' => '√',
        '☐' | '☑' | '☒' => '□',
        '∅' => 'Ø',
        '\u{2007}' | '\u{202F}' => ' ',
        _ => '?',
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use super::*;

    #[test]
    fn every_face_has_the_signs_of_the_trade() {
        let faces = Faces::load().unwrap();
        let signs = "Ω²°≤≥×µμ→€–—±ΔΩ√≈−·…Øéß•%□";
        for face in [Face::Regular, Face::Bold, Face::Italic] {
            assert_eq!(faces.printable(signs, face), signs, "{face:?}");
        }
    }

    #[test]
    fn other_letters_get_a_stand_in_that_prints() {
        let faces = Faces::load().unwrap();
        assert_eq!(faces.printable("⌀ 8\u{2011}10 日", Face::Bold), "Ø 8-10 ?");
        assert!(faces.width("?", Face::Bold, 10.0) > 3.0);
    }
}
