//! The worst corner of a state: every uncertain figure at the end that does most harm.
//!
//! Where all answers of a quantity to the figures keep their sign, the corner that they point to is
//! the worst one.

use std::sync::Arc;

use super::frame::Frame;
use super::network::{BranchOwner, Draw, Network};
use super::operate::{Solved, collapsed};
use super::slopes::Slopes;
use super::solve::Solution;
use super::sparse::Factors;
use super::tolerance::{Doubt, Figure, Uncertain, uncertain};
use super::wiring::Wiring;
use crate::check::HAIR;

/// A quantity that a limit is set to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Quantity {
    /// Volts from one node to another.
    Across {
        /// The node that should be higher.
        higher: usize,
        /// The node that should be lower.
        lower: usize,
    },
    /// Volts lost between a source and a load, out and back.
    Lost {
        /// Positive and negative node of the source.
        source: (usize, usize),
        /// Positive and negative node of the load.
        load: (usize, usize),
    },
    /// Amperes through a branch, by position, from its start to its end.
    Through(usize),
}

impl Quantity {
    /// Its value as solved.
    pub fn of(self, network: &Network, volts: &[f64]) -> f64 {
        let weights = self.weights(network);
        weights
            .iter()
            .map(|(node, weight)| volts[*node] * weight)
            .sum()
    }

    /// What is lost between a source and a load is the cables' affair; how full the batteries are is
    /// not.
    fn is_moved_by(self, figure: Figure) -> bool {
        let of_source = matches!(figure, Figure::SourceVolts(_) | Figure::SourceOhm(_));
        !(of_source && matches!(self, Self::Lost { .. }))
    }

    /// The nodes whose volts it is the weighted sum of.
    pub fn weights(self, network: &Network) -> Vec<(usize, f64)> {
        match self {
            Self::Across { higher, lower } => vec![(higher, 1.0), (lower, -1.0)],
            Self::Lost { source, load } => vec![
                (source.0, 1.0),
                (source.1, -1.0),
                (load.0, -1.0),
                (load.1, 1.0),
            ],
            Self::Through(index) => {
                let branch = &network.branches[index];
                vec![
                    (branch.from, 1.0 / branch.ohm),
                    (branch.to, -1.0 / branch.ohm),
                ]
            }
        }
    }
}

/// Which way a quantity does harm.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Harm {
    /// When it is small.
    Low,
    /// When it is large.
    High,
}

impl Harm {
    /// 1 where more is worse, else -1.
    pub fn sign(self) -> f64 {
        match self {
            Self::Low => -1.0,
            Self::High => 1.0,
        }
    }
}

/// A quantity as planned and at its worst corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Worst {
    /// With every figure as planned.
    pub nominal: f64,
    /// At the worst corner.
    pub worst: f64,
    /// The doubt that moves it most, if any moves it.
    pub doubt: Option<Doubt>,
    /// The corner at which it is worst; none where that is as planned.
    at: Option<usize>,
}

/// Where an uncertain figure stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum End {
    Low,
    Planned,
    High,
}

impl End {
    fn towards(harm: f64) -> Self {
        if harm > 0.0 { Self::High } else { Self::Low }
    }
}

/// One corner, solved.
#[derive(Debug, Clone)]
pub struct Corner {
    ends: Vec<End>,
    /// The network at the corner.
    pub network: Network,
    /// Its volts.
    pub solution: Solution,
    /// Its conductances factored, once something was asked of them.
    factors: Option<Factors>,
}

/// A state with the corners looked at so far.
#[derive(Debug, Clone)]
pub struct Corners {
    /// The state with every figure as planned.
    pub solved: Arc<Solved>,
    uncertain: Vec<Uncertain>,
    /// The corners; the first is the one at which everything starves the loads.
    pub found: Vec<Corner>,
    /// The conductances as planned factored, once something was asked of them.
    factors: Option<Factors>,
}

/// Rounds in which the corner may turn out to lie elsewhere.
const MOST_ROUNDS: usize = 3;

impl Corners {
    /// Solves a state as planned and where everything starves its loads.
    pub fn of(wiring: &Wiring<'_>, frame: &Frame) -> Self {
        Self::of_solved(wiring, frame, Solved::of(wiring, frame))
    }

    /// The same with every alternator able to give what it gives cold and at full speed; `None`
    /// where no alternator gives all that it can in the state as it is.
    pub fn at_full_output(wiring: &Wiring<'_>, frame: &Frame, run: &Self) -> Option<Self> {
        let solved = &run.solved;
        let mut sources = solved.network.sources.iter();
        let at_limit = sources.any(|source| {
            let amps = source
                .current(solved.across(source.positive, source.negative))
                .0;
            source
                .limit_a
                .is_some_and(|limit| amps >= limit * (1.0 - HAIR))
        });
        at_limit.then(|| Self::of_solved(wiring, frame, Solved::with_full_output(wiring, frame)))
    }

    fn of_solved(wiring: &Wiring<'_>, frame: &Frame, solved: Solved) -> Self {
        let solved = Arc::new(solved);
        let (network, celsius) = (&solved.network, &solved.temperatures_c);
        let uncertain = uncertain(wiring, network, celsius, &frame.items);
        let starving = uncertain.iter().map(starving).collect();
        let mut corners = Self {
            solved,
            uncertain,
            found: Vec::new(),
            factors: None,
        };
        corners.solve(starving);
        corners
    }

    /// Every figure that is not known exactly.
    pub fn uncertain(&self) -> &[Uncertain] {
        &self.uncertain
    }

    /// Names of the loads, of those that count, that work as stated no more where everything
    /// starves them.
    pub fn starved_names(&self, counts: impl Fn(&Draw) -> bool) -> Vec<Arc<str>> {
        let Some(corner) = self.found.first() else {
            return Vec::new();
        };
        let starved = collapsed(&corner.network, &corner.solution.volts);
        let counting = starved.into_iter().filter(|draw| counts(draw));
        counting.map(|draw| Arc::clone(&draw.name)).collect()
    }

    /// A quantity at its worst corner.
    pub fn worst(&mut self, quantity: Quantity, harm: Harm) -> Worst {
        let solved = Arc::clone(&self.solved);
        let nominal = quantity.of(&solved.network, &solved.solution.volts);
        self.keep_factors(None);
        let mut moves = self.moves(None, quantity);
        let doubt = self.largest_doubt(&moves);
        let harm_sign = harm.sign();
        let mut worst = nominal;
        let mut at = None;
        for _ in 0..MOST_ROUNDS {
            let wanted = self.wanted(quantity, &moves, harm_sign);
            let position = self.corner_for(&wanted);
            self.keep_factors(Some(position));
            let corner = &self.found[position];
            let value = quantity.of(&corner.network, &corner.solution.volts);
            if corner.solution.converged && (value - worst) * harm_sign > 0.0 {
                worst = value;
                at = Some(position);
            }
            if solved.network.is_linear() || solved.solver.is_tree() {
                break;
            }
            moves = self.moves(Some(position), quantity);
            let wanted = self.wanted(quantity, &moves, harm_sign);
            if fits(&self.found[position].ends, &wanted) {
                break;
            }
        }
        Worst {
            nominal,
            worst,
            doubt,
            at,
        }
    }

    /// How a quantity, where it was found worst, answers to the resistance of each lead, per ohm;
    /// position = lead id.
    pub fn slopes(&self, quantity: Quantity, found: &Worst) -> Vec<f64> {
        self.lead_slopes(found.at, quantity)
    }

    /// How a quantity as planned answers to the resistance of each lead, per ohm; position = lead
    /// id.
    pub fn nominal_slopes(&self, quantity: Quantity) -> Vec<f64> {
        self.lead_slopes(None, quantity)
    }

    /// The network and its volts as planned, or at a corner.
    fn point(&self, at: Option<usize>) -> (&Network, &Solution) {
        match at.map(|position| &self.found[position]) {
            Some(corner) => (&corner.network, &corner.solution),
            None => (&self.solved.network, &self.solved.solution),
        }
    }

    /// Factors the conductances as planned, or at a corner, for all that is asked of them later.
    fn keep_factors(&mut self, at: Option<usize>) {
        let factors = |corners: &Self| {
            let (network, solution) = corners.point(at);
            corners.solved.solver.factors(network, solution)
        };
        match at {
            Some(position) if self.found[position].factors.is_none() => {
                self.found[position].factors = factors(self);
            }
            None if self.factors.is_none() => self.factors = factors(self),
            _ => {}
        }
    }

    /// How a quantity answers to a current put in at each node, as planned or at a corner.
    fn answer(&self, at: Option<usize>, quantity: Quantity) -> Vec<f64> {
        let solver = &self.solved.solver;
        let (network, solution) = self.point(at);
        let weights = quantity.weights(network);
        let kept = match at {
            Some(position) => &self.found[position].factors,
            None => &self.factors,
        };
        match kept {
            Some(factors) => solver.answer_of(factors, &weights),
            None => solver.answer(network, solution, &weights),
        }
    }

    fn lead_slopes(&self, at: Option<usize>, quantity: Quantity) -> Vec<f64> {
        let answer = self.answer(at, quantity);
        let slopes = self.slopes_at(at, quantity, &answer);
        let leads = slopes.network.branches.iter().enumerate();
        leads
            .take_while(|(_, branch)| matches!(branch.owner, BranchOwner::Lead(_)))
            .map(|(index, _)| slopes.to(Figure::BranchOhm(index)))
            .collect()
    }

    fn slopes_at<'a>(
        &'a self,
        at: Option<usize>,
        quantity: Quantity,
        answer: &'a [f64],
    ) -> Slopes<'a> {
        let (network, solution) = self.point(at);
        Slopes {
            network,
            volts: &solution.volts,
            answer,
            quantity,
        }
    }

    /// Amperes of a branch at its worst corner. Through the only way from source to loads most
    /// flows where everything starves them; other branches are looked at one by one.
    pub fn most_amps(&mut self, branch: usize) -> f64 {
        let quantity = Quantity::Through(branch);
        if self.solved.solver.is_bridge(branch) {
            let starved = &self.found[0];
            let planned = quantity.of(&self.solved.network, &self.solved.solution.volts);
            let most = quantity.of(&starved.network, &starved.solution.volts);
            return planned.abs().max(most.abs());
        }
        let nominal = quantity.of(&self.solved.network, &self.solved.solution.volts);
        let harm = if nominal < 0.0 { Harm::Low } else { Harm::High };
        self.worst(quantity, harm).worst.abs()
    }

    /// How much each uncertain figure moves a quantity from its middle to its upper end.
    fn moves(&self, at: Option<usize>, quantity: Quantity) -> Vec<f64> {
        let answer = self.answer(at, quantity);
        let slopes = self.slopes_at(at, quantity, &answer);
        let figures = self.uncertain.iter();
        figures
            .map(|item| {
                if quantity.is_moved_by(item.figure) {
                    slopes.to(item.figure) * (item.high - item.low) / 2.0
                } else {
                    0.0
                }
            })
            .collect()
    }

    fn largest_doubt(&self, moves: &[f64]) -> Option<Doubt> {
        let mut sums: Vec<(Doubt, f64)> = Vec::new();
        for (item, moved) in self.uncertain.iter().zip(moves) {
            let half = (item.high - item.low) / 2.0;
            for (doubt, part) in item.doubts.iter().flatten() {
                let moved = (moved * part / half).abs();
                match sums.iter_mut().find(|(known, _)| known == doubt) {
                    Some((_, sum)) => *sum += moved,
                    None => sums.push((*doubt, moved)),
                }
            }
        }
        let largest = sums.into_iter().max_by(|a, b| a.1.total_cmp(&b.1));
        largest
            .filter(|(_, moved)| *moved > 0.0)
            .map(|(doubt, _)| doubt)
    }

    /// The position of a corner that the wanted ends fit.
    fn corner_for(&mut self, wanted: &[Option<End>]) -> usize {
        let fits = |corner: &Corner| fits(&corner.ends, wanted);
        if let Some(known) = self.found.iter().position(fits) {
            return known;
        }
        let pairs = wanted.iter().zip(&self.uncertain);
        let ends = pairs.map(|(end, item)| end.unwrap_or_else(|| starving(item)));
        let ends = ends.collect();
        self.solve(ends)
    }

    /// Where each figure must stand to do a quantity most harm; `None` where it does not matter.
    fn wanted(&self, quantity: Quantity, moves: &[f64], harm_sign: f64) -> Vec<Option<End>> {
        let least = least_move(moves);
        let pairs = self.uncertain.iter().zip(moves);
        pairs
            .map(|(item, moved)| {
                if !quantity.is_moved_by(item.figure) {
                    Some(End::Planned)
                } else if moved.abs() > least {
                    Some(End::towards(moved * harm_sign))
                } else {
                    None
                }
            })
            .collect()
    }

    fn solve(&mut self, ends: Vec<End>) -> usize {
        let mut network = self.solved.network.clone();
        for (item, end) in self.uncertain.iter().zip(&ends) {
            match end {
                End::Low => network.put(item.figure, item.low),
                End::Planned => {}
                End::High => network.put(item.figure, item.high),
            }
        }
        let near = &self.solved.solution;
        let outputs = |item: &Uncertain| matches!(item.figure, Figure::ConverterVolts(_));
        // From volts that a moved output cannot hold no steps lead back to where it regulates.
        let is_near = near.converged && !self.uncertain.iter().any(outputs);
        let near = is_near.then_some(near.volts.as_slice());
        let solution = self.solved.solver.solve_from(&network, near);
        self.found.push(Corner {
            ends,
            network,
            solution,
            factors: None,
        });
        self.found.len() - 1
    }
}

/// The end that leaves loads fewer volts.
fn starving(item: &Uncertain) -> End {
    match item.figure {
        Figure::SourceVolts(_) | Figure::ConverterVolts(_) => End::Low,
        Figure::BranchOhm(_) | Figure::SourceOhm(_) | Figure::Draw(_) => End::High,
    }
}

fn fits(ends: &[End], wanted: &[Option<End>]) -> bool {
    let mut pairs = ends.iter().zip(wanted);
    pairs.all(|(end, wanted)| wanted.is_none_or(|wanted| *end == wanted))
}

/// Moves below a millionth of the largest decide nothing.
fn least_move(moves: &[f64]) -> f64 {
    moves
        .iter()
        .fold(0.0, |most: f64, moved| most.max(moved.abs()))
        * 1e-6
}
