//! The whole `check` command beside a general circuit simulator on the same networks.
//!
//! The simulator gets the decks of every state and of every worst corner that `check` judges. It
//! is started once for each deck, as its batch mode is used; what one start with one deck takes
//! stands in a column of its own. The same job with everything fixed that was chosen for it shows
//! which part of `check` is judging a network, as the simulator does, and which is choosing it.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::fixed::fixed;
use crate::timing::{PROGRAM, median, process, works};
use crate::workshop::{catalog, jobs, name, scratch};

const SIMULATOR: &str = "ngspice";
const TURNS: usize = 7;

/// Prints a line for each demo job.
pub fn compare() {
    println!("`check` beside a circuit simulator ({SIMULATOR} -b, a process for each deck)");
    if !works(Command::new(SIMULATOR).arg("--version")) {
        println!("skipped: `{SIMULATOR}` cannot be run");
        return;
    }
    println!("medians of {TURNS} turns; check: the whole command, reading and printing included");
    println!("fixed: the same job with every size and device fixed to what was chosen for it");
    println!(
        "job                  decks  check ms  fixed ms  one deck ms  all decks ms  all decks / \
         check  all decks / fixed"
    );
    let catalog = catalog();
    for job in jobs("templates/jobs") {
        line(&job, &fixed(&job, &catalog));
    }
}

fn line(job: &Path, fixed: &Path) {
    let decks = decks(job);
    let (mut checks, mut judged) = (Vec::new(), Vec::new());
    let (mut singles, mut wholes) = (Vec::new(), Vec::new());
    for _ in 0..TURNS {
        checks.push(process(Command::new(PROGRAM).arg("check").arg(job)));
        judged.push(process(Command::new(PROGRAM).arg("check").arg(fixed)));
        let simulated = decks
            .iter()
            .map(|deck| process(Command::new(SIMULATOR).arg("-b").arg(deck)));
        let simulated: Vec<f64> = simulated.collect();
        wholes.push(simulated.iter().sum());
        singles.extend(simulated);
    }
    let (check, judged, whole) = (median(checks), median(judged), median(wholes));
    println!(
        "{:20} {:5}  {:8.1}  {:8.1}  {:11.1}  {:12.1}  {:17.1}  {:17.1}",
        name(job),
        decks.len(),
        check * 1e3,
        judged * 1e3,
        median(singles) * 1e3,
        whole * 1e3,
        whole / check,
        whole / judged
    );
}

/// Writes every deck of a job to a file of its own.
fn decks(job: &Path) -> Vec<PathBuf> {
    const START: &str = "* state: ";
    let mut show = Command::new(PROGRAM);
    show.args(["show", "circuit"]).arg(job);
    let shown = show.args(["--as", "spice"]).output().unwrap();
    let text = String::from_utf8(shown.stdout).unwrap();
    let mut decks: Vec<String> = Vec::new();
    for line in text.lines() {
        if line.starts_with(START) {
            decks.push(String::new());
        }
        if let Some(deck) = decks.last_mut() {
            deck.push_str(line);
            deck.push('\n');
        }
    }
    assert!(!decks.is_empty(), "no decks for {}", job.display());
    let numbered = decks.iter().enumerate();
    numbered
        .map(|(number, deck)| {
            let file = scratch().join(format!("{}-{number}.cir", name(job)));
            fs::write(&file, deck).unwrap();
            assert!(
                works(Command::new(SIMULATOR).arg("-b").arg(&file)),
                "{SIMULATOR} does not solve {}",
                file.display()
            );
            file
        })
        .collect()
}
