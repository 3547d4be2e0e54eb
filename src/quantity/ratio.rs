//! Parts of a whole.

use super::quantity;

quantity! {
    /// A ratio, held as a fraction of one.
    Ratio, "a percentage", examples r#""80 %""#, Unsigned,
    base from_fraction,
    ["%", "percent"] = 0.01,
}

impl Ratio {
    /// As a fraction of one.
    pub const fn fraction(self) -> f64 {
        self.get()
    }

    /// In percent.
    pub const fn percent(self) -> f64 {
        self.get() * 100.0
    }
}
