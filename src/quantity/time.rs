//! Durations.

use super::quantity;

quantity! {
    /// A duration, held in seconds.
    Duration, "a duration", examples r#""30 s" or "5 min""#, Unsigned,
    base from_s,
    ["s"] = 1.0,
    ["ms"] = 1e-3,
    ["min"] = 60.0,
    ["h"] = 3600.0,
}

impl Duration {
    /// In seconds.
    pub const fn s(self) -> f64 {
        self.get()
    }

    /// In minutes.
    pub const fn minutes(self) -> f64 {
        self.get() / 60.0
    }
}
