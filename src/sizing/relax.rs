//! From sizes and circuits to a problem of pure numbers.
//!
//! The volts that a limit counts are a sum of amperes times ohms along the way, so they are linear
//! in the resistances as long as the amperes do not change. They do change a little, with loads of
//! fixed power and where current has two ways. A limit is therefore taken as it stands at one set of
//! outfits, and lowered until it asks no more than the truth at the corners of all options; what it
//! still lets pass is judged exactly.

use std::collections::BTreeMap;

use rayon::prelude::*;

use super::exact::{Exact, LimitKey, VoltLimit, Volts};
use super::ohms::Ohms;
use super::outfit::{Outfit, Stock};
use super::problem::{Choice, Limit, Problem, spread};
use super::shorted::Here;
use crate::circuit::{Faults, Wiring};

/// A set of outfits with its states solved.
pub struct Sample<'a> {
    /// The outfits; position = lead id.
    pub outfits: Vec<Outfit>,
    /// The job so wired.
    pub wiring: Wiring<'a>,
    /// The states.
    pub volts: Volts,
    /// What dead shorts draw.
    pub faults: Faults,
}

impl<'a> Sample<'a> {
    /// Solves the states with a set of outfits.
    pub fn of(stock: &Stock<'a>, outfits: Vec<Outfit>) -> Self {
        let wiring = stock.wiring(&outfits);
        Self {
            volts: Volts::of(&wiring, &stock.leeway),
            faults: Faults::of(&wiring),
            wiring,
            outfits,
        }
    }

    /// The same of what is worked out already.
    pub fn known(exact: Exact<'a>, outfits: Vec<Outfit>) -> Self {
        Self {
            outfits,
            wiring: exact.wiring,
            volts: exact.volts,
            faults: exact.faults,
        }
    }

    /// The shorts in it.
    pub fn here(&self) -> Here<'_, 'a> {
        Here {
            wiring: &self.wiring,
            faults: &self.faults,
            outfits: &self.outfits,
        }
    }
}

/// Turns limits on volts into sums.
pub struct Relaxer<'s, 'a> {
    stock: &'s Stock<'a>,
    options: &'s [Vec<Outfit>],
    /// The thickest outfits, the thinnest, and further ones.
    pub samples: Vec<Sample<'a>>,
    /// Position of every limit in each sample.
    known: Vec<BTreeMap<LimitKey, usize>>,
    /// Resistances of the options.
    pub ohms: Ohms<'a>,
}

/// What a size counts for in mass by the turn of its lead, so that no two choices weigh the same.
const TURN_KG: f64 = 0.01;

/// Leads whose ohms move a limit by less than this, in volts, are left out of it.
const LEAST_MOVE_V: f64 = 1e-6;

impl<'s, 'a> Relaxer<'s, 'a> {
    /// The first sample is of the thickest outfits, the second of the thinnest.
    pub fn of(stock: &'s Stock<'a>, options: &'s [Vec<Outfit>], samples: Vec<Sample<'a>>) -> Self {
        let keyed = |sample: &Sample<'_>| {
            let limits = sample.volts.limits.iter().enumerate();
            limits
                .map(|(position, limit)| (limit.key(), position))
                .collect()
        };
        Self {
            known: samples.iter().map(keyed).collect(),
            ohms: Ohms::of(stock, &samples),
            stock,
            options,
            samples,
        }
    }

    /// The problem of a job: every limit that the thinnest outfits break and that is not `lost`
    /// on any size, as it stands at both ends.
    pub fn problem(&self, lost: &[LimitKey]) -> Problem {
        let mut problem = Problem {
            leads: self.choices(),
            order: self.order(),
            ..Problem::default()
        };
        let thickest = self.samples.first();
        let limits = thickest.map_or(&[][..], |sample| &sample.volts.limits);
        let keys = limits.par_iter().map(VoltLimit::key);
        let tight = keys.filter(|key| !lost.contains(key) && !self.is_slack(key));
        let at_ends = tight.flat_map_iter(|key| {
            let ends = self.samples.iter().enumerate().take(2);
            ends.filter_map(move |(end, sample)| {
                let here = (&sample.outfits[..], &sample.volts);
                Some(self.hopeful(self.limit_in(end, &key)?, here))
            })
        });
        problem.limits.par_extend(at_ends);
        problem
    }

    /// The leads by name.
    fn order(&self) -> Vec<usize> {
        let turns = &self.stock.turns;
        let mut order: Vec<usize> = (0..turns.len()).collect();
        order.sort_by(|a, b| turns[*a].total_cmp(&turns[*b]));
        order
    }

    fn choices(&self) -> Vec<Vec<Choice>> {
        let leads = self.options.iter().enumerate();
        leads
            .map(|(lead, outfits)| {
                let turn = self.stock.turns[lead];
                let choice = |outfit: &Outfit| Choice {
                    price: outfit.price,
                    // Of leads that are alike in all else the one whose name comes first is thicker,
                    // wherever it stands in the file.
                    mass: self.stock.candidate(lead, outfit).mass_kg
                        + TURN_KG * turn * outfit.rung as f64,
                };
                outfits.iter().map(choice).collect()
            })
            .collect()
    }

    /// A limit as a sample found it, where the sample's state has an operating point.
    fn limit_in(&self, sample: usize, key: &LimitKey) -> Option<&VoltLimit> {
        let position = self.known[sample].get(key)?;
        let volts = &self.samples[sample].volts;
        let limit = &volts.limits[*position];
        let solved = &volts.runs[limit.state].solved;
        let works = solved.solution.converged && solved.collapsed().is_empty();
        works.then_some(limit)
    }

    fn is_slack(&self, key: &LimitKey) -> bool {
        let thinnest = self.limit_in(1, key);
        thinnest.is_some_and(|limit| !limit.is_broken())
    }

    /// A limit as it stands at a set of outfits: exact there, and right nearby.
    pub fn tangent(&self, limit: &VoltLimit, (outfits, volts): (&[Outfit], &Volts)) -> Limit {
        self.along(limit, outfits, &volts.slopes(limit))
    }

    /// The same with the slopes known.
    fn along(&self, limit: &VoltLimit, outfits: &[Outfit], slopes: &[f64]) -> Limit {
        let mut base = limit.harm;
        let mut terms = Vec::new();
        for (lead, slope) in slopes.iter().copied().enumerate() {
            if slope == 0.0 {
                continue;
            }
            let volt = |outfit: &Outfit| slope * self.ohm(lead, outfit, limit.state, slope);
            let adds: Vec<f64> = self.options[lead].iter().map(volt).collect();
            if spread(&adds) >= LEAST_MOVE_V {
                base -= volt(&outfits[lead]);
                terms.push((lead, adds));
            }
        }
        Limit {
            most: limit.most - base,
            terms,
        }
    }

    /// The same, lowered so that it asks no more than the truth at any sample.
    pub fn hopeful(&self, limit: &VoltLimit, (outfits, volts): (&[Outfit], &Volts)) -> Limit {
        let slopes = volts.slopes(limit);
        let key = limit.key();
        let mut tangent = self.along(limit, outfits, &slopes);
        let over = (0..self.samples.len()).filter_map(|sample| {
            let truth = self.limit_in(sample, &key)?.harm;
            let theirs = &self.samples[sample].outfits;
            let moved = tangent.terms.iter().map(|(lead, _)| {
                let slope = slopes[*lead];
                let ohm = |outfit: &Outfit| self.ohm(*lead, outfit, limit.state, slope);
                slope * (ohm(&theirs[*lead]) - ohm(&outfits[*lead]))
            });
            Some(limit.harm + moved.sum::<f64>() - truth)
        });
        tangent.most += over.fold(0.0, f64::max);
        tangent
    }

    fn ohm(&self, lead: usize, outfit: &Outfit, state: usize, harm_per_ohm: f64) -> f64 {
        let ohms = self.ohms.in_state(self.stock, lead, outfit, state);
        ohms.worse(harm_per_ohm)
    }
}
