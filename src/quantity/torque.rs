//! Tightening torque.

use super::quantity;

quantity! {
    /// A torque, held in newton metres.
    Torque, "a torque", examples r#""6 N.m" or "53 lbf.in""#, Unsigned,
    base from_nm,
    ["N.m", "Nm", "N·m", "N m"] = 1.0,
    ["lbf.in", "in.lbf", "lbf·in"] = 0.112_984_829,
    ["lbf.ft", "ft.lbf", "lbf·ft"] = 1.355_817_948,
}

impl Torque {
    /// In newton metres.
    pub const fn nm(self) -> f64 {
        self.get()
    }
}
