//! The buying plan beside a general solver of integer programs on the same orders, and how its time
//! grows with their lines.
//!
//! Ours is the whole stage: the cheapest order with proof, and all other ways to buy that it is held
//! against. The solver's time is that of its run for the cheapest order alone, its program already
//! built.

use std::env;
use std::process::Command;

use longlead::diagnostic::Sources;
use longlead::method::StepLibrary;
use longlead::plan::{self, Extras, Inputs};
use longlead::purchase::{self, Comparison, Market};
use longlead::shop;

use crate::order::Order;
use crate::timing::{exponent, median, timed, works};
use crate::workshop::{catalog, job, jobs, name, root};

const SCRIPT: &str = "tests/purchase/orders.py";
/// Every so manieth of the orders is timed.
const STRIDE: usize = 12;
const TURNS: usize = 3;

/// Prints a line for each order, and one for each demo job.
pub fn compare() {
    demo_jobs();
    println!();
    println!("orders beside an integer program (HiGHS, one thread); medians of {TURNS} runs");
    let python = env::var("LONGLEAD_PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let solves = works(Command::new(&python).args(["-c", "import highspy"]));
    if !solves {
        println!("`{python}` cannot import highspy; LONGLEAD_PYTHON may name one that can");
    }
    println!("order  lines  longlead ms  solver ms  solver / longlead");
    let (mut ratios, mut growth) = (Vec::new(), Vec::new());
    let texts = include_str!("../../purchase/orders.txt")
        .trim()
        .split("\n\n");
    for text in texts.step_by(STRIDE) {
        let order = Order::read(text);
        let lines = text.lines().filter(|line| line.contains(": ")).count();
        let runs = (0..TURNS).map(|_| timed(|| order.bought()).0);
        let ours = median(runs.collect());
        growth.push((lines as f64, ours));
        let solver = solves
            .then(|| solver_seconds(&python, &order.name))
            .flatten();
        let (shown, ratio) = match solver {
            Some(solver) => {
                ratios.push(solver / ours);
                (
                    format!("{:.2}", solver * 1e3),
                    format!("{:.2}", solver / ours),
                )
            }
            None => ("-".to_owned(), "-".to_owned()),
        };
        println!(
            "{:5}  {lines:5}  {:11.2}  {shown:>9}  {ratio:>17}",
            order.name,
            ours * 1e3
        );
    }
    println!(
        "time grows with the lines to the power {:.2}",
        exponent(&growth)
    );
    if !ratios.is_empty() {
        let least = ratios.iter().copied().fold(f64::INFINITY, f64::min);
        println!(
            "solver / longlead: median {:.2}, least {least:.2}",
            median(ratios)
        );
    }
}

fn demo_jobs() {
    println!("purchase stage of the demo jobs; medians of {TURNS} runs");
    let catalog = catalog();
    let mut sources = Sources::default();
    let library = StepLibrary::embedded(&mut sources).unwrap();
    let text = std::fs::read_to_string(root().join("templates/shops/workbench.toml")).unwrap();
    let source = sources.add("workbench.toml", text);
    let shop = shop::load(source, &sources, &catalog).unwrap();
    for file in jobs("templates/jobs") {
        let job = job(&std::fs::read_to_string(&file).unwrap(), &catalog);
        let inputs = Inputs {
            job: &job,
            shop: &shop,
            catalog: &catalog,
            library: &library,
        };
        let fittings = plan::make(inputs, Extras::NONE).fittings;
        let runs = (0..TURNS).map(|_| {
            let market = Market {
                shop: &shop,
                catalog: &catalog,
                currency: job.currency,
            };
            let comparison = Comparison::Made;
            let buy = || purchase::buy(&fittings.needs, &fittings.tools, market, comparison);
            timed(buy).0
        });
        println!("{:16} {:8.2} ms", name(&file), median(runs.collect()) * 1e3);
    }
}

/// Median of the seconds that the solver takes, by its script.
fn solver_seconds(python: &str, order: &str) -> Option<f64> {
    let mut script = Command::new(python);
    script.arg(root().join(SCRIPT)).args(["--time", order]);
    let output = script.output().ok()?;
    let text = String::from_utf8_lossy(&output.stdout);
    text.lines().last()?.trim().parse().ok()
}
