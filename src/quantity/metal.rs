//! Density and resistivity of metals.

use super::quantity;

quantity! {
    /// A density, held in kilograms per cubic metre.
    Density, "a density", examples r#""8.89 g/cm3""#, Unsigned,
    base from_kg_per_m3,
    ["g/cm3", "kg/dm3"] = 1e3,
    ["kg/m3"] = 1.0,
    // A pound is 0.45359237 kg, an inch 25.4 mm.
    ["lb/in3"] = 27_679.904_710_2,
}

quantity! {
    /// The resistance of a metal, held in ohm metres.
    Resistivity, "a resistivity", examples r#""0.017241 ohm mm2/m""#, Unsigned,
    base from_ohm_m,
    ["ohm mm2/m", "Ω mm²/m"] = 1e-6,
    ["ohm m", "Ω m"] = 1.0,
}
