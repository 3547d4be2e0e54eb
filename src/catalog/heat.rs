//! Reference tables on heat: insulation, stranding, and how cables lose heat to the air.

use super::basis::Basis;
use super::conductors::Insulation;
use crate::file::table;
use crate::quantity::{Ratio, ThermalResistivity, VolumetricHeat};

table! {
    /// How an insulation material conducts and keeps heat.
    pub struct InsulationRow as "insulation row" {
        /// The material.
        material: Insulation,
        /// Its thermal resistivity.
        resistivity: ThermalResistivity,
        /// Heat that a volume of it takes up for each degree.
        volumetric_heat: VolumetricHeat,
        /// Publication and clause.
        citation: String,
        /// How far it can be trusted.
        basis: Basis,
    }
}

table! {
    /// How full of metal a conductor is.
    pub struct StrandingRow as "stranding row" {
        /// Stranding class of IEC 60228.
        class: u32,
        /// Part of the circle round the conductor that is metal.
        fill: Ratio,
        /// Publication and clause.
        citation: String,
        /// How far it can be trusted.
        basis: Basis,
    }
}

table! {
    /// How cables in still air lose heat: h = Z / D^g + E in W/(m2 K^(5/4)), D the diameter of one cable in metres.
    pub struct InstallationRow as "installation row" {
        /// How they lie, in words; the name of the row.
        arrangement: String,
        /// Cables that lie so, each losing heat alike.
        cables: u32,
        /// The constant Z.
        z: f64,
        /// The constant E.
        e: f64,
        /// The constant g.
        g: f64,
        /// Publication and clause.
        citation: String,
        /// How far it can be trusted.
        basis: Basis,
    }
}
