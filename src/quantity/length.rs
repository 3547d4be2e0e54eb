//! Lengths, from strand diameters to routes.

use super::number::{Units, factor, leading_number};
use super::{Quantity, QuantityError};

/// A length, held in metres.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default, serde::Serialize)]
#[serde(transparent)]
pub struct Length(f64);

/// Source of the inch: international yard and pound agreement of 1959, 1 in = 25.4 mm exactly.
const METRES_PER_INCH: f64 = 0.0254;

const UNITS: &Units = &[
    (&["m"], 1.0),
    (&["cm"], 0.01),
    (&["mm"], 0.001),
    (&["ft", "'", "′", "feet", "foot"], 12.0 * METRES_PER_INCH),
    (&["in", "\"", "″", "inch", "inches"], METRES_PER_INCH),
];

impl Length {
    /// No length.
    pub const ZERO: Self = Self(0.0);

    /// The finest mark on a tape in inches.
    pub const SIXTEENTH: Self = Self(METRES_PER_INCH / 16.0);

    /// From metres.
    pub const fn from_m(metres: f64) -> Self {
        Self(metres)
    }

    /// From millimetres.
    pub const fn from_mm(millimetres: f64) -> Self {
        Self(millimetres / 1000.0)
    }

    /// In metres.
    pub const fn m(self) -> f64 {
        self.0
    }

    /// In millimetres.
    pub const fn mm(self) -> f64 {
        self.0 * 1000.0
    }

    /// In inches.
    pub const fn inches(self) -> f64 {
        self.0 / METRES_PER_INCH
    }

    /// The larger of two.
    pub fn max(self, other: Self) -> Self {
        Self(self.0.max(other.0))
    }

    /// The smaller of two.
    pub fn min(self, other: Self) -> Self {
        Self(self.0.min(other.0))
    }

    /// Total order, for sorting.
    pub fn total_cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.0.total_cmp(&other.0)
    }

    /// The next whole multiple of `step`, never less than the length itself.
    pub fn rounded_up_to(self, step: Self) -> Self {
        // A length that is a multiple already must not gain a step from binary rounding.
        const HAIR: f64 = 1e-9;
        Self(((self.0 / step.0) - HAIR).ceil() * step.0)
    }
}

impl Quantity for Length {
    const NAME: &'static str = "a length";
    const EXAMPLES: &'static str = r#""1.35 m", "50 mm" or "4 ft 3 in""#;

    fn parse(text: &str) -> Result<Self, QuantityError> {
        let mut rest = text.trim();
        if rest.is_empty() {
            return Err(QuantityError::Empty);
        }
        let mut total = 0.0;
        while !rest.is_empty() {
            let (number, after) = leading_number(rest)?;
            let after = after.trim_start();
            let end = after
                .find(|c: char| c.is_ascii_digit() || c.is_whitespace())
                .unwrap_or(after.len());
            total += number * factor(&after[..end], UNITS)?;
            rest = after[end..].trim_start();
        }
        if total < 0.0 {
            return Err(QuantityError::Negative);
        }
        Ok(Self(total))
    }
}

impl std::ops::Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl std::ops::AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl std::ops::Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl std::ops::Mul<f64> for Length {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self(self.0 * factor)
    }
}

impl std::ops::Div<f64> for Length {
    type Output = Self;
    fn div(self, divisor: f64) -> Self {
        Self(self.0 / divisor)
    }
}

impl std::ops::Div for Length {
    type Output = f64;
    fn div(self, other: Self) -> f64 {
        self.0 / other.0
    }
}

impl std::iter::Sum for Length {
    fn sum<I: Iterator<Item = Self>>(items: I) -> Self {
        // Not `sum`: of no items at all it is minus zero, which would be shown.
        items.fold(Self::ZERO, |total, item| total + item)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn reads_what_a_tape_measure_says() {
        for (text, metres) in [
            ("1.35 m", 1.35),
            ("50mm", 0.05),
            ("12 cm", 0.12),
            ("4 ft 3 in", 51.0 * 0.0254),
            ("4' 3-1/2\"", 51.5 * 0.0254),
            ("4'3 1/2\"", 51.5 * 0.0254),
            ("3/8 in", 0.375 * 0.0254),
            ("0 m", 0.0),
        ] {
            assert!(
                (Length::parse(text).unwrap().m() - metres).abs() < 1e-12,
                "{text}"
            );
        }
    }

    #[test]
    fn refuses_what_is_not_a_length() {
        assert!(matches!(
            Length::parse("12"),
            Err(QuantityError::NoUnit { .. })
        ));
        assert!(matches!(
            Length::parse("12 kg"),
            Err(QuantityError::UnknownUnit { .. })
        ));
        assert_eq!(Length::parse("1,35 m"), Err(QuantityError::DecimalComma));
        assert_eq!(Length::parse("-3 m"), Err(QuantityError::Negative));
        assert_eq!(Length::parse(" "), Err(QuantityError::Empty));
        assert!(matches!(
            Length::parse("1/0 in"),
            Err(QuantityError::NotANumber { .. })
        ));
    }

    #[test]
    fn rounding_up_keeps_a_whole_multiple() {
        let step = Length::from_mm(10.0);
        assert!((Length::from_m(0.30).rounded_up_to(step).m() - 0.30).abs() < 1e-12);
        assert!((Length::from_m(0.3001).rounded_up_to(step).m() - 0.31).abs() < 1e-12);
    }
}
