//! Opening times between the published points of a curve.
//!
//! Between two points both time and current are taken on logarithmic scales, as such curves are
//! drawn. Every reading leans to the safe side at the ends of the published range.

use super::Curve;
use crate::quantity::{Duration, Ratio, Temperature};

impl Curve {
    /// How long the device certainly holds a current (fast edge of the band).
    ///
    /// Infinite below the first point with a lower limit; above the last one the time falls with
    /// the square of the current.
    pub fn holds_for(&self, of_rating: Ratio) -> Duration {
        let points = self.edge(|point| point.at_least);
        let (Some(first), Some(last)) = (points.first(), points.last()) else {
            return Duration::ZERO;
        };
        let percent = of_rating.percent();
        let seconds = if percent <= first.0 {
            // The lowest published point is the current that it carries for ever.
            f64::INFINITY
        } else if percent >= last.0 {
            last.1 * (last.0 / percent).powi(2)
        } else {
            between(&points, percent)
        };
        Duration::from_s(seconds)
    }

    /// Within how long the device certainly opens (slow edge of the band); `None` when it need not
    /// open at all.
    ///
    /// Above the last point the same heat opens it, so the time falls with the square of the
    /// current, but never below the quickest that it can open.
    pub fn opens_within(&self, of_rating: Ratio) -> Option<Duration> {
        let points = self.edge(|point| point.at_most);
        let (first, last) = (points.first()?, points.last()?);
        let percent = of_rating.percent();
        let seconds = if percent < first.0 {
            return None;
        } else if percent >= last.0 {
            let by_heat = last.1 * (last.0 / percent).powi(2);
            by_heat.max(self.quickest.s().min(last.1))
        } else {
            between(&points, percent)
        };
        Some(Duration::from_s(seconds))
    }

    /// Part of its rating that the device carries in air of a temperature: in a straight line
    /// between the published points, and as at the last one beyond them.
    pub fn carries_at(&self, air: Temperature) -> Ratio {
        let points = self.rerating.iter().flat_map(|rerating| &rerating.point);
        let points: Vec<(f64, f64)> = points
            .map(|point| (point.temperature.c(), point.carries.fraction()))
            .collect();
        let above = points.iter().position(|point| point.0 > air.c());
        let fraction = match (above, points.first(), points.last()) {
            (Some(0), Some(first), _) => first.1,
            (Some(next), ..) => {
                let ((cool, more), (warm, less)) = (points[next - 1], points[next]);
                more + (less - more) * (air.c() - cool) / (warm - cool)
            }
            (None, _, Some(last)) => last.1,
            (None, _, None) => 1.0,
        };
        Ratio::from_fraction(fraction)
    }

    /// The published points of one edge: percent and seconds.
    fn edge(&self, time: impl Fn(&super::CurvePoint) -> Option<Duration>) -> Vec<(f64, f64)> {
        self.point
            .iter()
            .filter_map(|point| Some((point.percent.percent(), time(point)?.s())))
            .collect()
    }
}

fn between(points: &[(f64, f64)], percent: f64) -> f64 {
    let pair = points
        .windows(2)
        .find(|pair| pair[0].0 <= percent && percent <= pair[1].0);
    let Some([(low, slow), (high, fast)]) = pair else {
        return 0.0;
    };
    let part = (percent / low).ln() / (high / low).ln();
    slow * (fast / slow).powf(part)
}
