//! The jobs that come with the program, and those of the tests, held against the whole catalog.

use std::fs;

use super::support::{full_catalog, read_job, toml_files};
use longlead::check::CheckRule;

const FOLDERS: &[&str] = &[
    "templates/jobs",
    "tests/jobs/broken",
    "tests/jobs/odd",
    "tests/jobs/traps",
];

#[test]
fn every_job_is_read_without_a_mistake() {
    let catalog = full_catalog();
    for folder in FOLDERS {
        let files = toml_files(folder);
        assert!(!files.is_empty(), "{folder} is empty");
        for file in files {
            let text = fs::read_to_string(&file).unwrap();
            if let Err(message) = read_job(&file.display().to_string(), &text, &catalog) {
                panic!("{message}");
            }
        }
    }
}

#[test]
fn every_job_of_the_tests_tells_what_must_come_of_it() {
    for folder in &FOLDERS[1..] {
        for file in toml_files(folder) {
            let text = fs::read_to_string(&file).unwrap();
            let first = text.lines().next().unwrap_or_default();
            let known = match first.strip_prefix("# must fail: ") {
                Some(rule) => CheckRule::WORDS.iter().any(|(word, _)| *word == rule),
                None => first == "# must pass",
            };
            assert!(known, "{}: {first}", file.display());
        }
    }
}

#[test]
fn sixty_leads_are_sixty_leads() {
    let text = super::support::text("tests/jobs/odd/sixty-leads.toml");
    let job = read_job("sixty-leads.toml", &text, &full_catalog()).unwrap();
    assert_eq!(job.leads.len(), 60);
}

#[test]
fn strange_names_come_through_as_they_were_written() {
    let text = super::support::text("tests/jobs/odd/strange-names.toml");
    let job = read_job("strange-names.toml", &text, &full_catalog()).unwrap();
    assert_eq!(job.places[0].name, "tray \"A\" | left");
    assert_eq!(job.leads[1].name, "r\u{e9}turn `2`");
}
