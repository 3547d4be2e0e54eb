//! A battery as a voltage behind a resistance.

use crate::catalog::Catalog;
use crate::job::{BatteryFile, CrankStandard};
use crate::quantity::{Ratio, Temperature};

/// Open-circuit volts and internal ohms at a charge and temperature.
///
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
    let full = charge.fraction().clamp(0.0, 1.0);
    let volts = (row.empty.v() + (row.full.v() - row.empty.v()) * full) * twelfths;
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
