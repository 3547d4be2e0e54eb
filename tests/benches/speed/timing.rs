//! Clocks, medians and memory.

use std::fs;
use std::process::{Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

/// The program as built for the benchmark.
pub const PROGRAM: &str = env!("CARGO_BIN_EXE_longlead");

/// Seconds that something takes, and what it gives.
pub fn timed<T>(run: impl FnOnce() -> T) -> (f64, T) {
    let began = Instant::now();
    let result = run();
    (began.elapsed().as_secs_f64(), result)
}

/// Seconds that a command takes from start to end, its output thrown away.
pub fn process(command: &mut Command) -> f64 {
    command
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null());
    timed(|| command.status().unwrap()).0
}

/// Whether a command can be run and ends well.
pub fn works(command: &mut Command) -> bool {
    command
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .is_ok_and(|status| status.success())
}

/// Seconds that a command takes, and the most memory that it holds at once, in MiB; `None` where
/// the system does not tell.
pub fn process_with_peak(command: &mut Command) -> (f64, Option<f64>) {
    command
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null());
    timed(|| {
        let mut child = command.spawn().unwrap();
        let status = format!("/proc/{}/status", child.id());
        let mut peak = None;
        while child.try_wait().unwrap().is_none() {
            let text = fs::read_to_string(&status).unwrap_or_default();
            let line = text.lines().find_map(|line| line.strip_prefix("VmHWM:"));
            let kib = line.and_then(|line| line.trim().trim_end_matches(" kB").parse::<f64>().ok());
            peak = kib.map(|kib| kib / 1024.0).or(peak);
            sleep(Duration::from_micros(500));
        }
        peak
    })
}

/// The middle of some figures.
pub fn median(mut figures: Vec<f64>) -> f64 {
    figures.sort_by(f64::total_cmp);
    let middle = figures.len() / 2;
    if figures.len().is_multiple_of(2) {
        f64::midpoint(figures[middle - 1], figures[middle])
    } else {
        figures[middle]
    }
}

/// The power of `x` that `y` grows with: the slope of the line through their logarithms by least
/// squares.
pub fn exponent(points: &[(f64, f64)]) -> f64 {
    let count = points.len() as f64;
    let logs: Vec<(f64, f64)> = points.iter().map(|(x, y)| (x.ln(), y.ln())).collect();
    let mean_x = logs.iter().map(|(x, _)| x).sum::<f64>() / count;
    let mean_y = logs.iter().map(|(_, y)| y).sum::<f64>() / count;
    let over: f64 = logs.iter().map(|(x, y)| (x - mean_x) * (y - mean_y)).sum();
    let under: f64 = logs.iter().map(|(x, _)| (x - mean_x).powi(2)).sum();
    over / under
}
