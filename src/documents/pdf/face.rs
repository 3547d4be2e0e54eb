//! The typefaces and their measures.
//!
//! Noto Sans, Copyright Google LLC, under the SIL Open Font License 1.1, whose
//! text comes with the `notosans` crate. A printed file holds only the glyphs it
//! uses, which the licence allows.

use super::PdfError;
use crate::documents::block::Style;
use printpdf::ParsedFont;
use std::sync::OnceLock;

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

/// Letters below this are looked up once; the font's own tables are slow to ask.
const LETTERS_AT_HAND: u32 = 0x2700;

/// The faces, read and ready to measure with.
pub(super) struct Faces {
    regular: Measured,
    bold: Measured,
    italic: Measured,
}

/// A face with the glyph and the width of each letter.
struct Measured {
    font: ParsedFont,
    at_hand: Vec<Option<(u16, u16)>>,
}

impl Measured {
    fn load(face: Face) -> Result<Self, PdfError> {
        let mut measured = Self {
            font: parse(face, face.bytes())?,
            at_hand: Vec::new(),
        };
        measured.at_hand = (0..LETTERS_AT_HAND)
            .map(|letter| measured.asked(letter))
            .collect();
        Ok(measured)
    }

    /// Glyph and width of a letter.
    fn letter(&self, letter: char) -> Option<(u16, u16)> {
        let letter = u32::from(letter);
        let at_hand = self.at_hand.get(letter as usize);
        at_hand.copied().unwrap_or_else(|| self.asked(letter))
    }

    fn asked(&self, letter: u32) -> Option<(u16, u16)> {
        // Glyph 0 is the box drawn for a letter that is not in the font.
        let glyph = self.font.lookup_glyph_index(letter);
        let glyph = glyph.filter(|glyph| *glyph != 0)?;
        Some((glyph, self.font.get_glyph_width(glyph).unwrap_or(0)))
    }
}

impl Faces {
    /// The faces, read once.
    pub(super) fn load() -> Result<&'static Self, PdfError> {
        static FACES: OnceLock<Result<Faces, &'static str>> = OnceLock::new();
        let read = || {
            let face = |face: Face| Measured::load(face).map_err(|_| face.name());
            Ok(Faces {
                regular: face(Face::Regular)?,
                bold: face(Face::Bold)?,
                italic: face(Face::Italic)?,
            })
        };
        FACES
            .get_or_init(read)
            .as_ref()
            .map_err(|name| PdfError::Font(name))
    }

    /// The width of words in points. Only what [`Faces::printable`] returned can
    /// be measured: other letters count for nothing.
    pub(super) fn width(&self, words: &str, face: Face, size: f32) -> f32 {
        let face = self.measured(face);
        let advance = |letter: char| face.letter(letter).map(|(_, width)| f32::from(width));
        let units: f32 = words.chars().filter_map(advance).sum();
        units * size / f32::from(face.font.units_per_em.max(1))
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
        self.measured(face).letter(letter).map(|(glyph, _)| glyph)
    }

    fn measured(&self, face: Face) -> &Measured {
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
