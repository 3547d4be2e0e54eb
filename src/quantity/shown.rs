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
        let sign = if self.m() < 0.0 { "-" } else { "" };
        let sixteenths = (self.inches().abs() * 16.0).round() as i64;
        let (feet, rest) = (
            sixteenths / SIXTEENTHS_PER_FOOT,
            sixteenths % SIXTEENTHS_PER_FOOT,
        );
        let (inches, mut above, mut below) = (rest / 16, rest % 16, 16);
        while above > 0 && above % 2 == 0 {
            (above, below) = (above / 2, below / 2);
        }
        let fraction = if above > 0 {
            format!("{above}/{below}")
        } else {
            String::new()
        };
        let inches = match (inches, fraction.is_empty()) {
            (0, false) => format!("{fraction} in"),
            (_, true) => format!("{inches} in"),
            _ => format!("{inches}-{fraction} in"),
        };
        match feet {
            0 => format!("{sign}{inches}"),
            _ if rest == 0 => format!("{sign}{feet} ft"),
            _ => format!("{sign}{feet} ft {inches}"),
        }
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
        assert_eq!(Length::from_m(2.345).metric(), "2.35 m");
        assert_eq!(Length::from_m(0.15).metric(), "150 mm");
    }
}
