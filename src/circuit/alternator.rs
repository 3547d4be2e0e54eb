//! What an alternator can give.

use crate::catalog::{Assumption, Catalog};
use crate::job::{AlternatorFile, Season, Speed, State};

/// The most amperes that an alternator gives in a state: less while the engine idles, and less on
/// the hottest day. What the job does not give comes from the catalog.
pub fn most_a(alternator: &AlternatorFile, state: &State, catalog: &Catalog) -> f64 {
    let part = |word| catalog.assumed(word).value.fraction();
    let cold = match state.speed {
        Speed::Cruise => alternator.limit.a(),
        Speed::Idle => alternator.limit_idle.map_or_else(
            || alternator.limit.a() * part(Assumption::AlternatorIdleOutput),
            |given| given.a(),
        ),
    };
    let hot = || {
        let given = alternator.hot_output.map(|part| part.fraction());
        given.unwrap_or_else(|| part(Assumption::AlternatorHotOutput))
    };
    match state.season {
        Season::Cold => cold,
        Season::Hot => cold * hot(),
    }
}
