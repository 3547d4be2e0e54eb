//! Writes data for programs.

use std::fmt::Write;

use serde::Serialize;

use super::escape::must_not_be_printed;

/// A value as JSON, indented, with a line break at its end.
///
/// Characters that steer a terminal or turn the reading direction are written as escapes, so that the
/// text can be looked at with no harm and still holds every name as it was given.
///
/// # Errors
///
/// Where the value cannot be told in JSON, such as a map whose keys are no text.
pub fn write(value: &impl Serialize) -> Result<String, serde_json::Error> {
    Ok(escaped(&serde_json::to_string_pretty(value)?) + "\n")
}

/// A text between quotes, as JSON and TOML both take it.
pub fn quoted(text: &str) -> String {
    escaped(&serde_json::Value::from(text).to_string())
}

/// Such characters stand within texts alone, where an escape means the same; line breaks within texts
/// are escapes already, and others are the layout of the file.
fn escaped(json: &str) -> String {
    let mut escaped = String::with_capacity(json.len());
    for character in json.chars() {
        if character != '\n' && must_not_be_printed(character) {
            // All of them are in the first plane. Writing to a text cannot fail.
            let _ = write!(escaped, "\\u{:04x}", u32::from(character));
        } else {
            escaped.push(character);
        }
    }
    escaped
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use super::*;

    const GIVEN: &str = "a\u{1b}[31m\u{202e}\u{7f}\u{9b}\"\\\n\u{feff}é";

    #[test]
    fn what_steers_a_terminal_is_escaped_and_comes_back() {
        let written = write(&[GIVEN]).unwrap();
        assert!(!written.chars().any(|c| c != '\n' && must_not_be_printed(c)));
        let read: Vec<String> = serde_json::from_str(&written).unwrap();
        assert_eq!(read, [GIVEN]);
    }

    #[test]
    fn a_quoted_text_is_one_line_of_toml() {
        let line = format!("name = {}", quoted(GIVEN));
        assert_eq!(line.lines().count(), 1);
        let read: toml::Table = line.parse().unwrap();
        assert_eq!(read["name"].as_str(), Some(GIVEN));
    }
}
