//! The currents at which a device spares a conductor.

use super::Protective;
use crate::quantity::Current;

/// Currents at which a device opens before a conductor is harmed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spared {
    /// The least; infinite where there is none.
    pub least: Current,
    /// The largest.
    pub largest: Current,
}

/// Heat let through at a current: amperes, and amperes squared times seconds.
type Heat = (f64, f64);

impl Protective<'_> {
    /// The least and the largest current at which it certainly opens before a conductor that stands
    /// so much heat in A² s is harmed.
    pub fn spares(&self, stands_a2s: f64) -> Spared {
        let heats = self.heats();
        let mild = |heat: &Heat| heat.1 <= stands_a2s;
        let crossing = |pair: &[Heat]| crossing(pair[0], pair[1], stands_a2s);
        let least = match heats.iter().position(mild) {
            None => f64::INFINITY,
            Some(0) => heats[0].0,
            Some(first) => crossing(&heats[first - 1..=first]),
        };
        let largest = match heats.iter().rposition(mild) {
            None => 0.0,
            // Past the last one it opens as quickly as it can.
            Some(last) if last + 1 == heats.len() => {
                heats[last].0 * (stands_a2s / heats[last].1).sqrt()
            }
            Some(last) => crossing(&heats[last..=last + 1]),
        };
        Spared {
            least: Current::from_a(least),
            largest: Current::from_a(largest),
        }
    }

    /// What it lets through at the points of its curve and where it opens as quickly as it can.
    /// Between two of them the logarithms lie on a straight line.
    fn heats(&self) -> Vec<Heat> {
        let points = self.curve.point.iter().filter_map(|point| {
            let amps = (self.rating * point.percent.fraction()).a();
            Some((amps, amps * amps * point.at_most?.s()))
        });
        let mut heats: Vec<Heat> = points.collect();
        if let Some((amps, heat)) = heats.last().copied() {
            let time = heat / (amps * amps);
            let quickest = self.curve.quickest.s().min(time);
            heats.push((amps * (time / quickest).sqrt(), heat));
        }
        heats
    }
}

/// The current between two at which a device lets through so much heat.
fn crossing(from: Heat, to: Heat, heat: f64) -> f64 {
    let part = (heat / from.1).ln() / (to.1 / from.1).ln();
    from.0 * (to.0 / from.0).powf(part)
}
