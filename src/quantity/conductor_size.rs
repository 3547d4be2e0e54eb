//! Conductor sizes: metric cross-sections and American wire gauge.

use std::cmp::Ordering;
use std::fmt;

use super::{Area, Quantity, QuantityError};

/// The size a conductor is sold by. Metric and AWG sizes are different sizes, even when close:
/// a lug made for one is not made for the other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ConductorSize {
    /// Nominal metric cross-section, in hundredths of a square millimetre.
    Metric(u32),
    /// American wire gauge number; 1/0 is 0 and 4/0 is -3.
    Awg(i8),
}

impl ConductorSize {
    /// The nominal cross-section. AWG by the formula of ASTM B258,
    /// d = 0.127 mm × 92^((36 − n) / 39).
    pub fn nominal_area(self) -> Area {
        match self {
            Self::Metric(hundredths) => Area::from_mm2(f64::from(hundredths) / 100.0),
            Self::Awg(gauge) => {
                let diameter_mm = 0.127 * 92f64.powf((36.0 - f64::from(gauge)) / 39.0);
                Area::from_mm2(std::f64::consts::FRAC_PI_4 * diameter_mm * diameter_mm)
            }
        }
    }

    fn metric(text: &str) -> Option<Self> {
        let hundredths = (text.parse::<f64>().ok()? * 100.0).round();
        (1.0..=100_000.0)
            .contains(&hundredths)
            .then_some(Self::Metric(hundredths as u32))
    }

    fn awg(text: &str) -> Option<Self> {
        let gauge = match text.strip_suffix("/0") {
            Some(zeros) => 1 - zeros.parse::<i8>().ok().filter(|n| (1..=4).contains(n))?,
            None => text.parse::<i8>().ok().filter(|n| (0..=40).contains(n))?,
        };
        Some(Self::Awg(gauge))
    }
}

impl Quantity for ConductorSize {
    const NAME: &'static str = "a conductor size";
    const EXAMPLES: &'static str = r#""50 mm2" or "1/0 AWG""#;

    fn parse(text: &str) -> Result<Self, QuantityError> {
        let text = text.trim();
        let not_a_number = || QuantityError::NotANumber {
            text: text.to_owned(),
        };
        if text.is_empty() {
            return Err(QuantityError::Empty);
        }
        if let Some(number) = text.strip_suffix("mm2").or(text.strip_suffix("mm²")) {
            return Self::metric(number.trim()).ok_or_else(not_a_number);
        }
        let gauge = text.strip_suffix("AWG").or(text.strip_suffix("awg"));
        let gauge = gauge.or(text.strip_prefix("AWG"));
        if let Some(number) = gauge {
            return Self::awg(number.trim()).ok_or_else(|| QuantityError::NotKnown {
                text: text.to_owned(),
                known: "4/0 AWG to 1/0 AWG, 0 AWG to 40 AWG".to_owned(),
            });
        }
        let units = "mm2, AWG".to_owned();
        let unit = text.trim_start_matches(|c: char| c.is_ascii_digit() || "./, ".contains(c));
        Err(if unit.is_empty() {
            QuantityError::NoUnit { units }
        } else {
            let unit = unit.to_owned();
            QuantityError::UnknownUnit { unit, units }
        })
    }
}

impl fmt::Display for ConductorSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::Metric(hundredths) => write!(f, "{} mm²", f64::from(hundredths) / 100.0),
            Self::Awg(gauge) if gauge <= 0 => write!(f, "{}/0 AWG", 1 - gauge),
            Self::Awg(gauge) => write!(f, "{gauge} AWG"),
        }
    }
}

impl serde::Serialize for ConductorSize {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl Ord for ConductorSize {
    fn cmp(&self, other: &Self) -> Ordering {
        self.nominal_area().total_cmp(&other.nominal_area())
    }
}

impl PartialOrd for ConductorSize {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn reads_both_systems() {
        for (text, size, shown) in [
            ("50 mm2", ConductorSize::Metric(5000), "50 mm²"),
            ("0.75mm²", ConductorSize::Metric(75), "0.75 mm²"),
            ("1/0 AWG", ConductorSize::Awg(0), "1/0 AWG"),
            ("4/0 AWG", ConductorSize::Awg(-3), "4/0 AWG"),
            ("AWG 6", ConductorSize::Awg(6), "6 AWG"),
        ] {
            assert_eq!(ConductorSize::parse(text).unwrap(), size);
            assert_eq!(size.to_string(), shown);
        }
    }

    #[test]
    fn refuses_a_bare_number_and_sizes_that_do_not_exist() {
        assert!(matches!(
            ConductorSize::parse("50"),
            Err(QuantityError::NoUnit { .. })
        ));
        assert!(matches!(
            ConductorSize::parse("5/0 AWG"),
            Err(QuantityError::NotKnown { .. })
        ));
        assert!(matches!(
            ConductorSize::parse("50 V"),
            Err(QuantityError::UnknownUnit { .. })
        ));
    }
}
