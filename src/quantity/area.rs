//! Cross-sections and openings.

use super::quantity;

quantity! {
    /// An area, held in square millimetres.
    Area, "an area", examples r#""50 mm2""#, Unsigned,
    base from_mm2,
    ["mm2", "mm²"] = 1.0,
    ["cm2", "cm²"] = 100.0,
    ["in2"] = 645.16,
}

impl Area {
    /// In square millimetres.
    pub const fn mm2(self) -> f64 {
        self.get()
    }
}
