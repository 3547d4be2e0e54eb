//! How materials conduct and keep heat.

use super::quantity;

quantity! {
    /// The resistance of a material to the flow of heat, held in kelvin metres per watt.
    ThermalResistivity, "a thermal resistivity", examples r#""5 K m/W""#, Unsigned,
    base from_k_m_per_w,
    ["K m/W", "K·m/W"] = 1.0,
}

quantity! {
    /// The heat that a volume takes up for each degree, held in joules per kelvin and cubic metre.
    VolumetricHeat, "a volumetric heat", examples r#""1.7 MJ/(K m3)""#, Unsigned,
    base from_j_per_k_m3,
    ["MJ/(K m3)", "MJ/(K·m³)"] = 1e6,
    ["J/(K m3)", "J/(K·m³)"] = 1.0,
}
