//! How time and memory grow with the number of leads.

use std::fs;
use std::process::Command;
use std::time::{Duration, Instant};

use longlead::catalog::Catalog;
use longlead::job::Job;
use longlead::plan::wiring;
use longlead::{circuit, protection, route, sizing};

use crate::timing::{PROGRAM, exponent, median, process_with_peak, timed};
use crate::tree::{self, LEADS_OF_A_BUS};
use crate::workshop::{catalog, job, scratch};

const LEADS: [usize; 5] = [10, 30, 100, 300, 1000];
/// Between these the exponents are fitted.
const FITS: [(usize, usize); 2] = [(10, 300), (300, 1000)];
const MOST_TURNS: usize = 7;
/// No further turn starts after this.
const LONG_ENOUGH: Duration = Duration::from_secs(10);

/// Seconds of each stage, and of the whole command.
struct Turn {
    stages: [f64; 4],
    command: f64,
    peak_mib: Option<f64>,
}

impl Turn {
    fn pipeline(&self) -> f64 {
        self.stages.iter().sum()
    }
}

/// Prints a line for each number of leads, and the exponents.
pub fn measure() {
    println!("growth: a tree of buses from one battery, three states, every lead to be sized");
    println!("medians of up to {MOST_TURNS} turns; stages in this process, check as a command");
    println!(
        "leads  turns  route ms  sizing ms  protection ms  operation ms  all four ms  check ms  \
         check MiB"
    );
    let catalog = catalog();
    let rows = LEADS.map(|leads| (leads, line(leads, &catalog)));
    for (first, last) in FITS {
        let within = rows
            .iter()
            .filter(|(leads, _)| (first..=last).contains(leads));
        let within: Vec<_> = within.collect();
        let fit = |pick: fn(&(f64, f64)) -> f64| {
            let points = within.iter().map(|(leads, row)| (*leads as f64, pick(row)));
            exponent(&points.collect::<Vec<_>>())
        };
        let even = exponent(&[first, last].map(|n| (n as f64, n as f64 * (n as f64).ln())));
        println!(
            "from {first} to {last} leads time grows as leads^{:.2} (all four stages), ^{:.2} \
             (check); n log n would be ^{even:.2}",
            fit(|row| row.0),
            fit(|row| row.1),
        );
    }
}

/// Prints one line; the medians of all four stages and of the command.
fn line(leads: usize, catalog: &Catalog) -> (f64, f64) {
    let text = tree::job(leads / LEADS_OF_A_BUS);
    let file = scratch().join(format!("tree-{leads}.toml"));
    fs::write(&file, &text).unwrap();
    let job = job(&text, catalog);
    assert_eq!(job.leads.len(), leads);
    let check = || {
        let mut command = Command::new(PROGRAM);
        command.arg("check").arg(&file);
        command
    };
    let began = Instant::now();
    let mut turns = Vec::new();
    while turns.is_empty() || (turns.len() < MOST_TURNS && began.elapsed() < LONG_ENOUGH) {
        let stages = stages(&job, catalog);
        let (command, peak_mib) = process_with_peak(&mut check());
        turns.push(Turn {
            stages,
            command,
            peak_mib,
        });
    }
    let stage = |index: usize| median(turns.iter().map(|turn| turn.stages[index]).collect());
    let pipeline = median(turns.iter().map(Turn::pipeline).collect());
    let command = median(turns.iter().map(|turn| turn.command).collect());
    let peaks = turns.iter().filter_map(|turn| turn.peak_mib);
    let memory = peaks.reduce(f64::max);
    let memory = memory.map_or("?".to_owned(), |mib| format!("{mib:.1}"));
    println!(
        "{leads:5}  {:5}  {:8.2}  {:9.2}  {:13.2}  {:12.2}  {:11.2}  {:8.1}  {memory:>9}",
        turns.len(),
        stage(0) * 1e3,
        stage(1) * 1e3,
        stage(2) * 1e3,
        stage(3) * 1e3,
        pipeline * 1e3,
        command * 1e3,
    );
    (pipeline, command)
}

/// Seconds of route, sizing, protection and operation, as a plan runs them.
fn stages(job: &Job, catalog: &Catalog) -> [f64; 4] {
    let (routing, route) = timed(|| route::trace(job, catalog));
    let (sizing, sized) = timed(|| sizing::choose(job, &route, catalog));
    let (protecting, protection) = timed(|| {
        let bare = wiring(job, &route, &sized, None, catalog);
        protection::choose(&bare, &sized)
    });
    let (operating, _) = timed(|| {
        let wired = wiring(job, &route, &sized, Some(&protection), catalog);
        circuit::operate(&wired)
    });
    [routing, sizing, protecting, operating]
}
