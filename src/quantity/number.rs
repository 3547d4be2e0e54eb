//! Numbers and units as people write them.

use super::QuantityError;

/// Whether a quantity may be below zero.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sign {
    /// Zero or more.
    Unsigned,
    /// Any sign.
    Signed,
}

/// The unit table of a quantity: spellings and the factor to the base unit.
pub type Units = [(&'static [&'static str], f64)];

/// Reads `NUMBER UNIT`.
pub fn simple(text: &str, units: &Units, sign: Sign) -> Result<f64, QuantityError> {
    let text = text.trim();
    if text.is_empty() {
        return Err(QuantityError::Empty);
    }
    let (number, rest) = leading_number(text)?;
    let factor = factor(rest.trim(), units)?;
    let value = number * factor;
    if sign == Sign::Unsigned && value < 0.0 {
        return Err(QuantityError::Negative);
    }
    Ok(value)
}

/// The factor of a unit, or the error that names those taken.
pub fn factor(unit: &str, units: &Units) -> Result<f64, QuantityError> {
    if unit.is_empty() {
        return Err(QuantityError::NoUnit {
            units: listed(units),
        });
    }
    units
        .iter()
        .find(|(spellings, _)| spellings.contains(&unit))
        .map(|(_, factor)| *factor)
        .ok_or_else(|| QuantityError::UnknownUnit {
            unit: unit.to_owned(),
            units: listed(units),
        })
}

/// The first spelling of each unit, as a phrase.
pub fn listed(units: &Units) -> String {
    let names: Vec<&str> = units
        .iter()
        .filter_map(|(spellings, _)| spellings.first().copied())
        .collect();
    names.join(", ")
}

/// Splits off a leading number: a decimal, a fraction `3/8`, or a mixed number `3-1/2` or `3 1/2`.
pub fn leading_number(text: &str) -> Result<(f64, &str), QuantityError> {
    let not_a_number = || QuantityError::NotANumber {
        text: text.to_owned(),
    };
    let (whole, rest) = decimal(text)?.ok_or_else(not_a_number)?;
    if let Some(after_slash) = rest.strip_prefix('/') {
        let (below, rest) = digits(after_slash).ok_or_else(not_a_number)?;
        return Ok((divide(whole, below).ok_or_else(not_a_number)?, rest));
    }
    if let Some((above, below, rest)) = rest
        .strip_prefix('-')
        .or_else(|| rest.strip_prefix(' '))
        .and_then(fraction)
    {
        let part = divide(above, below).ok_or_else(not_a_number)?;
        return Ok((whole + part.copysign(whole), rest));
    }
    Ok((whole, rest))
}

fn divide(above: f64, below: f64) -> Option<f64> {
    (below > 0.0).then(|| above / below)
}

fn fraction(text: &str) -> Option<(f64, f64, &str)> {
    let (above, rest) = digits(text)?;
    let (below, rest) = digits(rest.strip_prefix('/')?)?;
    Some((above, below, rest))
}

fn digits(text: &str) -> Option<(f64, &str)> {
    let end = text
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(text.len());
    let value = text[..end].parse().ok()?;
    Some((value, &text[end..]))
}

fn decimal(text: &str) -> Result<Option<(f64, &str)>, QuantityError> {
    let signed = text.strip_prefix(['+', '-', '−']);
    let negative = text.starts_with(['-', '−']);
    let body = signed.unwrap_or(text);
    let end = body
        .find(|c: char| !c.is_ascii_digit() && c != '.')
        .unwrap_or(body.len());
    let rest = &body[end..];
    let comma = rest.starts_with(',') && rest[1..].starts_with(|c: char| c.is_ascii_digit());
    if comma {
        return Err(QuantityError::DecimalComma);
    }
    let Ok(value) = body[..end].parse::<f64>() else {
        return Ok(None);
    };
    if value.is_infinite() {
        return Ok(None);
    }
    Ok(Some((if negative { -value } else { value }, rest)))
}
