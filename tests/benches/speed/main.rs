//! How fast the program is, beside general solvers on the same tasks, and how its time grows.
//!
//! ```text
//! cargo bench                 everything
//! cargo bench -- growth       one part alone: simulator, sizing, purchase, pack or growth
//! ```
//!
//! All figures of one run are medians on one machine, the things compared by turns.

#![allow(clippy::unwrap_used, clippy::panic)]

mod fixed;
mod growth;
#[path = "../../purchase/order.rs"]
mod order;
mod pack;
mod purchase;
mod simulator;
mod sizing;
mod timing;
mod tree;
mod workshop;

type Part = (&'static str, fn());

const PARTS: [Part; 5] = [
    ("simulator", simulator::compare),
    ("sizing", sizing::compare),
    ("purchase", purchase::compare),
    ("pack", pack::measure),
    ("growth", growth::measure),
];

fn main() {
    let words: Vec<String> = std::env::args().skip(1).collect();
    // `cargo test --all-targets` starts benchmarks too, without this word.
    if !words.iter().any(|word| word == "--bench") {
        println!("speed: run it with `cargo bench`");
        return;
    }
    let asked = |name: &str| words.iter().any(|word| word == name);
    let all = !PARTS.iter().any(|(name, _)| asked(name));
    for (name, run) in PARTS {
        if all || asked(name) {
            run();
            println!();
        }
    }
}
