//! What a sound vehicle shows at a test point, as planned and at its worst corners.

use super::day::Occasion;
use super::points::{Measured, Point};
use crate::circuit::{Harm, Network, Quantity, Wiring};
use crate::job::LeadId;

/// What a meter should show, first probe against second, in volts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Expected {
    /// As planned.
    pub volts: f64,
    /// The least at any worst corner.
    pub least_v: f64,
    /// The most at any worst corner.
    pub most_v: f64,
}

impl Expected {
    /// The same with the probes the other way round.
    #[must_use]
    pub fn reversed(self) -> Self {
        Self {
            volts: -self.volts,
            least_v: -self.most_v,
            most_v: -self.least_v,
        }
    }
}

/// Ohms of some parts of a lead, as planned and at both ends of what they may be.
struct PartOhms {
    planned: f64,
    least: f64,
    most: f64,
}

/// What a sound vehicle shows at a point in a state.
pub fn expected(wiring: &Wiring<'_>, occasion: &mut Occasion, point: &Point) -> Expected {
    match point.measured {
        Measured::Between(first, second) => {
            let quantity = Quantity::Across {
                higher: first.0,
                lower: second.0,
            };
            let (least_v, volts, most_v) = range(occasion, quantity);
            Expected {
                volts,
                least_v,
                most_v,
            }
        }
        Measured::Elements { lead, first, last } => {
            let ohms = ohms(wiring, occasion, lead, first..=last);
            let (least_a, amps, most_a) = range(occasion, Quantity::Through(lead.0));
            let products = [ohms.least, ohms.most].map(|ohm| [ohm * least_a, ohm * most_a]);
            let products = products.as_flattened().iter();
            Expected {
                volts: ohms.planned * amps,
                least_v: products.clone().copied().fold(f64::INFINITY, f64::min),
                most_v: products.copied().fold(f64::NEG_INFINITY, f64::max),
            }
        }
    }
}

/// Least, planned and most of a quantity.
fn range(occasion: &mut Occasion, quantity: Quantity) -> (f64, f64, f64) {
    let least = occasion.corners.worst(quantity, Harm::Low);
    let most = occasion.corners.worst(quantity, Harm::High);
    (least.worst, least.nominal, most.worst)
}

fn ohms(
    wiring: &Wiring<'_>,
    occasion: &Occasion,
    lead: LeadId,
    parts: std::ops::RangeInclusive<usize>,
) -> PartOhms {
    let celsius = occasion.corners.solved.temperatures_c[lead.0];
    let rules = &wiring.job.rules;
    let elements = wiring.elements(lead, celsius);
    let warmer = wiring.elements(lead, celsius + rules.tolerance_temperature.value.k());
    let mut sums = PartOhms {
        planned: 0.0,
        least: 0.0,
        most: 0.0,
    };
    for (element, warmer) in elements
        .iter()
        .zip(&warmer)
        .take(parts.end() + 1)
        .skip(*parts.start())
    {
        let part = super::unknowns::may_be_off(rules, element.kind);
        let off = element.ohm * part + (warmer.ohm - element.ohm);
        sums.planned += element.ohm;
        sums.least += element.ohm - off;
        sums.most += element.ohm + off;
    }
    sums
}

/// Amperes through a lead as planned, from its first end to its last.
pub fn lead_amps(network: &Network, volts: &[f64], lead: LeadId) -> f64 {
    Quantity::Through(lead.0).of(network, volts)
}
