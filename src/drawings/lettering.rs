//! Words that have to fit beside a drawing.

use super::shape::LETTERS;

/// Width of a letter in terms of its size; more than the mean of either face.
const WIDTH_OF_A_LETTER: f64 = 0.56;

/// How many letters of ordinary size fit a width in millimetres.
pub(super) fn letters_within(width: f64) -> usize {
    (width / (WIDTH_OF_A_LETTER * LETTERS)).floor().max(1.0) as usize
}

/// A text in lines of at most so many letters; a longer word keeps a line to itself.
pub(super) fn broken(text: &str, letters: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        let full = lines.last().is_some_and(|last| {
            !last.is_empty() && last.chars().count() + 1 + word.chars().count() > letters
        });
        if full {
            lines.push(String::new());
        }
        if let Some(last) = lines.last_mut() {
            if !last.is_empty() {
                last.push(' ');
            }
            last.push_str(word);
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_broken_between_words() {
        assert_eq!(broken("one two three", 7), ["one two", "three"]);
        assert_eq!(broken("unbreakable it is", 4), ["unbreakable", "it", "is"]);
        assert_eq!(broken("", 4), [""]);
    }
}
