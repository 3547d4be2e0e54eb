//! The joint choice of sizes beside a general solver of integer programs on the same jobs.
//!
//! The solver's time is that of its run alone, the program already built; ours is that of the whole
//! stage, the ways already traced.

use std::env;
use std::fs;
use std::path::Path;
use std::process::Command;

use longlead::route;

use crate::timing::{PROGRAM, median, timed, works};
use crate::workshop::{catalog, job, jobs, name, root};

const SCRIPT: &str = "tests/sizing/radial.py";
const FOLDER: &str = "tests/sizing/radial";
const TURNS: usize = 5;

/// Prints a line for each radial job.
pub fn compare() {
    println!("joint sizing beside an integer program (HiGHS, one thread), radial jobs of 30 leads");
    let python = env::var("LONGLEAD_PYTHON").unwrap_or_else(|_| "python3".to_owned());
    if !works(Command::new(&python).args(["-c", "import highspy"])) {
        println!(
            "skipped: `{python}` cannot import highspy; LONGLEAD_PYTHON may name one that can"
        );
        return;
    }
    let files = jobs(FOLDER);
    if files.is_empty() || !root().join(SCRIPT).exists() {
        println!("skipped: no {SCRIPT}, or no jobs in {FOLDER}");
        return;
    }
    println!("medians of {TURNS} runs of each job");
    println!("job         longlead ms  solver ms  solver / longlead");
    let catalog = catalog();
    let mut ratios = Vec::new();
    for file in files {
        let job = job(&fs::read_to_string(&file).unwrap(), &catalog);
        let route = route::trace(&job, &catalog);
        let runs = (0..TURNS).map(|_| timed(|| longlead::sizing::choose(&job, &route, &catalog)).0);
        let ours = median(runs.collect());
        match solver_seconds(&python, &file) {
            Ok(solver) => {
                let ratio = solver / ours;
                println!(
                    "{:11} {:11.2}  {:9.2}  {ratio:17.2}",
                    name(&file),
                    ours * 1e3,
                    solver * 1e3
                );
                ratios.push(ratio);
            }
            Err(why) => println!("{:11} {:11.2}  no time: {why}", name(&file), ours * 1e3),
        }
    }
    if ratios.is_empty() {
        return;
    }
    let least = ratios.iter().copied().fold(f64::INFINITY, f64::min);
    println!(
        "solver / longlead: median {:.2}, least {least:.2}",
        median(ratios)
    );
}

/// Median of the seconds that the solver takes, by its script; else the last thing that it said.
fn solver_seconds(python: &str, file: &Path) -> Result<f64, String> {
    let mut script = Command::new(python);
    script.arg(root().join(SCRIPT)).arg(PROGRAM);
    let output = script.arg("--time").arg(file).output().unwrap();
    let text = String::from_utf8_lossy(&output.stdout);
    // The solver names itself first; the figure is the last thing said.
    let last = text.lines().last().unwrap_or_default();
    last.trim().parse().map_err(|_| {
        let said = String::from_utf8_lossy(&output.stderr);
        said.lines().last().unwrap_or("nothing said").to_owned()
    })
}
