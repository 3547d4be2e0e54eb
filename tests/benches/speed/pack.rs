//! The whole pack of each demo job, beside the bare cost of reading what it is made from.

use std::fs;
use std::process::Command;

use crate::timing::{PROGRAM, median, process_with_peak, timed};
use crate::workshop::{catalog, job, jobs, name, root, scratch};

const TURNS: usize = 9;
/// What the pack of a demo job may take.
const GOAL: (f64, f64) = (0.5, 100.0);

/// Prints a line for each demo job.
pub fn measure() {
    println!("pack: all documents, PDF, HTML, CSV, JSON and drawings, as a command");
    println!("medians of {TURNS} turns; reading is catalog and job, in this process");
    println!("job              reading ms  pack ms  pack MiB  files  goal");
    for path in jobs("templates/jobs") {
        let text = fs::read_to_string(&path).unwrap();
        let out = scratch().join(format!("pack-{}", name(&path)));
        let shop = root().join("templates/shops/workbench.toml");
        let mut reading = Vec::new();
        let mut packing = Vec::new();
        let mut peak: Option<f64> = None;
        for _ in 0..TURNS {
            reading.push(timed(|| job(&text, &catalog())).0);
            let mut command = Command::new(PROGRAM);
            command.arg("plan").arg(&path).arg("--shop").arg(&shop);
            command.arg("--out").arg(&out).arg("--replace");
            let (seconds, most) = process_with_peak(&mut command);
            packing.push(seconds);
            peak = [peak, most].into_iter().flatten().reduce(f64::max);
        }
        let files = files(&out);
        let seconds = median(packing);
        let kept = seconds < GOAL.0 && peak.is_none_or(|mib| mib < GOAL.1);
        println!(
            "{:15}  {:10.1}  {:7.0}  {:>8}  {files:5}  {}",
            name(&path),
            median(reading) * 1e3,
            seconds * 1e3,
            peak.map_or("?".to_owned(), |mib| format!("{mib:.1}")),
            if kept { "kept" } else { "MISSED" }
        );
    }
    println!("goal: {} s and {} MiB on two cores", GOAL.0, GOAL.1);
}

/// How many files lie in a folder and the folders within it.
fn files(folder: &std::path::Path) -> usize {
    let entries = fs::read_dir(folder).into_iter().flatten();
    entries
        .map(|entry| entry.unwrap().path())
        .map(|path| if path.is_dir() { files(&path) } else { 1 })
        .sum()
}
