//! Physical quantities, conductor sizes, threads and money, each in a file of its own.
//!
//! Inside the program a quantity is a newtype over one base unit, so that metres and millimetres
//! cannot be mixed up. People write quantities as text with a unit; [`Quantity::parse`] is the only
//! door in, and it accepts metric and imperial units alike.

mod area;
mod conductor_size;
mod currency;
mod date;
mod electrical;
mod error;
mod length;
mod mass;
mod metal;
mod money;
mod number;
mod percent;
mod ratio;
mod shown;
mod temperature;
mod thermal;
mod thread;
mod time;
mod torque;
mod volume;

pub use area::Area;
pub use conductor_size::ConductorSize;
pub use currency::Currency;
pub use date::Date;
pub use electrical::{
    Capacitance, Charge, Current, Power, Resistance, ResistancePerLength, Voltage,
};
pub use error::QuantityError;
pub use length::Length;
pub use mass::{Mass, MassPerLength};
pub use metal::{Density, Resistivity};
pub use money::Money;
pub use percent::{Markup, Percent};
pub use ratio::Ratio;
pub use shown::figure;
pub use temperature::{Temperature, TemperatureDifference};
pub use thermal::{ThermalResistivity, VolumetricHeat};
pub use thread::Thread;
pub use time::Duration;
pub use torque::Torque;
pub use volume::Volume;

/// A value that people write as text with a unit.
pub trait Quantity: Sized {
    /// What it is called in a message, with its article: `a length`.
    const NAME: &'static str;
    /// Spellings that a message may offer: `"1.35 m" or "4 ft 3 in"`.
    const EXAMPLES: &'static str;

    /// Reads the text that a person wrote.
    ///
    /// # Errors
    /// When the number or the unit is missing, unknown or out of range.
    fn parse(text: &str) -> Result<Self, QuantityError>;
}

/// Declares a quantity held in one base unit as `f64`.
///
/// Each row names the unit spellings and how many base units one of them is.
macro_rules! quantity {
    (
        $(#[$doc:meta])*
        $name:ident, $article:literal, examples $examples:literal, $sign:ident,
        base $base:ident,
        $( [$($spelling:literal),+] = $factor:expr ),+ $(,)?
    ) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default, serde::Serialize)]
        #[serde(transparent)]
        pub struct $name(f64);

        impl $name {
            /// Nothing of it.
            pub const ZERO: Self = Self(0.0);

            /// Every accepted unit with its factor to the base unit.
            pub const UNITS: &'static [(&'static [&'static str], f64)] =
                &[$((&[$($spelling),+], $factor)),+];

            /// From a number of base units.
            pub const fn $base(value: f64) -> Self {
                Self(value)
            }

            /// The number of base units.
            pub const fn get(self) -> f64 {
                self.0
            }

            /// The larger of two.
            pub fn max(self, other: Self) -> Self {
                Self(self.0.max(other.0))
            }

            /// The smaller of two.
            pub fn min(self, other: Self) -> Self {
                Self(self.0.min(other.0))
            }

            /// Total order, for sorting.
            pub fn total_cmp(&self, other: &Self) -> std::cmp::Ordering {
                self.0.total_cmp(&other.0)
            }
        }

        impl $crate::quantity::Quantity for $name {
            const NAME: &'static str = $article;
            const EXAMPLES: &'static str = $examples;

            fn parse(text: &str) -> Result<Self, $crate::quantity::QuantityError> {
                $crate::quantity::number::simple(
                    text, Self::UNITS, $crate::quantity::number::Sign::$sign).map(Self)
            }
        }

        impl std::ops::Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl std::ops::AddAssign for $name {
            fn add_assign(&mut self, other: Self) {
                self.0 += other.0;
            }
        }

        impl std::ops::Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl std::ops::Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }

        impl std::ops::Div<f64> for $name {
            type Output = Self;
            fn div(self, divisor: f64) -> Self {
                Self(self.0 / divisor)
            }
        }

        impl std::ops::Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }

        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(items: I) -> Self {
                // Not `sum`: of no items at all it is minus zero, which would be shown.
                items.fold(Self::ZERO, |total, item| total + item)
            }
        }
    };
}
pub(crate) use quantity;
