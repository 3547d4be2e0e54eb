//! The cheapest sizes, as found apart from the program: of 100 small jobs by trying every combination
//! of cables (`tests/sizing/brute_force.py`), of 20 radial ones by a general solver of integer programs
//! (`tests/sizing/radial.py`). The continuous integration makes the expected prices anew.

use std::collections::BTreeMap;
use std::fs;

use longlead::diagnostic::{Sources, render};
use longlead::sizing::Sizing;
use longlead::{job, route, sizing};
use serde_json::Value;

use super::support::{Planned, WORKSHOP, files, root};

const EQUAL: f64 = 1e-6;

/// Jobs whose sizes are the cheapest, though the program does not prove it within its work: a radial
/// job with close rivals.
const UNPROVED: [&str; 1] = ["radial-14"];

fn sized(text: &str) -> Sizing {
    let catalog = &WORKSHOP.catalog;
    let mut sources = Sources::default();
    let source = sources.add("job.toml", text);
    let job = job::load(source, &sources, catalog)
        .unwrap_or_else(|mistakes| panic!("{}", render(&mistakes, &sources, false)));
    sizing::choose(&job, &route::trace(&job, catalog), catalog)
}

/// What is wrong with the sizes of each job of a folder.
fn wrong(folder: &str, expected: &str, jobs: usize) -> Vec<String> {
    let expected = fs::read_to_string(root().join(expected)).unwrap();
    let expected: BTreeMap<String, Value> = serde_json::from_str(&expected).unwrap();
    let paths = files(folder);
    assert_eq!((paths.len(), expected.len()), (jobs, jobs));
    let mut wrong = Vec::new();
    for path in paths {
        let name = path.file_stem().unwrap().to_str().unwrap();
        let proof = sized(&fs::read_to_string(&path).unwrap()).proof;
        let price = expected[name]["price"].as_f64().unwrap();
        let cheapest = (proof.price - price).abs() <= EQUAL;
        let honest = proof.bound <= price + EQUAL;
        let proved = proof.proved || UNPROVED.contains(&name);
        if !(cheapest && honest && proved && proof.keeps_limits) {
            wrong.push(format!("{name}: {price} expected, {proof:?}"));
        }
    }
    wrong
}

#[test]
fn the_sizes_of_small_jobs_are_the_cheapest_of_all_combinations() {
    let wrong = wrong(
        "tests/sizing/small",
        "tests/sizing/expected/small.json",
        100,
    );
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_sizes_of_radial_jobs_are_those_of_an_integer_program() {
    let wrong = wrong(
        "tests/sizing/radial",
        "tests/sizing/expected/radial.json",
        20,
    );
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Proof is a matter of how long it is looked for: what shortens the search must not cost it here.
#[test]
fn the_sizes_of_the_demo_jobs_are_proved() {
    for path in files("templates/jobs") {
        let proof = Planned::of_file(&path).plan.sizing.proof;
        assert!(proof.proved, "{}: {proof:?}", path.display());
    }
}
