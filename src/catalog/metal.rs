//! Metals by which a cable is told apart from what it is sold as, and how well people measure.

use super::basis::Basis;
use crate::file::{table, words};
use crate::quantity::{Density, Length, Ratio, Resistivity, Temperature, TemperatureDifference};

words! {
    /// A metal that strands are drawn from.
    pub enum Metal as "a metal" {
        /// Annealed copper, plain or tinned: the tin is too thin to weigh.
        Copper = "copper",
        /// Aluminium with a copper skin of 10 % by volume.
        CladTenth = "copper-clad aluminium, 10 %",
        /// Aluminium with a copper skin of 15 % by volume.
        CladSeventh = "copper-clad aluminium, 15 %",
        /// Aluminium.
        Aluminium = "aluminium",
    }
}

table! {
    /// What a metal weighs and conducts.
    pub struct MetalRow as "metal row" {
        /// The metal.
        metal: Metal,
        /// Its density.
        density: Density,
        /// Its resistivity at 20 C.
        resistivity: Resistivity,
        /// Reciprocal of the temperature coefficient at 0 C.
        beta: Temperature,
        /// Publication and clause.
        citation: String,
        /// How far it can be trusted.
        basis: Basis,
    }
}

table! {
    /// How far a measurement by hand may be off, nineteen times of twenty, and what is taken of a conductor that was not measured. One row in all.
    pub struct MeasuringRow as "measuring row" {
        /// Diameter of a strand, by calliper or micrometer.
        strand: Length,
        /// Diameter of the bare conductor.
        diameter: Ratio,
        /// Weight.
        weight: Ratio,
        /// Length.
        length: Ratio,
        /// Resistance, by four wires.
        resistance: Ratio,
        /// Temperature of the conductor.
        temperature: TemperatureDifference,
        /// How much longer the strands are than the cable, because they are laid in a twist.
        lay: Ratio,
        /// How far that may be off.
        lay_doubt: Ratio,
        /// Part of the round of a bare stranded conductor that is metal.
        fill: Ratio,
        /// How far that may be off.
        fill_doubt: Ratio,
        /// Publication, or the word `judgement`.
        source: String,
    }
}
