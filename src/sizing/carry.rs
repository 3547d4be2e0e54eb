//! Whether a cable carries what its lead must carry.

use super::candidates::Candidate;
use crate::catalog::Catalog;
use crate::circuit::{LeadDuty, Pulse};
use crate::heat::{Laid, Run, Times};
use crate::quantity::{Current, Temperature};
use crate::route::LeadRoute;

/// What stands against a cable, with how far the figure is from its limit.
#[derive(Debug, Clone, PartialEq)]
pub enum Burden {
    /// It carries everything; the part of its ability that is left.
    Carried {
        /// What is closest to its limit, in words.
        what: String,
        /// Part of the limit that is left, from 0 to 1.
        left: f64,
    },
    /// It does not.
    Overloaded {
        /// What breaks, in words.
        what: String,
    },
}

/// Holds a cable against the duty of its lead.
pub fn burden(
    candidate: &Candidate<'_>,
    way: &LeadRoute,
    duty: &LeadDuty,
    catalog: &Catalog,
) -> Burden {
    let allowed = candidate.allowed.current;
    let over = |what: String| Burden::Overloaded { what };
    if duty.continuous > allowed || allowed <= Current::ZERO {
        return over(format!(
            "{:.0} A in the state `{}` is more than the {:.0} A allowed",
            duty.continuous.a(),
            duty.continuous_in,
            allowed.a()
        ));
    }
    let mut left = 1.0 - duty.continuous / allowed;
    let mut what = format!(
        "{:.0} A for hours of {:.0} A allowed",
        duty.continuous.a(),
        allowed.a()
    );
    // What the table allows for hours it allows for moments.
    let pulses = duty.pulses.iter().filter(|pulse| pulse.current > allowed);
    for pulse in pulses {
        let Some(heated) = Heated::by(pulse, candidate, way, duty, catalog) else {
            continue;
        };
        if heated.spare() < 0.0 {
            return over(format!(
                "{} heats it {}",
                pulse_words(pulse),
                heated.words()
            ));
        }
        if heated.spare() < left {
            left = heated.spare();
            what = format!("{} warms it {}", pulse_words(pulse), heated.words());
        }
    }
    Burden::Carried { what, left }
}

fn pulse_words(pulse: &Pulse) -> String {
    let again = match pulse.times {
        Times::Count(0 | 1) => String::new(),
        Times::Count(count) => format!(", {count} times with {} s rest", pulse.rest.s()),
        Times::WithoutEnd => format!(", again and again with {} s rest", pulse.rest.s()),
    };
    format!(
        "{:.0} A for {} s{again} ({})",
        pulse.current.a(),
        pulse.time.s(),
        pulse.when
    )
}

/// What a pulse does to a conductor.
struct Heated {
    ambient: Temperature,
    peak: Temperature,
    rating: Temperature,
}

impl Heated {
    /// The pulse finds the conductor as warm as what flows for hours makes it, and that flows on
    /// while the pulse rests. `None` where the catalog lacks a figure of the cable; the check of
    /// its heat is open then.
    fn by(
        pulse: &Pulse,
        candidate: &Candidate<'_>,
        way: &LeadRoute,
        duty: &LeadDuty,
        catalog: &Catalog,
    ) -> Option<Self> {
        let laid = Laid::on(way, candidate.cable, catalog)?;
        let runs = [
            Run {
                current: pulse.current,
                time: pulse.time,
            },
            Run {
                current: duty.continuous,
                time: pulse.rest,
            },
        ];
        Some(Self {
            ambient: way.ambient,
            peak: laid.peak(laid.steady(duty.continuous), &runs, pulse.times),
            rating: candidate.cable.rating,
        })
    }

    /// Part of the way from the air's temperature to the rating that is left; below zero past it.
    fn spare(&self) -> f64 {
        let room = (self.rating.c() - self.ambient.c()).max(f64::MIN_POSITIVE);
        (self.rating.c() - self.peak.c()) / room
    }

    fn words(&self) -> String {
        format!("to {:.0} °C of {:.0} °C", self.peak.c(), self.rating.c())
    }
}
