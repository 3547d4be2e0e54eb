//! What a meter's display is worth.

use crate::quantity::{Ratio, Voltage};

/// A meter with several ranges, each ten times as coarse as the one before.
#[derive(Debug, Clone, Copy)]
pub struct Meter {
    /// How far a reading may be off, as a part of it.
    pub error: Ratio,
    /// The step of the finest range.
    pub step: Voltage,
}

/// Steps of one range; common practice for a hand meter.
const COUNTS: f64 = 4000.0;

impl Default for Meter {
    /// A usual hand meter: 0.5 % and 0.1 mV, common practice.
    fn default() -> Self {
        Self {
            error: Ratio::from_fraction(0.005),
            step: Voltage::from_v(1e-4),
        }
    }
}

impl Meter {
    /// The step in which a voltage is shown, in volts.
    pub fn step_v(&self, volts: f64) -> f64 {
        let mut step = self.step.v();
        while volts.abs() > step * COUNTS {
            step *= 10.0;
        }
        step
    }

    /// How far off the display may be at a voltage, in volts.
    pub fn off_v(&self, volts: f64) -> f64 {
        self.error.fraction() * volts.abs() + self.step_v(volts)
    }

    /// The spread of what it shows of one voltage, as a standard deviation in volts. The step counts
    /// as evenly spread, which makes it a little more than a quarter.
    pub fn spread_v(&self, volts: f64) -> f64 {
        let step = self.step_v(volts) / 12_f64.sqrt();
        (self.error.fraction() * volts).hypot(step)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_range_is_ten_times_as_coarse() {
        let meter = Meter::default();
        let steps = [0.2, 0.4, 0.41, -3.9, 12.6, 48.0].map(|volts| meter.step_v(volts));
        for (found, wanted) in steps.into_iter().zip([1e-4, 1e-4, 1e-3, 1e-3, 1e-2, 1e-1]) {
            assert!((found - wanted).abs() < 1e-12, "{found} {wanted}");
        }
    }
}
