//! Cable check: what a cable really is, from what can be measured on an offcut.
//!
//! Strands, weight, resistance and diameter each tell the area of metal, but for what the metal is
//! and how much longer the strands are than the cable. For each metal the area and that length are
//! fitted to all that was measured; the metal for which they agree best is the likely one.

mod fit;
mod sample;
mod verdict;

pub use sample::{Sample, Strands};
pub use verdict::{Guess, Usable, Verdict, check};
