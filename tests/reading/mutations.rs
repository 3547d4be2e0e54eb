//! Jobs with bytes and lines taken out, doubled or put elsewhere: read or refused, never a panic.

use std::sync::LazyLock;

use super::support::{full_catalog, read_job, text};
use longlead::catalog::Catalog;
use proptest::prelude::*;

static CATALOG: LazyLock<Catalog> = LazyLock::new(full_catalog);

static JOBS: LazyLock<Vec<String>> = LazyLock::new(|| {
    let names = ["patrol-pickup", "harbour-launch", "weekend-van"];
    let jobs = names.map(|name| text(&format!("templates/jobs/{name}.toml")));
    let small = text("tests/files/valid/job.toml");
    jobs.into_iter().chain([small]).collect()
});

/// One change to a text; positions are parts of its length.
#[derive(Debug, Clone)]
enum Change {
    Cut { at: f64, count: usize },
    Truncate { at: f64 },
    Insert { at: f64, what: String },
    DeleteLine { at: f64 },
    DoubleLine { at: f64 },
    MoveLine { from: f64, to: f64 },
}

fn change() -> impl Strategy<Value = Change> {
    let at = || 0.0..1.0;
    let what = "[\\[\\]\"'=#{},.0-9a-zA-Zé°\u{1F600}\n -]{1,6}";
    prop_oneof![
        (at(), 1usize..12).prop_map(|(at, count)| Change::Cut { at, count }),
        at().prop_map(|at| Change::Truncate { at }),
        (at(), what).prop_map(|(at, what)| Change::Insert { at, what }),
        at().prop_map(|at| Change::DeleteLine { at }),
        at().prop_map(|at| Change::DoubleLine { at }),
        (at(), at()).prop_map(|(from, to)| Change::MoveLine { from, to }),
    ]
}

fn position(at: f64, length: usize) -> usize {
    ((at * length as f64) as usize).min(length)
}

fn apply(text: &str, change: &Change) -> String {
    let mut signs: Vec<char> = text.chars().collect();
    let mut lines: Vec<&str> = text.lines().collect();
    match change {
        Change::Cut { at, count } => {
            let from = position(*at, signs.len());
            let to = (from + count).min(signs.len());
            signs.drain(from..to);
            return signs.into_iter().collect();
        }
        Change::Truncate { at } => {
            signs.truncate(position(*at, signs.len()));
            return signs.into_iter().collect();
        }
        Change::Insert { at, what } => {
            let at = position(*at, signs.len());
            signs.splice(at..at, what.chars());
            return signs.into_iter().collect();
        }
        _ if lines.is_empty() => {}
        Change::DeleteLine { at } => {
            lines.remove(position(*at, lines.len() - 1));
        }
        Change::DoubleLine { at } => {
            let at = position(*at, lines.len() - 1);
            lines.insert(at, lines[at]);
        }
        Change::MoveLine { from, to } => {
            let line = lines.remove(position(*from, lines.len() - 1));
            lines.insert(position(*to, lines.len()), line);
        }
    }
    lines.join("\n")
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    #[test]
    fn a_mangled_job_is_read_or_refused_with_a_message(
        which in 0usize..4,
        changes in prop::collection::vec(change(), 1..6),
    ) {
        let mut job = JOBS[which].clone();
        for change in &changes {
            job = apply(&job, change);
        }
        if let Err(message) = read_job("mangled.toml", &job, &CATALOG) {
            prop_assert!(message.contains("found; nothing was written"));
        }
    }
}
