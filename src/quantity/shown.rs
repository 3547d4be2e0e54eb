//! Figures and lengths as documents show them.

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

    /// As the smallest drill in sixty-fourths of an inch that is no smaller.
    pub fn imperial_drill(self) -> String {
        // A drill's own tolerance: a hole given in hundredths of a millimetre is not worth the next one.
        const NEAR_ENOUGH: f64 = 0.02;
        fraction((self.inches() * 64.0 - NEAR_ENOUGH).ceil() as i64, 64)
    }

    fn sixteenths(self) -> i64 {
        (self.inches() * 16.0).round() as i64
    }
}

/// A figure without needless zeros.
pub fn figure(value: f64, digits: usize) -> String {
    let text = format!("{value:.digits$}");
    // A small negative rounds to a zero with a sign, and so does the sum of nothing.
    if text.trim_matches(['-', '0', '.']).is_empty() {
        return "0".to_owned();
    }
    if !text.contains('.') {
        return text;
    }
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn inches(sixteenths: i64) -> String {
    fraction(sixteenths, 16)
}

/// So many parts of an inch as a tape or a drill shows them, the fraction in lowest terms.
fn fraction(parts: i64, of_an_inch: i64) -> String {
    let (whole, mut above, mut below) = (parts / of_an_inch, parts % of_an_inch, of_an_inch);
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

    /// 5.5 and 6.6 mm let M5 and M6 through by ISO 273, medium; 7/32 in is 5.56 mm, 17/64 in 6.75 mm.
    #[test]
    fn a_drill_is_never_too_small_for_its_bolt() {
        let drill = |mm| Length::from_mm(mm).imperial_drill();
        assert_eq!(drill(5.5), "7/32 in");
        assert_eq!(drill(6.6), "17/64 in");
        assert_eq!(drill(25.4), "1 in");
        assert_eq!(drill(9.525), "3/8 in");
        assert_eq!(drill(28.0), "1-7/64 in");
    }

    #[test]
    fn nothing_has_no_sign() {
        assert_eq!(figure(-0.0, 1), "0");
        assert_eq!(figure(-0.04, 1), "0");
        assert_eq!(figure(100.0, 1), "100");
        assert_eq!(figure(-10.0, 0), "-10");
    }
}
