//! Currents that come again and again.

use super::Laid;
use crate::quantity::{Current, Duration, Temperature};

/// A current that flows for a time; a rest is a run at what flows meanwhile.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Run {
    /// The current.
    pub current: Current,
    /// How long it flows.
    pub time: Duration,
}

/// How many times something comes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Times {
    /// So many times.
    Count(u32),
    /// Again and again for hours.
    WithoutEnd,
}

/// What one round of runs does to a temperature.
#[derive(Debug, Clone, Copy)]
struct Round {
    end: f64,
    peak: f64,
}

impl Laid {
    /// The hottest that the conductor gets while runs follow each other, the whole row of them a
    /// number of times. From a hundred times on they count as coming without end, which is no
    /// cooler.
    pub fn peak(&self, start: Temperature, runs: &[Run], times: Times) -> Temperature {
        const FEW: u32 = 100;
        let first = self.round(start.c(), runs);
        let celsius = match times {
            Times::Count(0) => start.c(),
            Times::Count(count) if count < FEW => {
                // Rounds from their own end on go ever up or ever down.
                let mut peak = first.peak;
                let mut end = first.end;
                for _ in 1..count {
                    let round = self.round(end, runs);
                    (peak, end) = (peak.max(round.peak), round.end);
                }
                peak
            }
            Times::Count(_) | Times::WithoutEnd => {
                let settled = self.round(self.settles_at(runs), runs);
                first.peak.max(settled.peak)
            }
        };
        Temperature::from_c(celsius)
    }

    /// Within a run the temperature only rises or only falls, so that the peak is at an end.
    fn round(&self, start: f64, runs: &[Run]) -> Round {
        let mut round = Round {
            end: start,
            peak: start,
        };
        for run in runs {
            let from = Temperature::from_c(round.end);
            round.end = self.after(from, run.current, run.time).c();
            round.peak = round.peak.max(round.end);
        }
        round
    }

    /// The temperature with which every round begins when rounds have come for hours: where a
    /// round ends as it starts. What a round gains falls steadily with the temperature at its
    /// start, from the coolest steady temperature of the runs to the hottest, so that secants that
    /// keep the crossing between them find it (the Illinois rule).
    fn settles_at(&self, runs: &[Run]) -> f64 {
        const NEAR_K: f64 = 1e-6;
        const MOST_STEPS: usize = 100;
        let steady = || runs.iter().map(|run| self.steady_c(run.current.a()));
        let low = steady().fold(f64::INFINITY, f64::min);
        let high = steady().fold(f64::NEG_INFINITY, f64::max);
        if !low.is_finite() {
            return self.steady_c(0.0);
        }
        let gain = |celsius: f64| self.round(celsius, runs).end - celsius;
        let (mut below, mut above) = ((low, gain(low)), (high, gain(high)));
        let mut start = high;
        let mut moved_below = None;
        for _ in 0..MOST_STEPS {
            let falls = below.1 - above.1;
            if falls <= 0.0 {
                break;
            }
            let next = (below.0 + (above.0 - below.0) * below.1 / falls).clamp(low, high);
            let near = (next - start).abs() <= NEAR_K;
            start = next;
            if near {
                break;
            }
            let gained = gain(next);
            let is_below = gained > 0.0;
            // The side that stays twice counts half, or the secants would creep.
            let stays_twice = moved_below == Some(is_below);
            if is_below {
                below = (next, gained);
                above.1 *= if stays_twice { 0.5 } else { 1.0 };
            } else {
                above = (next, gained);
                below.1 *= if stays_twice { 0.5 } else { 1.0 };
            }
            moved_below = Some(is_below);
        }
        start
    }
}
