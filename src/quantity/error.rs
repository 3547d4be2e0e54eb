//! What can be wrong with a quantity as written.

use std::fmt;

/// Why a text is not the quantity that was wanted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum QuantityError {
    /// Nothing was written.
    Empty,
    /// A number stands without a unit.
    NoUnit {
        /// The units that are taken.
        units: String,
    },
    /// The unit is none of those taken.
    UnknownUnit {
        /// The unit as written.
        unit: String,
        /// The units that are taken.
        units: String,
    },
    /// The text does not begin with a number where one is needed.
    NotANumber {
        /// The offending text.
        text: String,
    },
    /// A comma was used as the decimal sign.
    DecimalComma,
    /// The value may not be below zero.
    Negative,
    /// The text is none of the values that exist.
    NotKnown {
        /// The text as written.
        text: String,
        /// The values that exist, as one phrase.
        known: String,
    },
    /// A figure larger than anything of its kind.
    TooLarge {
        /// The largest that is taken, with its unit.
        most: &'static str,
    },
    /// No day of any calendar.
    NoSuchDay,
    /// More decimal places than the currency has, or no exact decimal.
    NotExact {
        /// The text as written.
        text: String,
    },
}

impl fmt::Display for QuantityError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => write!(f, "nothing is written here"),
            Self::NoUnit { units } => write!(f, "the unit is missing; units taken: {units}"),
            Self::UnknownUnit { unit, units } => {
                write!(f, "`{unit}` is not a unit for this; units taken: {units}")
            }
            Self::NotANumber { text } => write!(f, "`{text}` does not start with a number"),
            Self::DecimalComma => write!(f, "write the decimal sign as a point, not a comma"),
            Self::Negative => write!(f, "it cannot be below zero"),
            Self::NotKnown { text, known } => write!(f, "`{text}` is not one of: {known}"),
            Self::TooLarge { most } => write!(f, "it cannot be more than {most}"),
            Self::NoSuchDay => write!(f, "there is no such day"),
            Self::NotExact { text } => write!(f, "`{text}` is not an exact decimal amount"),
        }
    }
}

impl std::error::Error for QuantityError {}
