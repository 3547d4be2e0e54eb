//! Quantities in the units that a job's documents show.

use crate::file::words;
use crate::quantity::{Length, Mass, Temperature, Torque, figure};

/// Newton metres in one pound-force inch: international pound, inch and standard gravity.
const NM_PER_LBF_IN: f64 = 0.112_984_829;
/// Kilograms in one international avoirdupois pound.
const KG_PER_LB: f64 = 0.453_592_37;

/// Ounces in a pound.
const OZ_PER_LB: f64 = 16.0;
/// The finest mark of a metric tape that is worth setting.
const MILLIMETRE: Length = Length::from_mm(1.0);

words! {
    /// Units that documents show.
    pub enum Units as "a system of units" {
        /// Metres and millimetres.
        Metric = "metric",
        /// Feet and inches.
        Imperial = "imperial",
    }
}

impl Units {
    /// A length to be read: metres from one metre on, feet and inches.
    pub fn shown(self, length: Length) -> String {
        match self {
            Self::Metric => length.metric(),
            Self::Imperial => length.imperial(),
        }
    }

    /// A length that must be kept: what is shown is never less.
    pub fn shown_at_least(self, length: Length) -> String {
        let mark = match self {
            // From a metre on, lengths are shown to the centimetre.
            Self::Metric if length.m() > 1.0 => Length::from_mm(10.0),
            Self::Metric | Self::Imperial => self.mark(),
        };
        self.shown(length.rounded_up_to(mark))
    }

    /// A length to be measured with a tape, a calliper or a drill gauge: millimetres, after inches where
    /// wanted.
    pub fn on_tape(self, length: Length) -> String {
        self.taped(length, 1)
    }

    /// The diameter of a hole: millimetres, after the inch drill that makes it no smaller where wanted.
    pub fn drill(self, hole: Length) -> String {
        self.both(millimetres(hole, 1), || hole.imperial_drill())
    }

    /// A thickness as a calliper shows it: millimetres, after thousandths of an inch where wanted.
    pub fn on_calliper(self, length: Length) -> String {
        self.both(millimetres(length, 1), || {
            format!("{:.3} in", length.inches())
        })
    }

    /// A place to be marked where nothing hangs on a fraction of a mark.
    pub fn on_tape_nearest(self, length: Length) -> String {
        self.taped(length, 0)
    }

    /// A length to be cut, marked or kept: what is shown is never less.
    pub fn on_tape_at_least(self, length: Length) -> String {
        let up = length.rounded_up_to(MILLIMETRE);
        let marks = || length.rounded_up_to(Length::SIXTEENTH).imperial_inches();
        self.both(millimetres(up, 0), marks)
    }

    /// The finest mark of a tape that is worth setting.
    fn mark(self) -> Length {
        match self {
            Self::Metric => MILLIMETRE,
            Self::Imperial => Length::SIXTEENTH,
        }
    }

    fn taped(self, length: Length, digits: usize) -> String {
        self.both(millimetres(length, digits), || length.imperial_inches())
    }

    /// The metric figure alone, or after the imperial one.
    fn both(self, metric: String, imperial: impl FnOnce() -> String) -> String {
        match self {
            Self::Metric => metric,
            Self::Imperial => format!("{} ({metric})", imperial()),
        }
    }

    /// A torque.
    pub fn torque(self, torque: Torque) -> String {
        let imperial = || format!("{} lbf·in", figure(torque.nm() / NM_PER_LBF_IN, 0));
        self.both(format!("{:.1} N·m", torque.nm()), imperial)
    }

    /// A mass, to about three figures.
    pub fn mass(self, mass: Mass) -> String {
        let grams = mass.kg() * 1e3;
        let metric = match grams {
            grams if grams < 9.5 => format!("{} g", figure(grams, 1)),
            grams if grams < 999.5 => format!("{} g", figure(grams, 0)),
            grams if grams < 9995.0 => format!("{} kg", figure(mass.kg(), 2)),
            _ => format!("{} kg", figure(mass.kg(), 1)),
        };
        let pounds = mass.kg() / KG_PER_LB;
        let imperial = || match pounds {
            pounds if pounds < 0.1 => format!("{} oz", figure(pounds * OZ_PER_LB, 2)),
            pounds if pounds < 1.0 => format!("{} oz", figure(pounds * OZ_PER_LB, 1)),
            pounds if pounds < 10.0 => format!("{} lb", figure(pounds, 1)),
            _ => format!("{} lb", figure(pounds, 0)),
        };
        self.both(metric, imperial)
    }

    /// A temperature, to the degree.
    pub fn temperature(self, temperature: Temperature) -> String {
        let imperial = || format!("{:.0} °F", temperature.c() * 1.8 + 32.0);
        self.both(format!("{:.0} °C", temperature.c()), imperial)
    }
}

fn millimetres(length: Length, digits: usize) -> String {
    format!("{} mm", figure(length.mm(), digits))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_read_as_on_a_tape() {
        let metric = |mm| Units::Metric.on_tape(Length::from_mm(mm));
        assert_eq!(metric(1350.0), "1350 mm");
        assert_eq!(metric(6.5), "6.5 mm");
        let imperial = |mm| Units::Imperial.on_tape(Length::from_mm(mm));
        assert_eq!(imperial(25.4), "1 in (25.4 mm)");
        assert_eq!(imperial(28.575), "1-1/8 in (28.6 mm)");
        assert_eq!(imperial(4.8), "3/16 in (4.8 mm)");
        assert_eq!(imperial(0.0), "0 in (0 mm)");
        assert_eq!(imperial(-10.0), "-3/8 in (-10 mm)");
    }

    #[test]
    fn holes_and_thicknesses_read_as_on_a_drill_and_a_calliper() {
        let hole = Length::from_mm(5.5);
        assert_eq!(Units::Metric.drill(hole), "5.5 mm");
        assert_eq!(Units::Imperial.drill(hole), "7/32 in (5.5 mm)");
        assert_eq!(Units::Metric.on_calliper(hole), "5.5 mm");
        assert_eq!(Units::Imperial.on_calliper(hole), "0.217 in (5.5 mm)");
    }

    #[test]
    fn what_must_be_kept_is_never_shown_smaller() {
        let kept = |units: Units, mm| units.on_tape_at_least(Length::from_mm(mm));
        assert_eq!(kept(Units::Imperial, 50.0), "2 in (50 mm)");
        assert_eq!(kept(Units::Imperial, 1350.0), "53-3/16 in (1350 mm)");
        assert_eq!(kept(Units::Metric, 152.4), "153 mm");
        assert_eq!(kept(Units::Metric, 1350.0), "1350 mm");
    }

    #[test]
    fn lengths_to_keep_are_shown_no_smaller_from_a_metre_on_too() {
        let kept = |units: Units, mm| units.shown_at_least(Length::from_mm(mm));
        assert_eq!(kept(Units::Metric, 152.4), "153 mm");
        assert_eq!(kept(Units::Metric, 999.7), "1.00 m");
        assert_eq!(kept(Units::Metric, 1004.0), "1.01 m");
        assert_eq!(kept(Units::Imperial, 50.0), "2 in");
    }

    #[test]
    fn torques_and_masses_show_both_units_where_wanted() {
        assert_eq!(Units::Metric.torque(Torque::from_nm(9.5)), "9.5 N·m");
        // 9.5 N·m / 0.112984829 = 84.1 lbf·in
        assert_eq!(
            Units::Imperial.torque(Torque::from_nm(9.5)),
            "84 lbf·in (9.5 N·m)"
        );
        assert_eq!(Units::Imperial.mass(Mass::from_kg(20.0)), "44 lb (20 kg)");
    }

    #[test]
    fn temperatures_are_shown_to_the_degree() {
        assert_eq!(
            Units::Metric.temperature(Temperature::from_c(60.0)),
            "60 °C"
        );
        assert_eq!(
            Units::Imperial.temperature(Temperature::from_c(60.0)),
            "140 °F (60 °C)"
        );
    }
}
