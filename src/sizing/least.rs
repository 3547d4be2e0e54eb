//! What leads carry at least, whatever the sizes.
//!
//! Where a lead is the only way for its current, the thickest cables everywhere show it. On a ring
//! thicker neighbours take current from a lead, or thinner ones do; each stands at the end that leaves
//! it least.

use super::exact::Exact;
use super::outfit::{Outfit, Stock};
use crate::circuit::{Corners, LeadDuty, Quantity, is_lasting, sure_duties, wiring_loops};
use crate::job::LeadId;
use crate::quantity::Current;

/// What every lead carries at least.
pub struct LeastDuties {
    /// The duty that no sizes take from a lead; position = lead id.
    pub duties: Vec<LeadDuty>,
    /// The rungs of each lead's ladder that carry it; position = lead id.
    pub carrying: Vec<Vec<usize>>,
}

/// Rounds in which the neighbours' ends may turn out to be the other ones.
const MOST_ROUNDS: usize = 3;

impl LeastDuties {
    /// Looks at every lead; `exact` is the job with the thickest cables.
    pub fn of(stock: &Stock<'_>, exact: &mut Exact<'_>) -> Self {
        let mut duties = sure_duties(&exact.wiring, &mut exact.volts.runs);
        let carries = |lead: usize, duty: &LeadDuty| -> Vec<usize> {
            let rungs = 0..stock.ladders[lead].len();
            rungs
                .filter(|rung| stock.carries(lead, *rung, duty))
                .collect()
        };
        let leads = 0..duties.len();
        let mut carrying: Vec<Vec<usize>> =
            leads.map(|lead| carries(lead, &duties[lead])).collect();
        for lead in wiring_loops(&exact.volts.runs) {
            let ring = Ring {
                stock,
                carrying: &carrying,
                lead,
            };
            let (duty, rungs) = ring.least(&duties[lead], &exact.duties[lead]);
            duties[lead] = duty;
            carrying[lead] = rungs;
        }
        Self { duties, carrying }
    }
}

/// A lead through which current has another way.
struct Ring<'r, 'a> {
    stock: &'r Stock<'a>,
    carrying: &'r [Vec<usize>],
    lead: usize,
}

impl Ring<'_, '_> {
    /// The least duty over all cables that carry it, and those cables; `sure` is what is known of
    /// the duty, `usual` that with the thickest cables.
    fn least(&self, sure: &LeadDuty, usual: &LeadDuty) -> (LeadDuty, Vec<usize>) {
        let mut least = usual.continuous;
        let mut rungs = Vec::new();
        for rung in self.carrying[self.lead].iter().copied() {
            let continuous = self.amps(rung).max(sure.continuous);
            let duty = LeadDuty {
                continuous,
                ..sure.clone()
            };
            if self.stock.carries(self.lead, rung, &duty) {
                rungs.push(rung);
                least = least.min(continuous);
            }
        }
        let duty = LeadDuty {
            continuous: least.max(sure.continuous),
            ..sure.clone()
        };
        (duty, rungs)
    }

    /// Least current that flows for hours through a cable of the lead.
    fn amps(&self, rung: usize) -> Current {
        let states = 0..self.stock.job.states.len();
        let least = states.map(|state| self.amps_in(state, rung));
        least.fold(Current::ZERO, Current::max)
    }

    fn amps_in(&self, state: usize, rung: usize) -> Current {
        let frame = &self.stock.frames.states[state];
        if !is_lasting(self.stock.job, &frame.state) {
            return Current::ZERO;
        }
        let mut thick = vec![true; self.carrying.len()];
        let mut least = f64::INFINITY;
        for _ in 0..MOST_ROUNDS {
            let wiring = self.stock.wiring(&self.outfits(rung, &thick));
            let mut corners = Corners::of(&wiring, frame);
            if !corners.solved.solution.converged {
                return Current::ZERO;
            }
            least = least.min(corners.most_amps(self.lead));
            let flow = corners.solved.lead_amps(LeadId(self.lead)).signum();
            let slopes = corners.nominal_slopes(Quantity::Through(self.lead));
            let next: Vec<bool> = slopes.iter().map(|slope| slope * flow >= 0.0).collect();
            if next == thick {
                break;
            }
            thick = next;
        }
        Current::from_a(least)
    }

    /// A cable of the lead with its neighbours at their thick or thin ends.
    fn outfits(&self, rung: usize, thick: &[bool]) -> Vec<Outfit> {
        let end = |other: usize| {
            let rungs = &self.carrying[other];
            let end = if thick[other] {
                rungs.last()
            } else {
                rungs.first()
            };
            end.copied()
        };
        (0..self.carrying.len())
            .map(|other| {
                let rung = if other == self.lead {
                    Some(rung)
                } else {
                    end(other)
                };
                match rung {
                    Some(rung) => self.stock.plain(other, rung),
                    None => self.stock.thickest(other),
                }
            })
            .collect()
    }
}
