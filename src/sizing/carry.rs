//! Whether a cable carries what its lead must carry.

use super::candidates::Candidate;
use crate::catalog::Catalog;
use crate::circuit::{LeadDuty, Pulse};
use crate::quantity::{Current, Duration};
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
    for pulse in &duty.pulses {
        let Some(time) = withstands(candidate, way, pulse.current, catalog) else {
            continue;
        };
        if pulse.current > allowed && time < pulse.time {
            return over(format!(
                "{} heats it past its rating in {:.1} s",
                pulse_words(pulse),
                time.s()
            ));
        }
        if pulse.current > allowed {
            let spare = 1.0 - pulse.time / time;
            if spare < left {
                left = spare;
                what = format!("{} of {:.0} s it stands", pulse_words(pulse), time.s());
            }
        }
    }
    Burden::Carried { what, left }
}

fn pulse_words(pulse: &Pulse) -> String {
    format!(
        "{:.0} A for {} s ({})",
        pulse.current.a(),
        pulse.time.s(),
        pulse.when
    )
}

/// How long a current may flow until the conductor, starting at the heat of its surroundings,
/// reaches its rating.
fn withstands(
    candidate: &Candidate<'_>,
    way: &LeadRoute,
    current: Current,
    catalog: &Catalog,
) -> Option<Duration> {
    let cable = candidate.cable;
    let row = catalog.material(cable.material)?;
    Some(row.heats_in(
        cable.size.nominal_area(),
        current,
        way.ambient,
        cable.rating,
    ))
}
