//! Mass, and mass for each length.

use super::{Length, quantity};

quantity! {
    /// A mass, held in kilograms.
    Mass, "a mass", examples r#""1.2 kg" or "40 g""#, Unsigned,
    base from_kg,
    ["kg"] = 1.0,
    ["g"] = 1e-3,
    // International yard and pound agreement of 1959.
    ["lb"] = 0.453_592_37,
    ["oz"] = 0.453_592_37 / 16.0,
}

impl Mass {
    /// In kilograms.
    pub const fn kg(self) -> f64 {
        self.get()
    }
}

quantity! {
    /// The mass of a cable for each length of it, held in kilograms per metre.
    MassPerLength, "a mass per length", examples r#""540 g/m""#, Unsigned,
    base from_kg_per_m,
    ["g/m", "kg/km"] = 1e-3,
    ["kg/m"] = 1.0,
}

impl MassPerLength {
    /// Of one length.
    pub fn of(self, length: Length) -> Mass {
        Mass::from_kg(self.get() * length.m())
    }
}
