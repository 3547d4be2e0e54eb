//! How a quantity answers to each figure of a network, from one solution of the transposed network
//! (the adjoint).

use super::corner::Quantity;
use super::network::Network;
use super::tolerance::Figure;

/// How one quantity answers to every figure of a solved network.
#[derive(Debug)]
pub struct Slopes<'a> {
    /// The network.
    pub network: &'a Network,
    /// Its volts.
    pub volts: &'a [f64],
    /// How the quantity answers to a current put in at each node.
    pub answer: &'a [f64],
    /// The quantity.
    pub quantity: Quantity,
}

impl Slopes<'_> {
    /// Change of the quantity for each unit of a figure: per ohm, per volt, or for a load's factor
    /// of one.
    pub fn to(&self, figure: Figure) -> f64 {
        match figure {
            Figure::BranchOhm(index) => self.to_branch(index),
            Figure::SourceVolts(index) | Figure::SourceOhm(index) => {
                let source = &self.network.sources[index];
                let poles = (source.positive, source.negative);
                let (amps, slope) = source.current(self.across(poles));
                match figure {
                    Figure::SourceVolts(_) => -self.reach(poles) * slope,
                    _ => self.reach(poles) * slope * amps,
                }
            }
            Figure::Draw(index) => {
                let draw = &self.network.draws[index];
                let poles = (draw.positive, draw.negative);
                let amps = draw.current(self.across(poles), self.network.floor_v).0;
                -self.reach(poles) * amps
            }
            Figure::ConverterVolts(index) => self.to_converter(index),
        }
    }

    fn to_branch(&self, index: usize) -> f64 {
        let branch = &self.network.branches[index];
        let ends = (branch.from, branch.to);
        let amps = self.across(ends) / branch.ohm;
        let own = f64::from(u8::from(self.quantity == Quantity::Through(index)));
        (self.reach(ends) - own) * amps / branch.ohm
    }

    /// More volts of the output give more current there, and draw more power at the input.
    fn to_converter(&self, index: usize) -> f64 {
        let converter = &self.network.converters[index];
        let flow = converter.flow(self.across(converter.input), self.across(converter.output));
        let given = -flow.output_by_output;
        let taken = -flow.input_by_output + self.input_of_volts(index);
        self.reach(converter.output) * given - self.reach(converter.input) * taken
    }

    /// The part of the input's answer that comes from the output's volts themselves, which the set
    /// voltage does not move.
    fn input_of_volts(&self, index: usize) -> f64 {
        let converter = &self.network.converters[index];
        let output_v = self.across(converter.output);
        let flow = converter.flow(self.across(converter.input), output_v);
        if output_v > 0.0 {
            flow.input_a / output_v
        } else {
            0.0
        }
    }

    fn across(&self, (positive, negative): (usize, usize)) -> f64 {
        self.volts[positive] - self.volts[negative]
    }

    /// How the quantity answers to a current put in at one node and taken out at another.
    fn reach(&self, (positive, negative): (usize, usize)) -> f64 {
        self.answer[positive] - self.answer[negative]
    }
}
