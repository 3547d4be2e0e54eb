//! The number of a quote.

use crate::quantity::Date;

/// Why a pattern gives no number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NumberError {
    /// It asks for parts of a date, and none is given.
    NoDate,
    /// It asks for something that is not known.
    UnknownPart,
}

/// A number from its pattern, in which `{year}`, `{month}` and `{day}` stand for those of the date.
///
/// # Errors
/// When the date is missing, or the pattern asks for something else.
pub fn filled(pattern: &str, date: Option<Date>) -> Result<String, NumberError> {
    let mut number = pattern.to_owned();
    for (part, figure) in [
        ("{year}", date.map(|date| format!("{:04}", date.year()))),
        ("{month}", date.map(|date| format!("{:02}", date.month()))),
        ("{day}", date.map(|date| format!("{:02}", date.day()))),
    ] {
        if number.contains(part) {
            number = number.replace(part, &figure.ok_or(NumberError::NoDate)?);
        }
    }
    match number.contains(['{', '}']) {
        true => Err(NumberError::UnknownPart),
        false => Ok(number),
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::quantity::Quantity;

    #[test]
    fn parts_of_the_date_are_filled_in() {
        let date = Date::parse("2026-11-05").unwrap();
        assert_eq!(
            filled("Q-{year}{month}{day}-17", Some(date)).unwrap(),
            "Q-20261105-17"
        );
        assert_eq!(filled("17", None).unwrap(), "17");
        assert_eq!(filled("Q-{year}", None), Err(NumberError::NoDate));
        assert_eq!(
            filled("Q-{week}", Some(date)),
            Err(NumberError::UnknownPart)
        );
    }
}
