//! Heat: how warm a lead gets, by the standards for cables.
//!
//! Steady temperature by IEC 60287-1-1 and 60287-2-1: what the conductor makes flows through its
//! insulation into still air. Short runs by the cable as one lump, the conductor with the part of
//! the insulation's heat that IEC 60853-2 gives it. The tables of the setting decide what a lead
//! may carry for hours; this model gives its resistance, judges what no table treats (cranking,
//! winching) and tells where a table looks wrong.

mod build;
mod course;
mod cycle;
mod judge;
mod laid;

pub use build::Build;
pub use cycle::{Run, Times};
pub use judge::{Carried, judge};
pub use laid::{HOTTEST, Laid};
