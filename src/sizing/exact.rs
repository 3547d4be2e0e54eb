//! A whole set of outfits held against every limit, exactly.

use rayon::prelude::*;

use super::carry::Burden;
use super::outfit::{Outfit, Stock};
use crate::check::HAIR;
use crate::circuit::{
    Corners, Faults, Guarding, JudgedQuantity, LeadDuty, Subject, Wiring, duties, judge,
};
use crate::job::LeadId;

/// A limit on volts that cables can better.
#[derive(Debug, Clone, Copy)]
pub struct VoltLimit {
    /// Position of the state.
    pub state: usize,
    /// What was judged.
    pub judged: JudgedQuantity,
    /// The figure at its worst corner, so turned that more of it is worse.
    pub harm: f64,
    /// How far it may go, turned alike.
    pub most: f64,
}

impl VoltLimit {
    fn of(state: usize, judged: JudgedQuantity, leeway: &Leeway) -> Self {
        let turn = judged.harm.sign();
        let mut limit = Self {
            state,
            harm: turn * judged.found.worst,
            most: turn * judged.limit,
            judged,
        };
        limit.most += leeway.of(&limit) * limit.most.abs();
        limit
    }

    /// What it is known by, whatever the sizes.
    pub fn key(&self) -> LimitKey {
        LimitKey(self.state, self.judged.rule.as_str(), self.judged.subject)
    }

    /// Whether it is broken.
    pub fn is_broken(&self) -> bool {
        self.harm > self.most + HAIR * self.most.abs()
    }

    /// Whether it is broken without any leeway.
    pub fn is_passed(&self) -> bool {
        let limit = self.judged.harm.sign() * self.judged.limit;
        self.harm > limit + HAIR * limit.abs()
    }
}

/// What a limit is known by: state, rule and what was judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct LimitKey(usize, &'static str, Subject);

/// How far limits may be passed: not at all, unless they contradict one another, so that the sizes
/// come as near to them as they can.
#[derive(Debug, Clone, Default)]
pub struct Leeway {
    /// Part of a limit on volts by which it may be passed.
    pub part: f64,
    /// Limits on volts that are kept all the same.
    pub kept: Vec<LimitKey>,
    /// Leads whose devices need not do their tasks; position = lead id.
    pub unguarded: Vec<usize>,
}

impl Leeway {
    fn of(&self, limit: &VoltLimit) -> f64 {
        if self.part > 0.0 && !self.kept.contains(&limit.key()) {
            self.part
        } else {
            0.0
        }
    }
}

/// The states of a set of outfits, with the limits on volts.
pub struct Volts {
    /// The states, solved.
    pub runs: Vec<Corners>,
    /// Every limit that cables can better.
    pub limits: Vec<VoltLimit>,
}

impl Volts {
    /// Solves and judges every state.
    pub fn of(wiring: &Wiring<'_>, leeway: &Leeway) -> Self {
        let frames = wiring.frames.states.par_iter().enumerate();
        let states = frames.map(|(state, frame)| {
            let mut run = Corners::of(wiring, frame);
            let judged = judge(wiring, &frame.state, &mut run).into_iter();
            let limit = |judged| VoltLimit::of(state, judged, leeway);
            let limits = judged.filter_map(|item| item.judged).map(limit);
            let limits: Vec<VoltLimit> = limits.collect();
            (run, limits)
        });
        let (runs, limits): (Vec<Corners>, Vec<Vec<VoltLimit>>) = states.unzip();
        Self {
            runs,
            limits: limits.concat(),
        }
    }

    /// How the harm of a limit answers to the resistance of each lead, per ohm.
    pub fn slopes(&self, limit: &VoltLimit) -> Vec<f64> {
        let judged = &limit.judged;
        let slopes = self.runs[limit.state].slopes(judged.quantity, &judged.found);
        let turn = judged.harm.sign();
        slopes.into_iter().map(|slope| slope * turn).collect()
    }
}

/// A limit that a set of outfits breaks.
#[derive(Debug, Clone)]
pub enum Broken {
    /// A lead that does not carry its duty.
    Overloaded(usize),
    /// A lead whose device does not guard it.
    Unguarded(usize),
    /// A limit on volts, by position.
    Volts(usize),
}

/// A set of outfits with everything that follows from it.
pub struct Exact<'a> {
    /// The job so wired.
    pub wiring: Wiring<'a>,
    /// Its states and limits.
    pub volts: Volts,
    /// What every lead carries.
    pub duties: Vec<LeadDuty>,
    /// What dead shorts draw.
    pub faults: Faults,
}

impl<'a> Exact<'a> {
    /// Works a set of outfits out.
    pub fn of(stock: &Stock<'a>, outfits: &[Outfit]) -> Self {
        let wiring = stock.wiring(outfits);
        let states = || {
            let mut volts = Volts::of(&wiring, &stock.leeway);
            let duties = duties(&wiring, &mut volts.runs);
            (volts, duties)
        };
        let ((volts, duties), faults) = rayon::join(states, || Faults::of(&wiring));
        Self {
            volts,
            duties,
            faults,
            wiring,
        }
    }

    /// The task of a lead's device.
    pub fn task(&self, lead: usize) -> Guarding<'_> {
        self.task_of(lead, &self.duties[lead])
    }

    /// The task of a lead's device for a given duty.
    pub fn task_of<'e>(&'e self, lead: usize, duty: &'e LeadDuty) -> Guarding<'e> {
        Guarding::of(&self.wiring, &self.faults, LeadId(lead), duty)
    }

    /// Every limit that is broken: those of the leads in order, then those on volts. Each is only
    /// worked out when it is asked for.
    pub fn broken<'e>(
        &'e self,
        stock: &'e Stock<'_>,
        outfits: &'e [Outfit],
    ) -> impl Iterator<Item = Broken> + 'e {
        let leads = outfits.iter().enumerate();
        let of_leads = leads.flat_map(|(lead, outfit)| self.broken_by(stock, lead, outfit));
        let limits = self.volts.limits.iter().enumerate();
        let of_volts = limits.filter(|(_, limit)| limit.is_broken());
        of_leads.chain(of_volts.map(|(position, _)| Broken::Volts(position)))
    }

    /// What the outfit of one lead breaks.
    fn broken_by(
        &self,
        stock: &Stock<'_>,
        lead: usize,
        outfit: &Outfit,
    ) -> impl Iterator<Item = Broken> + use<> {
        let burden = stock.burden(lead, outfit, &self.duties[lead]);
        let overloaded = matches!(burden, Burden::Overloaded { .. });
        let device = stock.device(outfit);
        let unguarded = device.is_some_and(|device| !self.task(lead).done_by(device));
        let overloaded = overloaded.then_some(Broken::Overloaded(lead));
        overloaded
            .into_iter()
            .chain(unguarded.then_some(Broken::Unguarded(lead)))
    }
}
