//! The whole `check` command beside a general circuit simulator on the same networks.
//!
//! The simulator is started once for each deck, as its batch mode is used. It gets the decks of every
//! state and of every worst corner; besides these the dead shorts whose currents the faults list, at
//! the ends of leads; and besides these the shorts at every metre that `check` looks at to tell how
//! much of a lead is protected, of each the one with the largest and the one with the smallest
//! current. That is still less than `check` judges: not the shorts that decide neither, nor those with
//! which the ends of protected stretches are searched for.
//!
//! The same job with everything fixed that was chosen for it shows which part of `check` is judging a
//! network, as the simulator does, and which is choosing it.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use longlead::catalog::Catalog;
use longlead::circuit;
use longlead::plan::wiring;
use longlead::protection;

use crate::fixed::fixed;
use crate::timing::{PROGRAM, median, process, works};
use crate::workshop::{catalog, chosen, job, jobs, name, scratch};

const SIMULATOR: &str = "ngspice";
const TURNS: usize = 7;
/// Turns of the many decks at every metre.
const FEW_TURNS: usize = 3;

/// Prints some lines for each demo job.
pub fn compare() {
    println!("`check` beside a circuit simulator ({SIMULATOR} -b, a process for each deck)");
    if !works(Command::new(SIMULATOR).arg("--version")) {
        println!("skipped: `{SIMULATOR}` cannot be run");
        return;
    }
    println!("check: the whole command, reading and printing included");
    println!("fixed: the same job with every size and device fixed to what was chosen for it");
    println!("medians of {TURNS} turns, of the shorts at every metre of {FEW_TURNS}");
    let catalog = catalog();
    for job in jobs("templates/jobs") {
        let fixed = fixed(&job, &catalog);
        let (check, judged) = (seconds_of_check(&job), seconds_of_check(&fixed));
        println!(
            "{}: check {:.1} ms, fixed {:.1} ms",
            name(&job),
            check * 1e3,
            judged * 1e3
        );
        simulate(&job, &catalog, (check, judged));
    }
}

fn seconds_of_check(job: &Path) -> f64 {
    let turns = (0..TURNS).map(|_| process(Command::new(PROGRAM).arg("check").arg(job)));
    median(turns.collect())
}

/// Prints a line for each set of decks.
fn simulate(job: &Path, catalog: &Catalog, (check, judged): (f64, f64)) {
    let states = written(job, "state", &shown(job, &[]));
    let listed: Vec<String> = shown(job, &["--shorts"]).split_off(states.len());
    let listed = written(job, "short", &listed);
    let metres = written(job, "metre", &at_every_metre(job, catalog));
    println!("  simulated                              decks        ms   / check   / fixed");
    let (mut decks, mut seconds) = (0, 0.0);
    for (what, files, turns) in [
        ("states and worst corners", states, TURNS),
        ("with shorts that the faults list", listed, TURNS),
        ("with shorts at every metre looked at", metres, FEW_TURNS),
    ] {
        decks += files.len();
        seconds += median((0..turns).map(|_| seconds_of_all(&files)).collect());
        println!(
            "  {what:37} {decks:6} {:9.1} {:9.1} {:9.1}",
            seconds * 1e3,
            seconds / check,
            seconds / judged
        );
    }
}

fn seconds_of_all(decks: &[PathBuf]) -> f64 {
    let each = decks
        .iter()
        .map(|deck| process(Command::new(SIMULATOR).arg("-b").arg(deck)));
    each.sum()
}

/// The decks that the program prints for a job.
fn shown(job: &Path, how: &[&str]) -> Vec<String> {
    const START: &str = "* state: ";
    let mut show = Command::new(PROGRAM);
    show.args(["show", "circuit"]).arg(job).args(how);
    let text = String::from_utf8(show.output().unwrap().stdout).unwrap();
    let decks = text.split(START).skip(1);
    let decks: Vec<String> = decks.map(|deck| format!("{START}{deck}")).collect();
    assert!(!decks.is_empty(), "no decks for {}", job.display());
    decks
}

/// The decks of shorts at every metre of positive leads that is looked at.
fn at_every_metre(file: &Path, catalog: &Catalog) -> Vec<String> {
    let job = job(&fs::read_to_string(file).unwrap(), catalog);
    let (route, sized, protection) = chosen(&job, catalog);
    let wired = wiring(&job, &route, &sized, Some(&protection), catalog);
    let leads = protection.coverage.leads.iter().map(|lead| lead.lead);
    let points = leads.flat_map(|lead| {
        let metres = protection::looked_at(&route.leads[lead.0]).into_iter();
        metres.map(move |at| (lead, at))
    });
    let decks = circuit::short_decks(&wired, &points.collect::<Vec<_>>());
    decks.into_iter().map(|deck| deck.text).collect()
}

/// Writes every deck to a file of its own.
fn written(job: &Path, kind: &str, decks: &[String]) -> Vec<PathBuf> {
    let numbered = decks.iter().enumerate();
    numbered
        .map(|(number, deck)| {
            let file = scratch().join(format!("{}-{kind}-{number}.cir", name(job)));
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
