//! A battery as a voltage behind a resistance.

use crate::catalog::{Catalog, ChemistryRow, RestPoint};
use crate::job::{BatteryFile, CrankStandard, Job, Season};
use crate::quantity::{Ratio, Temperature};

/// Open-circuit volts and internal ohms at a charge and temperature.
///
/// The volts lie on straight lines between the rest points of the chemistry, and rise or fall with
/// the temperature of its cells.
/// The resistance comes from the user's figure, taken to be measured warm, else from the cold-crank
/// rating by the definition of its standard: R = volts lost / rated current, at the test's cold.
/// From there to the warm end it falls in a straight line. Sources stand in the catalog's row.
pub fn model(
    battery: &BatteryFile,
    charge: Ratio,
    temperature: Temperature,
    catalog: &Catalog,
) -> (f64, f64) {
    let twelfths = battery.voltage.v() / 12.0;
    let Some(row) = catalog.chemistry(battery.chemistry.as_str()) else {
        // The catalog's check makes sure that every chemistry has a row.
        return (battery.voltage.v(), 1.0);
    };
    let volts = rest_v(row, charge, temperature) * twelfths;
    let warm_part = row.warm_resistance.fraction();
    let cold_ohm = match (battery.internal_resistance, battery.cold_crank) {
        (Some(warm), _) => warm.ohm() / warm_part,
        (None, Some(current)) => {
            let lost = match battery.crank_standard {
                CrankStandard::SaeJ537 => row.sae_loss,
                CrankStandard::En50342 => row.en_loss,
            };
            lost.v() * twelfths / current.a()
        }
        // Ruled out when the job is read.
        (None, None) => 1.0,
    };
    let warmth = (temperature.c() - row.cold.c()) / (row.warm.c() - row.cold.c());
    let part = 1.0 - (1.0 - warm_part) * warmth.clamp(0.0, 1.0);
    (volts, cold_ohm * part)
}

/// Open-circuit volts of a battery of nominally 12 V.
fn rest_v(row: &ChemistryRow, charge: Ratio, temperature: Temperature) -> f64 {
    let warmer = temperature.c() - row.rest_at.c();
    on_the_line(&row.rest, charge) + row.rise.v() * f64::from(row.cells) * warmer
}

/// Volts between the two points round a charge; those of the last point beyond it.
fn on_the_line(points: &[RestPoint], charge: Ratio) -> f64 {
    let between = points.windows(2).find_map(|pair| match pair {
        [low, high] if charge <= high.charge => {
            let part = (charge - low.charge) / (high.charge - low.charge);
            Some(low.voltage.v() + (high.voltage.v() - low.voltage.v()) * part.max(0.0))
        }
        _ => None,
    });
    let last = points.last().map_or(0.0, |point| point.voltage.v());
    between.unwrap_or(last)
}

/// Temperature that batteries have in a season.
pub fn temperature(job: &Job, season: Season) -> Temperature {
    match season {
        Season::Cold => job.cold,
        Season::Hot => job.hot,
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use super::*;
    use crate::diagnostic::Sources;

    fn volts(chemistry: &str, percent: f64, celsius: f64) -> f64 {
        let catalog = Catalog::embedded(&mut Sources::default()).unwrap();
        let row = catalog.chemistry(chemistry).unwrap();
        let charge = Ratio::from_fraction(percent / 100.0);
        rest_v(row, charge, Temperature::from_c(celsius))
    }

    #[test]
    fn lithium_iron_phosphate_is_flat_in_the_middle() {
        let chemistry = "lithium iron phosphate";
        let middle = volts(chemistry, 80.0, 25.0) - volts(chemistry, 40.0, 25.0);
        let bottom = volts(chemistry, 10.0, 25.0) - volts(chemistry, 0.0, 25.0);
        assert!(middle < 0.2, "{middle}");
        assert!(bottom > 2.0, "{bottom}");
    }

    #[test]
    fn lead_acid_is_nearly_straight() {
        let half = volts("flooded", 50.0, 25.0);
        let ends = f64::midpoint(volts("flooded", 0.0, 25.0), volts("flooded", 100.0, 25.0));
        assert!((half - ends).abs() < 0.05);
    }

    #[test]
    fn the_six_cells_of_a_cold_lead_acid_battery_rest_lower() {
        let lost = volts("flooded", 100.0, 25.0) - volts("flooded", 100.0, -25.0);
        assert!((lost - 6.0 * 0.2e-3 * 50.0).abs() < 1e-12);
    }

    #[test]
    fn a_charge_between_two_points_lies_on_the_line_between_them() {
        assert!((volts("flooded", 87.5, 25.0) - 12.575).abs() < 1e-12);
        assert!((volts("flooded", 100.0, 25.0) - 12.7).abs() < 1e-12);
        assert!((volts("flooded", 0.0, 25.0) - 11.8).abs() < 1e-12);
    }
}
