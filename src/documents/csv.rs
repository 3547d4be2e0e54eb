//! Writes rows for a spreadsheet.

use std::fmt;

use super::escape::clean;

/// The rows could not be written.
#[derive(Debug)]
pub struct CsvError(String);

impl fmt::Display for CsvError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "the rows could not be written: {}", self.0)
    }
}

impl std::error::Error for CsvError {}

/// Writes a line of headers and a line for each row.
///
/// A cell that a spreadsheet would run as a formula gets a leading apostrophe,
/// which spreadsheets read as "this is text". Line breaks become spaces, and what steers a terminal or
/// turns the reading direction is left out, as on a page.
pub fn write<Head: AsRef<str>>(headers: &[Head], rows: &[Vec<String>]) -> Result<String, CsvError> {
    let mut writer = csv::WriterBuilder::new().flexible(true).from_writer(vec![]);
    let failed = |cause: csv::Error| CsvError(cause.to_string());
    let heads = headers.iter().map(|head| guarded(head.as_ref()));
    writer.write_record(heads).map_err(failed)?;
    for row in rows {
        let cells = row.iter().map(|cell| guarded(cell));
        writer.write_record(cells).map_err(failed)?;
    }
    let bytes = writer
        .into_inner()
        .map_err(|cause| CsvError(cause.to_string()))?;
    String::from_utf8(bytes).map_err(|cause| CsvError(cause.to_string()))
}

fn guarded(cell: &str) -> String {
    let cell = clean(cell);
    let could_start_a_formula = cell.starts_with(['=', '+', '-', '@']);
    if could_start_a_formula && !is_plain_number(&cell) {
        format!("'{cell}")
    } else {
        cell
    }
}

/// Whether a cell holds digits, a sign and a decimal point at most.
fn is_plain_number(cell: &str) -> bool {
    let digits = cell.strip_prefix(['+', '-']).unwrap_or(cell);
    let only_digits = digits.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    only_digits && digits.parse::<f64>().is_ok()
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use super::*;

    #[test]
    fn formulas_are_disarmed_and_numbers_are_not() {
        let rows = vec![
            vec!["=1+1".to_string(), "-12.5".to_string()],
            vec!["-a1".to_string(), "a, \"b\"\nc".to_string()],
            vec!["\t@sum".to_string(), "+-3\u{1b}".to_string()],
        ];
        let written = write(&["name", "value"], &rows).unwrap();
        assert_eq!(
            written,
            "name,value\n'=1+1,-12.5\n'-a1,\"a, \"\"b\"\" c\"\n'@sum,'+-3\u{fffd}\n"
        );
    }

    #[test]
    fn infinity_is_no_plain_number() {
        assert!(!is_plain_number("-inf"));
        assert!(!is_plain_number("-1e5"));
        assert!(is_plain_number("-0.5"));
    }
}
