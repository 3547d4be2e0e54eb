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

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use super::*;
    use crate::catalog::AssumptionRow;
    use crate::diagnostic::Sources;
    use crate::file::{Reader, table};
    use crate::job::Engine;

    table! {
        /// A file with one alternator.
        pub struct File as "file" {
            /// The alternator.
            alternator: AlternatorFile,
        }
    }

    fn most(keys: &str, speed: Speed, season: Season) -> f64 {
        let text = format!(
            "[alternator]\nname = 'A'\nplace = 'bay'\nregulated = '14 V'\nlimit = '100 A'\n\
             stud = 'M8'\n{keys}"
        );
        let mut sources = Sources::default();
        let source = sources.add("job.toml", text);
        let file = Reader::read::<File>(source, &sources).table.unwrap();
        let state = State {
            name: String::new(),
            engine: Engine::Running,
            season,
            loads: Vec::new(),
            speed,
            dead: Vec::new(),
            charge: None,
        };
        most_a(
            &file.alternator,
            &state,
            &Catalog::embedded(&mut Sources::default()).unwrap(),
        )
    }

    #[test]
    fn cold_and_at_speed_it_gives_its_rating() {
        assert!((most("", Speed::Cruise, Season::Cold) - 100.0).abs() < 1e-9);
    }

    #[test]
    fn what_the_job_leaves_out_comes_from_the_catalog() {
        let row = |word| -> f64 {
            let rows: Vec<AssumptionRow> = Catalog::embedded(&mut Sources::default())
                .unwrap()
                .assumptions;
            let mut rows = rows.iter().filter(|row| row.word == word);
            rows.next().unwrap().value.fraction()
        };
        let hot = row(Assumption::AlternatorHotOutput);
        let idle = row(Assumption::AlternatorIdleOutput);
        assert!(hot < 1.0 && idle < 1.0);
        let found = most("", Speed::Idle, Season::Hot);
        assert!((found - 100.0 * hot * idle).abs() < 1e-9, "{found}");
    }

    #[test]
    fn the_makers_figures_win() {
        let keys = "limit_idle = '40 A'\nhot_output = '70 %'";
        assert!((most(keys, Speed::Idle, Season::Hot) - 28.0).abs() < 1e-9);
        assert!((most(keys, Speed::Idle, Season::Cold) - 40.0).abs() < 1e-9);
    }
}
