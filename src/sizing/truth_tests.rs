//! A proof rests on numbers that ask no more than the truth: whatever keeps every limit, judged exactly,
//! they must allow.
#![allow(clippy::unwrap_used, clippy::panic)]

use std::fs;
use std::path::{Path, PathBuf};

use super::choose::choose;
use super::choosing::Choosing;
use super::ends::{Ends, Lost, positions};
use super::outfit::Stock;
use crate::catalog::Catalog;
use crate::diagnostic::{Sources, render};
use crate::job::{Job, load as load_job};
use crate::route;

/// Jobs of more leads have more rings than numbers are sure of.
const MOST_LEADS: usize = 20;
/// Random choices looked at in each job.
const CHOICES: usize = 100;
/// Leads changed at a time, at most: of choices far from a good one hardly any holds.
const MOST_CHANGED: usize = 5;

/// Figures that look random and are always the same.
struct Dice(u64);

impl Dice {
    fn below(&mut self, most: usize) -> usize {
        // Multiplier and increment of Knuth's MMIX generator.
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 33).unwrap() % most
    }
}

fn job_files() -> Vec<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let folders = ["templates/jobs", "tests/simulator/jobs"];
    let mut files: Vec<PathBuf> = folders
        .iter()
        .flat_map(|folder| fs::read_dir(root.join(folder)).unwrap())
        .map(|entry| entry.unwrap().path())
        .filter(|path| {
            path.extension()
                .is_some_and(|extension| extension == "toml")
        })
        .collect();
    files.sort();
    files
}

fn read(path: &Path, catalog: &Catalog) -> Job {
    let mut sources = Sources::default();
    let source = sources.add("job.toml", fs::read_to_string(path).unwrap());
    let job = load_job(source, &sources, catalog);
    job.unwrap_or_else(|found| panic!("{}", render(&found, &sources, false)))
}

/// How many random choices hold; each must be allowed.
fn held(job: &Job, catalog: &Catalog, dice: &mut Dice) -> usize {
    let route = route::trace(job, catalog);
    let stock = Stock::of(job, &route, catalog);
    let chosen = choose(&stock);
    if !chosen.proof.keeps_limits {
        return 0;
    }
    let ends = || Ends::of(&stock, &chosen.options);
    let lost = Lost::of(&stock, &chosen.options, &ends());
    let choosing = Choosing::of(&stock, &chosen.options, ends(), &lost);
    if !choosing.sure {
        return 0;
    }
    let best = positions(&chosen.options, &chosen.outfits);
    let mut held = 0;
    for _ in 0..CHOICES {
        let mut at = best.clone();
        for _ in 0..=dice.below(MOST_CHANGED) {
            let lead = dice.below(at.len());
            at[lead] = dice.below(chosen.options[lead].len());
        }
        if choosing.holds(&at) {
            held += 1;
            assert!(choosing.problem.allows(&at), "{}: {at:?}", job.title);
        }
    }
    held
}

#[test]
fn the_numbers_allow_every_choice_that_holds() {
    let catalog = Catalog::embedded(&mut Sources::default()).unwrap();
    let mut dice = Dice(1);
    let held: usize = job_files()
        .iter()
        .map(|path| read(path, &catalog))
        .filter(|job| job.leads.len() <= MOST_LEADS)
        .map(|job| held(&job, &catalog, &mut dice))
        .sum();
    assert!(held > 100, "{held}");
}
