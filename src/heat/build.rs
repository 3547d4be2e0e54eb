//! How a cable is made, as far as its heat goes.

use std::f64::consts::{FRAC_PI_4, PI};

use crate::catalog::{Cable, Catalog};
use crate::quantity::{
    Area, Length, ResistancePerLength, Temperature, ThermalResistivity, VolumetricHeat,
};

/// How a cable is made, as far as its heat goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Build {
    /// Metal of the conductor.
    pub area: Area,
    /// Diameter of the circle round the conductor.
    pub conductor: Length,
    /// Diameter over the insulation.
    pub outer: Length,
    /// Resistance at 20 °C.
    pub resistance: ResistancePerLength,
    /// R(T) = R20 (beta + T) / (beta + 20).
    pub beta: Temperature,
    /// Heat that the metal takes up.
    pub metal_heat: VolumetricHeat,
    /// How badly the insulation conducts heat.
    pub insulation_resistivity: ThermalResistivity,
    /// Heat that the insulation takes up.
    pub insulation_heat: VolumetricHeat,
}

/// The conductor of a cable whose figures do not agree fills this part of its diameter: some wall
/// must be left.
const THICKEST_CONDUCTOR: f64 = 0.95;

impl Build {
    /// That of a cable, with the largest resistance that its standard allows. `None` where the
    /// catalog holds no row for its metal, its insulation or its stranding.
    pub fn of(cable: &Cable, catalog: &Catalog) -> Option<Self> {
        let metal = catalog.material(cable.material)?;
        let insulation = catalog.insulation(cable.insulation)?;
        let fill = catalog.stranding(cable.conductor_class)?.fill.fraction();
        let area = cable.size.nominal_area();
        let circle = Length::from_mm((area.mm2() / fill / FRAC_PI_4).sqrt());
        Some(Self {
            area,
            conductor: circle.min(cable.outer_diameter * THICKEST_CONDUCTOR),
            outer: cable.outer_diameter,
            resistance: cable.max_resistance,
            beta: metal.beta,
            metal_heat: metal.volumetric_heat,
            insulation_resistivity: insulation.resistivity,
            insulation_heat: insulation.volumetric_heat,
        })
    }

    /// T1, the thermal resistance of the insulation in K m/W: rho ln(D / d) / 2 pi,
    /// IEC 60287-2-1.
    pub(super) fn inside(&self) -> f64 {
        self.insulation_resistivity.get() / (2.0 * PI) * (self.outer / self.conductor).ln()
    }

    /// Heat that a metre takes up for each kelvin of the conductor, in J/(K m): the metal, and of
    /// the insulation the part that warms with it, p = 1 / (2 ln(D / d)) - 1 / ((D / d)² - 1),
    /// Van Wormer's coefficient of IEC 60853-2.
    pub(super) fn heat(&self) -> f64 {
        let wide = self.outer / self.conductor;
        let share = 1.0 / (2.0 * wide.ln()) - 1.0 / (wide * wide - 1.0);
        let ring = FRAC_PI_4 * (self.outer.m().powi(2) - self.conductor.m().powi(2));
        let metal = self.metal_heat.get() * self.area.mm2() * 1e-6;
        metal + share * self.insulation_heat.get() * ring
    }
}
