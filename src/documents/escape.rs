//! Makes text from outside harmless.
//!
//! Names, notes and part numbers come from files that anyone may have written.
//! Whatever they hold must come out as the very letters it went in as: never as
//! a table border, a heading, a link or a command to the terminal.

/// Stands where a character was that must not be printed.
const STAND_IN: char = '\u{FFFD}';

/// Drops what no document may carry: line breaks and tabs become spaces, control
/// characters and characters that turn the reading direction become U+FFFD.
///
/// Runs of blanks shrink to one and blanks at the ends go, as a printed line
/// would lose them anyway.
pub fn clean(text: &str) -> String {
    let mut cleaned = String::with_capacity(text.len());
    for character in text.chars() {
        let shown = printable(character);
        let repeats_a_blank = shown == ' ' && cleaned.ends_with(' ');
        if !repeats_a_blank {
            cleaned.push(shown);
        }
    }
    cleaned.trim().to_string()
}

fn printable(character: char) -> char {
    match character {
        // These two keep a figure and its unit on one line.
        '\u{A0}' | '\u{202F}' => character,
        _ if character.is_whitespace() => ' ',
        _ if must_not_be_printed(character) => STAND_IN,
        _ => character,
    }
}

/// Whether a character steers a terminal, turns the reading direction, or is the byte order mark, which
/// is invisible, so that two names could differ by it alone.
pub(super) fn must_not_be_printed(character: char) -> bool {
    character.is_control() || turns_reading_direction(character) || character == '\u{FEFF}'
}

fn turns_reading_direction(character: char) -> bool {
    matches!(
        character,
        '\u{61C}' | '\u{200E}' | '\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}'
    )
}

/// Cleans a text and escapes it so that Markdown shows it letter for letter.
pub fn markdown(text: &str) -> String {
    let cleaned = clean(text);
    let mut escaped = String::with_capacity(cleaned.len() + 8);
    let list_mark = list_number_end(&cleaned);
    for (position, character) in cleaned.char_indices() {
        let starts_a_block = position == 0 && may_start_a_block(&cleaned);
        if starts_a_block || list_mark == Some(position) || has_a_meaning(character) {
            escaped.push('\\');
        }
        escaped.push(character);
    }
    escaped
}

/// Characters that Markdown may act on wherever they stand.
fn has_a_meaning(character: char) -> bool {
    matches!(
        character,
        '\\' | '`' | '*' | '_' | '<' | '>' | '&' | '[' | ']' | '|' | '~' | '#'
    )
}

/// Whether a text could begin a list or underline the text above it. A sign
/// before a figure cannot.
fn may_start_a_block(text: &str) -> bool {
    let mut characters = text.chars();
    match (characters.next(), characters.next()) {
        (Some('-' | '+'), second) => matches!(second, None | Some(' ' | '-' | '+')),
        (Some('=' | '.' | ')'), _) => true,
        _ => false,
    }
}

/// Where the mark stands that would make "3. " or "3) " begin a numbered list.
fn list_number_end(text: &str) -> Option<usize> {
    let end = text.find(|character: char| !character.is_ascii_digit())?;
    let begins_list = end > 0 && matches!(text.as_bytes().get(end), Some(b'.' | b')'));
    let followed_by_blank = matches!(text.as_bytes().get(end + 1), None | Some(b' '));
    (begins_list && followed_by_blank).then_some(end)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use super::*;
    use crate::documents::block::{Block, plain};
    use crate::documents::markdown;
    use proptest::prelude::*;

    #[test]
    fn terminal_commands_lose_their_escape_character() {
        assert_eq!(clean("a\u{1b}[31mred"), "a\u{FFFD}[31mred");
        assert_eq!(clean("a\u{202E}b\u{2028}c"), "a\u{FFFD}b c");
    }

    #[test]
    fn part_numbers_stay_readable_in_the_source() {
        assert_eq!(super::markdown("50-8 M8 (2.5 mm)"), "50-8 M8 (2.5 mm)");
        assert_eq!(super::markdown("-40 °C"), "-40 °C");
        assert_eq!(super::markdown("- bolt"), "\\- bolt");
        assert_eq!(super::markdown("3. bolt"), "3\\. bolt");
        assert_eq!(super::markdown("3.5"), "3.5");
    }

    /// Letters, Markdown marks and awkward characters in about equal parts.
    fn awkward() -> impl Strategy<Value = String> {
        let marks = r"[ -~\n\t\r]{0,30}";
        let anything = proptest::collection::vec(any::<char>(), 0..20)
            .prop_map(|characters| characters.into_iter().collect());
        let structural = "[-+*_`|<>&#\\[\\]\\\\~0-9.) =!(:;a\n]{0,20}";
        prop_oneof![marks, anything, structural]
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(1500))]

        #[test]
        fn any_text_survives_a_table_cell(text in awkward()) {
            let source = format!("| Name | Next |\n|---|---|\n| {} | x |\n", super::markdown(&text));
            let document = markdown::parse("", &source);
            let [Block::Table(table)] = document.blocks.as_slice() else {
                panic!("not one table: {source:?}");
            };
            let cells: Vec<String> = table.rows[0].iter().map(|cell| plain(cell)).collect();
            prop_assert_eq!(cells, vec![clean(&text), "x".to_string()]);
        }

        #[test]
        fn any_text_survives_a_paragraph(text in awkward().prop_filter("blank", |t| !clean(t).is_empty())) {
            let source = format!("before\n{}\n\nafter\n", super::markdown(&text));
            let document = markdown::parse("", &source);
            let [Block::Paragraph(first), Block::Paragraph(_)] = document.blocks.as_slice() else {
                panic!("not two paragraphs: {source:?}");
            };
            prop_assert_eq!(plain(first), format!("before {}", clean(&text)));
        }

        #[test]
        fn any_text_survives_a_list_item_and_a_heading(text in awkward().prop_filter("blank", |t| !clean(t).is_empty())) {
            let escaped = super::markdown(&text);
            let document = markdown::parse("", &format!("- {escaped}\n\n# {escaped}\n"));
            let [Block::List(list), Block::Heading { text: heading, .. }] = document.blocks.as_slice() else {
                panic!("not a list and a heading: {document:?}");
            };
            prop_assert_eq!(list.items.len(), 1);
            let [Block::Paragraph(item)] = list.items[0].as_slice() else {
                panic!("not one paragraph: {document:?}");
            };
            prop_assert_eq!(plain(item), clean(&text));
            prop_assert_eq!(plain(heading), clean(&text));
        }
    }
}
