//! Tells where a quantity such as "≤ 2000 A" would be torn apart.

/// Units that stay on the line of their figure.
const UNITS: [&str; 26] = [
    "%", "°", "°C", "A", "Ah", "Hz", "K", "N·m", "Nm", "V", "W", "Wh", "g", "kA", "kW", "kg", "m",
    "mA", "mV", "mm", "mm²", "mΩ", "s", "Ω", "µΩ", "€",
];

/// Whether a line break at `position`, just behind a space, would part a figure
/// from its unit or from the sign before it.
pub fn is_torn_at(words: &str, position: usize) -> bool {
    let (before, after) = words.split_at(position);
    let Some(before) = before.strip_suffix(' ') else {
        return false;
    };
    let is_digit = |letter: char| letter.is_ascii_digit();
    let ends_a_word = |letter: char| letter.is_whitespace() || ",;:.)/…".contains(letter);
    let next_word = after.split(ends_a_word).next().unwrap_or_default();
    let splits_off_unit = before.ends_with(is_digit) && UNITS.contains(&next_word);
    let splits_off_sign =
        before.ends_with(['≤', '≥', '±', '×', '≈', 'Ø']) && after.starts_with(is_digit);
    splits_off_unit || splits_off_sign
}

/// The words with a no-break space wherever a quantity could be torn apart, for
/// readers that break their lines themselves.
pub fn held_together(words: &str) -> String {
    let letters = words.char_indices();
    let held = letters.map(|(position, letter)| match letter {
        ' ' if is_torn_at(words, position + 1) => '\u{A0}',
        _ => letter,
    });
    held.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantities_are_held_together_and_words_are_not() {
        let words = "class 6 All, at 60 °C, ≤ 3 % of 2000 A";
        let held = "class 6 All, at 60\u{A0}°C, ≤\u{A0}3\u{A0}% of 2000\u{A0}A";
        assert_eq!(held_together(words), held);
    }
}
