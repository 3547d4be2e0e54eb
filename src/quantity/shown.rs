//! Lengths as documents show them.

use super::Length;

impl Length {
    /// In metres with two decimals, or in millimetres below one metre.
    pub fn metric(self) -> String {
        if self.m().abs() < 0.9995 {
            format!("{:.0} mm", self.mm())
        } else {
            format!("{:.2} m", self.m())
        }
    }

    /// In feet and inches to the nearest sixteenth.
    pub fn imperial(self) -> String {
        const SIXTEENTHS_PER_FOOT: i64 = 12 * 16;
        let sixteenths = self.sixteenths();
        let (feet, rest) = (
            sixteenths.abs() / SIXTEENTHS_PER_FOOT,
            sixteenths.abs() % SIXTEENTHS_PER_FOOT,
        );
        let sign = if sixteenths < 0 { "-" } else { "" };
        match feet {
            0 => format!("{sign}{}", inches(rest)),
            _ if rest == 0 => format!("{sign}{feet} ft"),
            _ => format!("{sign}{feet} ft {}", inches(rest)),
        }
    }

    /// In inches alone, to the nearest sixteenth.
    pub fn imperial_inches(self) -> String {
        let sixteenths = self.sixteenths();
        let sign = if sixteenths < 0 { "-" } else { "" };
        format!("{sign}{}", inches(sixteenths.abs()))
    }

    fn sixteenths(self) -> i64 {
        (self.inches() * 16.0).round() as i64
    }
}

/// So many sixteenths of an inch as a tape shows them, the fraction in lowest terms.
fn inches(sixteenths: i64) -> String {
    let (whole, mut above, mut below) = (sixteenths / 16, sixteenths % 16, 16);
    while above > 0 && above % 2 == 0 {
        (above, below) = (above / 2, below / 2);
    }
    match (whole, above) {
        (_, 0) => format!("{whole} in"),
        (0, _) => format!("{above}/{below} in"),
        _ => format!("{whole}-{above}/{below} in"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_read_as_on_a_tape() {
        let inches = |inches: f64| Length::from_m(inches * 0.0254).imperial();
        assert_eq!(inches(51.5), "4 ft 3-1/2 in");
        assert_eq!(inches(0.375), "3/8 in");
        assert_eq!(inches(24.0), "2 ft");
        assert_eq!(inches(-3.0), "-3 in");
        assert_eq!(inches(0.01), "0 in");
        assert_eq!(inches(-0.01), "0 in");
        assert_eq!(Length::from_mm(1350.0).imperial_inches(), "53-1/8 in");
        assert_eq!(Length::from_mm(-10.0).imperial_inches(), "-3/8 in");
        assert_eq!(Length::from_m(2.345).metric(), "2.35 m");
        assert_eq!(Length::from_m(0.15).metric(), "150 mm");
    }
}
