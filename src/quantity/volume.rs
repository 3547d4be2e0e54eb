//! Room that things take.

use super::quantity;

quantity! {
    /// A volume, held in litres.
    Volume, "a volume", examples r#""20 l" or "350 ml""#, Unsigned,
    base from_l,
    ["l", "L", "dm3"] = 1.0,
    ["ml", "cm3"] = 1e-3,
    // An inch is 25.4 mm, a US gallon 231 cubic inches.
    ["in3"] = 0.016_387_064,
    ["gal"] = 3.785_411_784,
}

impl Volume {
    /// In litres.
    pub const fn l(self) -> f64 {
        self.get()
    }

    /// Of a box.
    pub fn of_box(length: super::Length, width: super::Length, height: super::Length) -> Self {
        Self::from_l(length.m() * width.m() * height.m() * 1e3)
    }
}
