//! How the temperature of a conductor goes while a current flows.

use super::Laid;
use crate::quantity::{Current, Duration, Temperature};

/// Largest error of one step, in kelvin. Errors fade as the temperature settles, so that they do
/// not add up to more than a few of these.
const STEP_ERROR_K: f64 = 1e-5;
/// So near to its end a temperature counts as settled.
const SETTLED_K: f64 = 1e-5;
/// A conductor that needs more steps settles so fast that it has its steady temperature.
const MOST_STEPS: usize = 20_000;

/// The course of a temperature under one current: Runge and Kutta's method of fourth order, each
/// step taken once whole and once in halves, and shortened until both agree.
struct Course<'a> {
    laid: &'a Laid,
    amps: f64,
    /// Where it ends.
    goal: f64,
    celsius: f64,
    /// The next step to try, in seconds.
    step: f64,
}

impl<'a> Course<'a> {
    fn new(laid: &'a Laid, current: Current, start: Temperature) -> Self {
        let amps = current.a();
        Self {
            laid,
            amps,
            goal: laid.steady_c(amps),
            celsius: start.c(),
            step: 1.0,
        }
    }

    fn settled(&self) -> bool {
        (self.celsius - self.goal).abs() <= SETTLED_K
    }

    /// One step of no more than `most` seconds: how long it is, and the temperature after it.
    /// `None` where no step is short enough.
    fn next(&mut self, most: f64) -> Option<(f64, f64)> {
        const SHORTEST_S: f64 = 1e-12;
        loop {
            let step = self.step.min(most);
            let whole = self.after(self.celsius, step);
            let halves = self.in_halves(step);
            let error = (halves - whole).abs() / 15.0;
            let wanted = 0.9 * (STEP_ERROR_K / error).powf(0.2);
            // An error that is no number comes of a step far too long.
            let factor = if wanted.is_nan() { 0.1 } else { wanted };
            if error <= STEP_ERROR_K {
                self.step = self.step.max(step * factor.clamp(1.0, 5.0));
                return Some((step, self.not_past_goal(halves)));
            }
            self.step = step * factor.clamp(0.1, 0.9);
            if self.step < SHORTEST_S {
                return None;
            }
        }
    }

    /// The rate depends on the temperature alone, so that no course crosses its own end.
    fn not_past_goal(&self, celsius: f64) -> f64 {
        if self.celsius < self.goal {
            celsius.min(self.goal)
        } else {
            celsius.max(self.goal)
        }
    }

    fn in_halves(&self, step: f64) -> f64 {
        self.after(self.after(self.celsius, step / 2.0), step / 2.0)
    }

    fn after(&self, start: f64, step: f64) -> f64 {
        let rate = |celsius: f64| self.laid.warming(self.amps, celsius);
        let first = rate(start);
        let second = rate(start + first * step / 2.0);
        let third = rate(start + second * step / 2.0);
        let fourth = rate(start + third * step);
        start + (first + 2.0 * second + 2.0 * third + fourth) * step / 6.0
    }

    /// The part of a step at whose end a limit is reached.
    fn part_until(&self, step: f64, limit: f64) -> f64 {
        const HALVINGS: usize = 48;
        let (mut before, mut behind) = (0.0, step);
        for _ in 0..HALVINGS {
            let middle = (before + behind) / 2.0;
            if self.in_halves(middle) < limit {
                before = middle;
            } else {
                behind = middle;
            }
        }
        behind
    }
}

impl Laid {
    /// Temperature of the conductor when a current has flown for a time.
    pub fn after(&self, start: Temperature, current: Current, time: Duration) -> Temperature {
        let mut course = Course::new(self, current, start);
        let mut left = time.s();
        for _ in 0..MOST_STEPS {
            if left <= 0.0 {
                return Temperature::from_c(course.celsius);
            }
            if course.settled() {
                break;
            }
            let Some((step, celsius)) = course.next(left) else {
                break;
            };
            course.celsius = celsius;
            left -= step;
        }
        Temperature::from_c(course.goal)
    }

    /// How long a current may flow until the conductor reaches a limit; `None` where it never does.
    pub fn reaches(
        &self,
        start: Temperature,
        current: Current,
        limit: Temperature,
    ) -> Option<Duration> {
        if start >= limit {
            return Some(Duration::ZERO);
        }
        let mut course = Course::new(self, current, start);
        if course.goal <= limit.c() + SETTLED_K {
            return None;
        }
        let mut elapsed = 0.0;
        for _ in 0..MOST_STEPS {
            let Some((step, celsius)) = course.next(f64::INFINITY) else {
                break;
            };
            if celsius >= limit.c() {
                elapsed += course.part_until(step, limit.c());
                break;
            }
            course.celsius = celsius;
            elapsed += step;
        }
        Some(Duration::from_s(elapsed))
    }
}
