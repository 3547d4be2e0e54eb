//! What the meter would show in every round of a day, were the unknown figures such and such.

use nalgebra::{DMatrix, DVector};

use super::points::Measured;
use super::round::Round;
use super::unknowns::{Unknown, Unknowns};
use crate::circuit::{BranchOwner, Figure, Network, PartKind, Quantity, Slopes};
use crate::job::LeadId;

/// The readings of a day, and the figures behind them.
#[derive(Debug)]
pub struct Model {
    /// The rounds.
    pub rounds: Vec<Round>,
    /// The figures.
    pub unknowns: Unknowns,
}

/// What the meter would show, and how that answers to every figure, in spreads of the meter.
#[derive(Debug)]
pub struct Shown {
    /// How far what was read is above what would be shown.
    pub off: DVector<f64>,
    /// Growth of each reading (row) with each figure (column).
    pub growth: DMatrix<f64>,
}

/// No contact and no conductor loses more of its resistance than to this part.
const LEAST_PART: f64 = 0.02;

impl Model {
    /// Number of readings.
    pub fn readings(&self) -> usize {
        self.rounds.iter().map(|round| round.taken.len()).sum()
    }

    /// How far what was read is above what would be shown, in spreads of the meter.
    pub fn off(&self, figures: &DVector<f64>) -> DVector<f64> {
        let mut off = Vec::with_capacity(self.readings());
        for index in 0..self.rounds.len() {
            let (network, volts) = self.solved(index, figures);
            for taken in &self.rounds[index].taken {
                let (quantity, times) = self.quantity(index, taken.measured, figures);
                let shown = times * quantity.of(&network, &volts);
                off.push((taken.volts - shown) / taken.spread_v);
            }
        }
        DVector::from_vec(off)
    }

    /// The same with how it answers to every figure.
    pub fn shown(&self, figures: &DVector<f64>) -> Shown {
        let mut growth = DMatrix::zeros(self.readings(), self.unknowns.list.len());
        let mut off = Vec::with_capacity(self.readings());
        for (index, round) in self.rounds.iter().enumerate() {
            let (network, volts) = self.solved(index, figures);
            let solver = &round.occasion.corners.solved.solver;
            let factors = solver.factors_at(&network, &volts);
            for taken in &round.taken {
                let (quantity, times) = self.quantity(index, taken.measured, figures);
                let value = quantity.of(&network, &volts);
                let weights = quantity.weights(&network);
                let answer = match &factors {
                    Some(factors) => solver.answer_of(factors, &weights),
                    None => vec![0.0; network.nodes],
                };
                let slopes = Slopes {
                    network: &network,
                    volts: &volts,
                    answer: &answer,
                    quantity,
                };
                let row = off.len();
                let mut add = |unknown: Unknown, change: f64| {
                    if let Some(column) = self.unknowns.position(unknown) {
                        growth[(row, column)] += change / taken.spread_v;
                    }
                };
                self.growth(index, &slopes, times, figures, &mut add);
                if let Measured::Elements { lead, first, last } = taken.measured {
                    self.own_growth(index, (lead, first, last), value, figures, &mut add);
                }
                off.push((taken.volts - times * value) / taken.spread_v);
            }
        }
        Shown {
            off: DVector::from_vec(off),
            growth,
        }
    }

    fn figure(&self, unknown: Unknown, figures: &DVector<f64>) -> (f64, f64) {
        let position = self.unknowns.position(unknown);
        position.map_or((0.0, 0.0), |at| (figures[at], self.unknowns.spreads[at]))
    }

    /// A figure as a part of what is planned.
    fn part(&self, unknown: Unknown, figures: &DVector<f64>) -> f64 {
        let (figure, spread) = self.figure(unknown, figures);
        (1.0 + figure * spread).max(LEAST_PART)
    }

    /// Volts above what is planned.
    fn volts(&self, unknown: Unknown, figures: &DVector<f64>) -> f64 {
        let (figure, spread) = self.figure(unknown, figures);
        figure * spread
    }

    /// Resistance of a part of a lead in a round.
    pub fn element_ohm(
        &self,
        round: usize,
        lead: LeadId,
        at: usize,
        figures: &DVector<f64>,
    ) -> f64 {
        let element = &self.rounds[round].elements[lead.0][at];
        let warmth = match element.kind {
            PartKind::Cable => self.part(Unknown::Warmth(round, lead), figures),
            _ => 1.0,
        };
        element.ohm * self.part(Unknown::Element(lead, at), figures) * warmth
    }

    fn network(&self, round: usize, figures: &DVector<f64>) -> Network {
        let mut network = self.rounds[round].network().clone();
        for branch in &mut network.branches {
            branch.ohm = match branch.owner {
                BranchOwner::Lead(lead) => {
                    let parts = 0..self.rounds[round].elements[lead.0].len();
                    let ohms = parts.map(|at| self.element_ohm(round, lead, at, figures));
                    ohms.sum()
                }
                BranchOwner::Device(at) => branch.ohm * self.part(Unknown::Device(at), figures),
                BranchOwner::Bond(at) => branch.ohm * self.part(Unknown::Bond(at), figures),
                BranchOwner::Fault => branch.ohm,
            };
        }
        for source in &mut network.sources {
            if let Some(at) = self.unknowns.source(&source.name) {
                source.volts += self.volts(Unknown::SourceVolts(at), figures)
                    + self.volts(Unknown::SourceNow(round, at), figures);
                source.ohm *= self.part(Unknown::SourceOhm(at), figures);
            }
        }
        for draw in &mut network.draws {
            let factor = self.part(Unknown::Draw(round, draw.load), figures);
            draw.kind = draw.kind.times(factor);
        }
        for converter in &mut network.converters {
            converter.volts += self.volts(Unknown::Output(converter.index), figures);
        }
        network
    }

    fn solved(&self, round: usize, figures: &DVector<f64>) -> (Network, Vec<f64>) {
        let network = self.network(round, figures);
        let planned = &self.rounds[round].occasion.corners.solved;
        // From volts that a moved output cannot hold no steps lead back to where it regulates.
        let near = network.converters.is_empty();
        let near = near.then_some(planned.solution.volts.as_slice());
        let solution = planned.solver.solve_from(&network, near);
        (network, solution.volts)
    }

    /// What a reading is a multiple of, and how many times.
    fn quantity(
        &self,
        round: usize,
        measured: Measured,
        figures: &DVector<f64>,
    ) -> (Quantity, f64) {
        match measured {
            Measured::Between(first, second) => {
                let quantity = Quantity::Across {
                    higher: first.0,
                    lower: second.0,
                };
                (quantity, 1.0)
            }
            Measured::Elements { lead, first, last } => {
                let parts = (first..=last).map(|at| self.element_ohm(round, lead, at, figures));
                // Leads are the first branches, in order.
                (Quantity::Through(lead.0), parts.sum())
            }
        }
    }

    /// How a reading answers to every figure through the network.
    fn growth(
        &self,
        round: usize,
        slopes: &Slopes<'_>,
        times: f64,
        figures: &DVector<f64>,
        add: &mut impl FnMut(Unknown, f64),
    ) {
        let network = slopes.network;
        let planned = self.rounds[round].network();
        let spread = |unknown: Unknown| self.figure(unknown, figures).1;
        for (index, branch) in network.branches.iter().enumerate() {
            let slope = times * slopes.to(Figure::BranchOhm(index));
            let ohm = planned.branches[index].ohm;
            match branch.owner {
                BranchOwner::Lead(lead) => {
                    let parts = 0..self.rounds[round].elements[lead.0].len();
                    self.ohms_growth(round, lead, parts, figures, &mut |unknown, ohm| {
                        add(unknown, slope * ohm);
                    });
                }
                BranchOwner::Device(at) => {
                    let unknown = Unknown::Device(at);
                    add(unknown, slope * ohm * spread(unknown));
                }
                BranchOwner::Bond(at) => {
                    let unknown = Unknown::Bond(at);
                    add(unknown, slope * ohm * spread(unknown));
                }
                BranchOwner::Fault => {}
            }
        }
        for (index, source) in network.sources.iter().enumerate() {
            let Some(at) = self.unknowns.source(&source.name) else {
                continue;
            };
            let by_volts = times * slopes.to(Figure::SourceVolts(index));
            for unknown in [Unknown::SourceVolts(at), Unknown::SourceNow(round, at)] {
                add(unknown, by_volts * spread(unknown));
            }
            let unknown = Unknown::SourceOhm(at);
            let ohm = planned.sources[index].ohm * spread(unknown);
            add(unknown, times * slopes.to(Figure::SourceOhm(index)) * ohm);
        }
        for (index, draw) in network.draws.iter().enumerate() {
            let unknown = Unknown::Draw(round, draw.load);
            // The slope is for each part of what is drawn now, the spread for each part of the plan.
            let part = spread(unknown) / self.part(unknown, figures);
            add(unknown, times * slopes.to(Figure::Draw(index)) * part);
        }
        for (index, converter) in network.converters.iter().enumerate() {
            let unknown = Unknown::Output(converter.index);
            let slope = times * slopes.to(Figure::ConverterVolts(index));
            add(unknown, slope * spread(unknown));
        }
    }

    /// How a reading across parts of a lead answers to these parts at the same current.
    fn own_growth(
        &self,
        round: usize,
        (lead, first, last): (LeadId, usize, usize),
        amps: f64,
        figures: &DVector<f64>,
        add: &mut impl FnMut(Unknown, f64),
    ) {
        self.ohms_growth(
            round,
            lead,
            first..last + 1,
            figures,
            &mut |unknown, ohm| {
                add(unknown, amps * ohm);
            },
        );
    }

    /// How the sum of some parts of a lead answers to the figures behind them, in ohms.
    fn ohms_growth(
        &self,
        round: usize,
        lead: LeadId,
        parts: std::ops::Range<usize>,
        figures: &DVector<f64>,
        add: &mut impl FnMut(Unknown, f64),
    ) {
        let warmth = Unknown::Warmth(round, lead);
        for at in parts {
            let element = &self.rounds[round].elements[lead.0][at];
            let unknown = Unknown::Element(lead, at);
            let own = element.ohm * self.figure(unknown, figures).1;
            if element.kind == PartKind::Cable {
                add(unknown, own * self.part(warmth, figures));
                let ohm = element.ohm * self.part(unknown, figures);
                add(warmth, ohm * self.figure(warmth, figures).1);
            } else {
                add(unknown, own);
            }
        }
    }
}
