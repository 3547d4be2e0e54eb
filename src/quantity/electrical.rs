//! Volts, amps, ohms, watts and amp-hours.

use super::{Length, quantity};

quantity! {
    /// An electric potential difference, held in volts.
    Voltage, "a voltage", examples r#""12 V" or "300 mV""#, Signed,
    base from_v,
    ["V"] = 1.0,
    ["mV"] = 1e-3,
    ["kV"] = 1e3,
}

impl Voltage {
    /// In volts.
    pub const fn v(self) -> f64 {
        self.get()
    }
}

quantity! {
    /// An electric current, held in amperes.
    Current, "a current", examples r#""190 A" or "50 mA""#, Unsigned,
    base from_a,
    ["A"] = 1.0,
    ["mA"] = 1e-3,
    ["kA"] = 1e3,
}

impl Current {
    /// In amperes.
    pub const fn a(self) -> f64 {
        self.get()
    }
}

quantity! {
    /// An electric resistance, held in ohms.
    Resistance, "a resistance", examples r#""0.4 mohm" or "2 ohm""#, Unsigned,
    base from_ohm,
    ["ohm", "Ω", "Ohm"] = 1.0,
    ["mohm", "mΩ", "mOhm"] = 1e-3,
    ["uohm", "µohm", "µΩ", "uOhm"] = 1e-6,
    ["kohm", "kΩ", "kOhm"] = 1e3,
}

impl Resistance {
    /// In ohms.
    pub const fn ohm(self) -> f64 {
        self.get()
    }

    /// In milliohms.
    pub const fn milliohm(self) -> f64 {
        self.get() * 1e3
    }
}

quantity! {
    /// The resistance of a conductor for each length of it, held in ohms per metre.
    ResistancePerLength, "a resistance per length", examples r#""0.386 mohm/m" or "0.386 ohm/km""#,
    Unsigned,
    base from_ohm_per_m,
    ["mohm/m", "mΩ/m", "ohm/km", "Ω/km"] = 1e-3,
    ["ohm/m", "Ω/m"] = 1.0,
    ["ohm/1000ft", "ohm/kft"] = 1.0 / 304.8,
}

impl ResistancePerLength {
    /// Of one length.
    pub fn of(self, length: Length) -> Resistance {
        Resistance::from_ohm(self.get() * length.m())
    }
}

quantity! {
    /// A power, held in watts.
    Power, "a power", examples r#""60 W" or "2 kW""#, Unsigned,
    base from_w,
    ["W"] = 1.0,
    ["kW"] = 1e3,
    ["mW"] = 1e-3,
}

impl Power {
    /// In watts.
    pub const fn w(self) -> f64 {
        self.get()
    }
}

quantity! {
    /// A capacitance, held in farads.
    Capacitance, "a capacitance", examples r#""20 mF" or "4700 uF""#, Unsigned,
    base from_f,
    ["F"] = 1.0,
    ["mF"] = 1e-3,
    ["uF", "µF"] = 1e-6,
}

impl Capacitance {
    /// In farads.
    pub const fn f(self) -> f64 {
        self.get()
    }
}

quantity! {
    /// A battery's capacity, held in ampere-hours.
    Charge, "a capacity", examples r#""70 Ah""#, Unsigned,
    base from_ah,
    ["Ah"] = 1.0,
    ["mAh"] = 1e-3,
}

impl Charge {
    /// In ampere-hours.
    pub const fn ah(self) -> f64 {
        self.get()
    }
}
