//! What was measured on an offcut.

use crate::catalog::MeasuringRow;
use crate::quantity::{Length, Mass, Quantity, QuantityError, Resistance, Temperature};

/// Strands of a conductor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strands {
    /// How many.
    pub count: u32,
    /// Diameter of one.
    pub diameter: Length,
}

impl Quantity for Strands {
    const NAME: &'static str = "a number of strands with their diameter";
    const EXAMPLES: &'static str = r#""396 x 0.40 mm""#;

    fn parse(text: &str) -> Result<Self, QuantityError> {
        let text = text.trim();
        if text.is_empty() {
            return Err(QuantityError::Empty);
        }
        let not_a_number = || QuantityError::NotANumber {
            text: text.to_owned(),
        };
        let (count, diameter) = text.split_once(['x', '×', '*']).ok_or_else(not_a_number)?;
        let count: u32 = count.trim().parse().map_err(|_| not_a_number())?;
        let diameter = Length::parse(diameter)?;
        if count == 0 || diameter <= Length::ZERO {
            return Err(QuantityError::NotKnown {
                text: text.to_owned(),
                known: "at least one strand, thicker than nothing".to_owned(),
            });
        }
        Ok(Self { count, diameter })
    }
}

/// All that was measured. Weight and resistance are those of `length` of the bare conductor.
#[derive(Debug, Clone)]
pub struct Sample {
    /// Its strands.
    pub strands: Option<Strands>,
    /// Weight of a length, insulation off.
    pub weight: Option<Mass>,
    /// Resistance of a length.
    pub resistance: Option<Resistance>,
    /// That length.
    pub length: Length,
    /// Temperature of the conductor when its resistance was measured.
    pub temperature: Temperature,
    /// Diameter of the bare conductor.
    pub diameter: Option<Length>,
    /// How far all that may be off.
    pub doubts: MeasuringRow,
}

impl Sample {
    /// How many things were measured.
    pub fn measured(&self) -> usize {
        let told = [
            self.strands.is_some(),
            self.weight.is_some(),
            self.resistance.is_some(),
            self.diameter.is_some(),
        ];
        told.into_iter().filter(|told| *told).count()
    }
}
