//! Breaks text into lines.
//!
//! The terminal counts character cells and the printed page measures glyphs, so
//! the measure is handed in and the breaking is the same for both.

use super::block::{Span, Style, Text, plain, push};
use super::quantity::is_torn_at;
use std::ops::Range;
use unicode_linebreak::{BreakOpportunity, linebreaks};

/// Says how wide some words are in a style.
pub type Measure<'a> = dyn Fn(&str, Style) -> f32 + 'a;

/// Sums of glyph widths differ in the last digit with the order of adding.
const ROUNDING: f32 = 0.001;

/// Breaks a text into lines no wider than `width`.
///
/// Lines break where the script allows; a word wider than a line breaks between
/// letters. There is always at least one line.
pub fn wrap(text: &[Span], width: f32, measure: &Measure) -> Vec<Text> {
    let words = plain(text);
    let fits = |range: Range<usize>| line_width(text, &words, range, measure) <= width + ROUNDING;
    let mut lines = Vec::new();
    let mut start = 0;
    let mut end = 0;
    for (opportunity, kind) in breaks(&words) {
        if end > start && !fits(start..opportunity) {
            lines.push(start..end);
            start = end;
        }
        while !fits(start..opportunity) {
            let cut = longest_start(&words, start..opportunity, &fits, measure);
            lines.push(start..cut);
            start = cut;
        }
        end = opportunity;
        if kind == BreakOpportunity::Mandatory {
            lines.push(start..end);
            start = end;
        }
    }
    if lines.is_empty() {
        lines.push(0..0);
    }
    lines
        .into_iter()
        .map(|range| cut_out(text, trimmed(&words, range)))
        .collect()
}

/// The widest stretch of a text that only breaks between letters.
pub fn longest_word(text: &[Span], measure: &Measure) -> f32 {
    let words = plain(text);
    let mut start = 0;
    let mut longest: f32 = 0.0;
    for (opportunity, _) in breaks(&words) {
        longest = longest.max(line_width(text, &words, start..opportunity, measure));
        start = opportunity;
    }
    longest
}

/// The width a text takes with no line breaks but its own.
pub fn natural_width(text: &[Span], measure: &Measure) -> f32 {
    wrap(text, f32::MAX, measure)
        .iter()
        .map(|line| width_of(line, measure))
        .fold(0.0, f32::max)
}

/// The width of a single line.
pub fn width_of(line: &[Span], measure: &Measure) -> f32 {
    line.iter()
        .map(|span| measure(&span.text, span.style))
        .sum()
}

/// Where lines may break: wherever the script allows, but not within a quantity
/// such as "≤ 2000 A".
fn breaks(words: &str) -> impl Iterator<Item = (usize, BreakOpportunity)> {
    linebreaks(words).filter(|(position, kind)| {
        *kind == BreakOpportunity::Mandatory || !is_torn_at(words, *position)
    })
}

fn line_width(text: &[Span], words: &str, range: Range<usize>, measure: &Measure) -> f32 {
    width_of(&cut_out(text, trimmed(words, range)), measure)
}

/// The end of the longest start of `range` that fits; at least one letter, so
/// that every line makes headway.
fn longest_start(
    words: &str,
    range: Range<usize>,
    fits: &dyn Fn(Range<usize>) -> bool,
    measure: &Measure,
) -> usize {
    let word = &words[range.clone()];
    let letters = word.char_indices().skip(1);
    // An accent that takes no room of its own stays with its letter.
    let cuts =
        letters.filter(|(_, letter)| measure(letter.encode_utf8(&mut [0; 4]), Style::Plain) > 0.0);
    let mut cut = None;
    for (offset, _) in cuts {
        if cut.is_some() && !fits(range.start..range.start + offset) {
            break;
        }
        cut = Some(range.start + offset);
    }
    cut.unwrap_or(range.end)
}

/// A range without the blanks that hang over the end of a line.
fn trimmed(words: &str, range: Range<usize>) -> Range<usize> {
    let line = words.get(range.clone()).unwrap_or_default();
    range.start..range.start + line.trim_end_matches([' ', '\n', '\r', '\t']).len()
}

/// The spans of a text that lie within a range of its bytes.
fn cut_out(text: &[Span], range: Range<usize>) -> Text {
    let mut part = Text::new();
    let mut offset = 0;
    for span in text {
        let start = range.start.max(offset);
        let end = range.end.min(offset + span.text.len());
        if start < end {
            push(
                &mut part,
                &span.text[start - offset..end - offset],
                span.style,
            );
        }
        offset += span.text.len();
    }
    part
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use unicode_width::UnicodeWidthStr;

    fn cells(words: &str, _: Style) -> f32 {
        words.width() as f32
    }

    fn wrapped(words: &str, width: f32) -> Vec<String> {
        let text = vec![Span::new(words, Style::Plain)];
        wrap(&text, width, &cells)
            .iter()
            .map(|line| plain(line))
            .collect()
    }

    #[test]
    fn lines_break_at_blanks_and_hyphens() {
        assert_eq!(
            wrapped("heat-shrink tube, red", 8.0),
            ["heat-", "shrink", "tube,", "red"]
        );
        assert_eq!(wrapped("", 8.0), [""]);
        assert_eq!(wrapped("a\nb", 8.0), ["a", "b"]);
    }

    #[test]
    fn a_figure_stays_with_its_unit() {
        assert_eq!(
            wrapped("rated 2000 A, at 60 °C", 12.0),
            ["rated", "2000 A, at", "60 °C"]
        );
        assert_eq!(wrapped("class 6 All", 9.0), ["class 6", "All"]);
        assert_eq!(
            wrapped("a drop ≤ 3 % only", 9.0),
            ["a drop", "≤ 3 %", "only"]
        );
    }

    #[test]
    fn a_word_wider_than_the_line_is_cut() {
        assert_eq!(
            wrapped("xx ABCDEFGHIJ y", 4.0),
            ["xx", "ABCD", "EFGH", "IJ y"]
        );
    }

    #[test]
    fn styles_follow_their_words() {
        let text = vec![
            Span::new("one two", Style::Strong),
            Span::new(" three", Style::Plain),
        ];
        let lines = wrap(&text, 9.0, &cells);
        assert_eq!(lines[0], [Span::new("one two", Style::Strong)]);
        assert_eq!(lines[1], [Span::new("three", Style::Plain)]);
    }

    proptest! {
        #[test]
        fn no_line_is_too_wide_and_no_letter_is_lost(words in "[a-zäé日\u{301} \\-/.0-9]{0,80}", width in 2_u8..40) {
            let lines = wrapped(&words, f32::from(width));
            for line in &lines {
                prop_assert!(line.width() <= usize::from(width), "{line:?}");
            }
            let kept = |text: &str| text.replace(' ', "");
            prop_assert_eq!(kept(&lines.concat()), kept(&words));
        }
    }
}
