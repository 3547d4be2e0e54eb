//! The whole `check` command beside a general circuit simulator on the same networks.
//!
//! The simulator gets what `check` judges: the decks of every state and of every worst corner, and
//! those of the dead shorts whose currents the faults list. It is started once for each deck, as its
//! batch mode is used. The same job with everything fixed that was chosen for it shows which part of
//! `check` is judging a network, as the simulator does, and which is choosing it.

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
    println!("states: the decks of states and worst corners; all: those of dead shorts as well;");
    println!("in brackets: those of states alone");
    println!(
        "{:20} {:>13} {:>9} {:>9} {:>10} {:>9}   {:>13} {:>13}",
        "job",
        "states, all",
        "check ms",
        "fixed ms",
        "states ms",
        "all ms",
        "all / check",
        "all / fixed"
    );
    let catalog = catalog();
    for job in jobs("templates/jobs") {
        line(&job, &fixed(&job, &catalog));
    }
}

fn line(job: &Path, fixed: &Path) {
    let (states, shorts) = decks(job);
    let simulated = |decks: &[PathBuf]| -> f64 {
        let each = decks
            .iter()
            .map(|deck| process(Command::new(SIMULATOR).arg("-b").arg(deck)));
        each.sum()
    };
    let (mut checks, mut judged) = (Vec::new(), Vec::new());
    let (mut of_states, mut of_all) = (Vec::new(), Vec::new());
    for _ in 0..TURNS {
        checks.push(process(Command::new(PROGRAM).arg("check").arg(job)));
        judged.push(process(Command::new(PROGRAM).arg("check").arg(fixed)));
        let seconds = simulated(&states);
        of_states.push(seconds);
        of_all.push(seconds + simulated(&shorts));
    }
    let (check, judged) = (median(checks), median(judged));
    let (of_states, of_all) = (median(of_states), median(of_all));
    println!(
        "{:20} {:6} {:6} {:9.1} {:9.1} {:10.1} {:9.1}   {:5.1} ({:4.1}) {:6.1} ({:4.1})",
        name(job),
        states.len(),
        states.len() + shorts.len(),
        check * 1e3,
        judged * 1e3,
        of_states * 1e3,
        of_all * 1e3,
        of_all / check,
        of_states / check,
        of_all / judged,
        of_states / judged
    );
}

/// Writes every deck of a job to a file of its own: those of states and corners, and those of shorts.
fn decks(job: &Path) -> (Vec<PathBuf>, Vec<PathBuf>) {
    const START: &str = "* state: ";
    const SHORT: &str = "* short\n";
    let mut show = Command::new(PROGRAM);
    show.args(["show", "circuit"]).arg(job);
    let shown = show.args(["--as", "spice", "--shorts"]).output().unwrap();
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
    let (mut states, mut shorts) = (Vec::new(), Vec::new());
    for (number, deck) in decks.iter().enumerate() {
        let file = scratch().join(format!("{}-{number}.cir", name(job)));
        fs::write(&file, deck).unwrap();
        assert!(
            works(Command::new(SIMULATOR).arg("-b").arg(&file)),
            "{SIMULATOR} does not solve {}",
            file.display()
        );
        let kind = if deck.contains(SHORT) {
            &mut shorts
        } else {
            &mut states
        };
        kind.push(file);
    }
    (states, shorts)
}
