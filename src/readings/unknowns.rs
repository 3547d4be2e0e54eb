//! What is not known exactly of a vehicle on a day of readings: the figures that are fitted.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::round::Round;
use crate::catalog::RuleSet;
use crate::circuit::{BranchOwner, Figure, PartKind, Wiring};
use crate::job::{LeadId, LoadId};

/// A figure that is fitted. It counts in spreads from what is planned: nothing is as planned, one is
/// the standard deviation of sound vehicles.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Unknown {
    /// Resistance of a part of a lead, by position among its elements.
    Element(LeadId, usize),
    /// Resistance of a device, by position.
    Device(usize),
    /// Resistance of a bond, by position.
    Bond(usize),
    /// Resistance within a source, by position among the sources of the day.
    SourceOhm(usize),
    /// Voltage of a source on that day.
    SourceVolts(usize),
    /// The same in one round, which rest and surface charge move a little.
    SourceNow(usize, usize),
    /// Voltage that a converter regulates to, by its position in the job.
    Output(usize),
    /// What a load draws in a round.
    Draw(usize, LoadId),
    /// How much more the conductor of a lead resists in a round, as warmth makes it.
    Warmth(usize, LeadId),
}

/// All figures that are fitted to the readings of one day.
#[derive(Debug, Default)]
pub struct Unknowns {
    /// The figures.
    pub list: Vec<Unknown>,
    /// One spread of each: as a part of a resistance or a load, or in volts.
    pub spreads: Vec<f64>,
    /// Names of the sources.
    pub sources: Vec<Arc<str>>,
    positions: BTreeMap<Unknown, usize>,
}

/// How far a part's resistance may be off in a sound vehicle, as a part of it.
pub fn may_be_off(rules: &RuleSet, kind: PartKind) -> f64 {
    match kind {
        PartKind::Cable => {
            rules.tolerance_length.value.fraction() + rules.tolerance_conductor.value.fraction()
        }
        PartKind::Joint | PartKind::Protection | PartKind::Device | PartKind::Body => {
            rules.tolerance_joint.value.fraction()
        }
    }
}

/// A sound contact may differ by so much without anybody calling it bad. Judgement.
const CONTACT_OHM: f64 = 5e-5;

/// Part of a battery's doubt about its charge by which rounds of one day differ. Judgement.
const WITHIN_A_DAY: f64 = 0.25;

/// What is spread evenly over a range has this standard deviation, in halves of the range.
fn evenly(half: f64) -> f64 {
    half / 3_f64.sqrt()
}

impl Unknowns {
    /// The figures behind the rounds of a day.
    pub fn of(wiring: &Wiring<'_>, rounds: &[Round]) -> Self {
        let mut unknowns = Self::default();
        for (index, round) in rounds.iter().enumerate() {
            unknowns.add_branches(wiring, index, round);
            unknowns.add_items(index, round);
        }
        unknowns
    }

    /// Where a figure stands in the list.
    pub fn position(&self, unknown: Unknown) -> Option<usize> {
        self.positions.get(&unknown).copied()
    }

    /// Where a source stands among the sources of the day.
    pub fn source(&self, name: &str) -> Option<usize> {
        self.sources.iter().position(|known| **known == *name)
    }

    fn add(&mut self, unknown: Unknown, spread: f64) {
        if spread > 0.0 && !self.positions.contains_key(&unknown) {
            self.positions.insert(unknown, self.list.len());
            self.list.push(unknown);
            self.spreads.push(spread);
        }
    }

    fn add_branches(&mut self, wiring: &Wiring<'_>, index: usize, round: &Round) {
        let rules = &wiring.job.rules;
        let spread = |kind: PartKind, ohm: f64| {
            let usual = evenly(may_be_off(rules, kind));
            match kind {
                PartKind::Cable => usual,
                _ => usual.max(CONTACT_OHM / ohm),
            }
        };
        for (lead, elements) in round.elements.iter().enumerate() {
            let lead = LeadId(lead);
            for (at, element) in elements.iter().enumerate() {
                self.add(
                    Unknown::Element(lead, at),
                    spread(element.kind, element.ohm),
                );
            }
            self.add(Unknown::Warmth(index, lead), evenly(round.warmer[lead.0]));
        }
        for branch in &round.network().branches {
            match branch.owner {
                BranchOwner::Device(device) => {
                    let spread = spread(PartKind::Device, branch.ohm);
                    self.add(Unknown::Device(device), spread);
                }
                BranchOwner::Bond(bond) => {
                    let spread = spread(PartKind::Body, branch.ohm);
                    self.add(Unknown::Bond(bond), spread);
                }
                BranchOwner::Lead(_) | BranchOwner::Fault => {}
            }
        }
    }

    fn add_items(&mut self, index: usize, round: &Round) {
        let network = round.network();
        for item in round.occasion.corners.uncertain() {
            let spread = evenly((item.high - item.low) / 2.0);
            match item.figure {
                Figure::SourceVolts(at) => {
                    let source = self.named(&network.sources[at].name);
                    self.add(Unknown::SourceVolts(source), spread);
                    self.add(Unknown::SourceNow(index, source), spread * WITHIN_A_DAY);
                }
                Figure::SourceOhm(at) => {
                    let source = &network.sources[at];
                    let name = self.named(&source.name);
                    self.add(Unknown::SourceOhm(name), spread / source.ohm);
                }
                Figure::Draw(at) => {
                    let load = network.draws[at].load;
                    self.add(Unknown::Draw(index, load), spread);
                }
                Figure::ConverterVolts(at) => {
                    let converter = network.converters[at].index;
                    self.add(Unknown::Output(converter), spread);
                }
                Figure::BranchOhm(_) => {}
            }
        }
    }

    fn named(&mut self, name: &Arc<str>) -> usize {
        self.source(name).unwrap_or_else(|| {
            self.sources.push(Arc::clone(name));
            self.sources.len() - 1
        })
    }
}
