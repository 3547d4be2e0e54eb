//! Readings: vehicles are made here with every figure somewhere within its tolerance, a joint of
//! some goes bad, a noisy meter is held to every point of the sheet, and the verdict must name it.
//!
//! The vehicle's network is put together from its parts here, not by the model that fits it.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::{Path, PathBuf};

use longlead::catalog::RuleSet;
use longlead::circuit::{
    BranchOwner, Corners, Figure, Frame, Network, PartKind, Quantity, Solver, Wiring,
};
use longlead::diagnostic::{Sources, render};
use longlead::job::{Job, LeadId};
use longlead::plan::wiring;
use longlead::readings::{
    Agreement, Measured, Meter, Point, PointKind, Row, Sheet, Verdict, WORKSHOP_AIR, Wrong,
    on_the_day, points, sheet, verify,
};
use longlead::record;

use super::support::{Planned, WORKSHOP, files};

/// A small generator of its own, so that a case is the same on every machine (splitmix64, after
/// Steele, Lea and Flood, "Fast splittable pseudorandom number generators", 2014; from memory).
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// Evenly from 0 to 1.
    fn part(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Evenly from -1 to 1.
    fn either(&mut self) -> f64 {
        self.part() * 2.0 - 1.0
    }

    /// Normal with a standard deviation of one (Box and Muller, 1958).
    fn normal(&mut self) -> f64 {
        let (a, b) = (self.part().max(1e-300), self.part());
        (-2.0 * a.ln()).sqrt() * (std::f64::consts::TAU * b).cos()
    }
}

/// A vehicle as it really is: by how many halves of its tolerance each figure is off.
struct Vehicle {
    dice: Dice,
    off: BTreeMap<String, f64>,
    /// Ohms more than planned, by lead and position.
    bad: BTreeMap<(usize, usize), f64>,
}

impl Vehicle {
    fn new(seed: u64) -> Self {
        Self {
            dice: Dice(seed),
            off: BTreeMap::new(),
            bad: BTreeMap::new(),
        }
    }

    /// The same figure is off by the same, whenever it is asked for.
    fn off(&mut self, figure: String) -> f64 {
        let dice = &mut self.dice;
        *self.off.entry(figure).or_insert_with(|| dice.either())
    }

    fn part_off(&mut self, rules: &RuleSet, kind: PartKind, name: String) -> f64 {
        let tolerance = match kind {
            PartKind::Cable => {
                let length = rules.tolerance_length.value.fraction();
                let conductor = rules.tolerance_conductor.value.fraction();
                return length * self.off(format!("length of {name}"))
                    + conductor * self.off(format!("conductor of {name}"));
            }
            _ => rules.tolerance_joint.value.fraction(),
        };
        tolerance * self.off(name)
    }

    /// Ohms of every part of a lead in a state.
    fn lead_ohms(
        &mut self,
        wiring: &Wiring<'_>,
        state: &str,
        lead: LeadId,
        celsius: f64,
    ) -> Vec<f64> {
        let rules = &wiring.job.rules;
        let warmth = rules.tolerance_temperature.value.k();
        let warmer = warmth * self.off(format!("warmth of {} in {state}", lead.0));
        let parts = wiring.elements(lead, celsius + warmer);
        let parts = parts.into_iter().enumerate().map(|(at, part)| {
            let off = self.part_off(rules, part.kind, format!("part {at} of lead {}", lead.0));
            let bad = self.bad.get(&(lead.0, at)).copied().unwrap_or(0.0);
            part.ohm * (1.0 + off) + bad
        });
        parts.collect()
    }
}

/// The volts of a state, and the ohms of the parts of every lead in it.
struct Truth {
    network: Network,
    volts: Vec<f64>,
    ohms: Vec<Vec<f64>>,
}

impl Truth {
    fn of(vehicle: &mut Vehicle, wiring: &Wiring<'_>, state: usize) -> Self {
        let given = wiring.job.states[state].clone();
        let name = given.name.clone();
        let frame = Frame::measured(wiring.job, wiring.catalog, given);
        let corners = Corners::of(wiring, &frame);
        let solved = &corners.solved;
        let mut network = solved.network.clone();
        let rules = &wiring.job.rules;
        let mut ohms = Vec::new();
        for branch in &mut network.branches {
            match branch.owner {
                BranchOwner::Lead(lead) => {
                    let celsius = solved.temperatures_c[lead.0];
                    let parts = vehicle.lead_ohms(wiring, &name, lead, celsius);
                    branch.ohm = parts.iter().sum();
                    ohms.push(parts);
                }
                BranchOwner::Device(at) => {
                    let off = vehicle.part_off(rules, PartKind::Device, format!("device {at}"));
                    branch.ohm *= 1.0 + off;
                }
                BranchOwner::Bond(at) => {
                    let off = vehicle.part_off(rules, PartKind::Body, format!("bond {at}"));
                    branch.ohm *= 1.0 + off;
                }
                BranchOwner::Fault => {}
            }
        }
        for item in corners.uncertain() {
            let (middle, half) = ((item.low + item.high) / 2.0, (item.high - item.low) / 2.0);
            let off = match item.figure {
                Figure::BranchOhm(_) => continue,
                Figure::SourceVolts(at) => {
                    let source = network.sources[at].name.clone();
                    0.75 * vehicle.off(format!("volts of {source}"))
                        + 0.25 * vehicle.off(format!("volts of {source} in {name}"))
                }
                Figure::SourceOhm(at) => {
                    let source = network.sources[at].name.clone();
                    vehicle.off(format!("ohms of {source}"))
                }
                Figure::Draw(at) => {
                    let load = network.draws[at].load.0;
                    vehicle.off(format!("load {load} in {name}"))
                }
                Figure::ConverterVolts(at) => {
                    let converter = network.converters[at].index;
                    vehicle.off(format!("converter {converter}"))
                }
            };
            network.put(item.figure, middle + off * half);
        }
        let solution = Solver::of(&network).solve(&network);
        Self {
            network,
            volts: solution.volts,
            ohms,
        }
    }

    /// Volts from the first probe to the second.
    fn across(&self, measured: Measured) -> f64 {
        match measured {
            Measured::Between(first, second) => self.volts[first.0] - self.volts[second.0],
            Measured::Elements { lead, first, last } => {
                let amps = Quantity::Through(lead.0).of(&self.network, &self.volts);
                self.ohms[lead.0][first..=last].iter().sum::<f64>() * amps
            }
        }
    }
}

/// A job with its sheet.
struct Bench {
    planned: &'static Planned,
    day: Job,
    sheet: Sheet,
    /// Names of the crimps on the sheet, each with its lead and position.
    joints: Vec<(String, (usize, usize))>,
}

impl Bench {
    fn of(path: &Path) -> Self {
        let planned = Planned::of_file(path);
        let day = on_the_day(&planned.job, WORKSHOP_AIR);
        let wired = wired(planned, &planned.job);
        let sheet = sheet(&wired, WORKSHOP_AIR, Meter::default());
        let points = points(&wired);
        Self {
            joints: joints(&sheet, &points),
            sheet,
            planned,
            day,
        }
    }

    /// A record of all readings of the sheet for which a point is wanted.
    fn record(&self, vehicle: &mut Vehicle, date: &str, wanted: impl Fn(&Point) -> bool) -> String {
        let wiring = wired(self.planned, &self.day);
        let points = points(&wiring);
        let meter = Meter::default();
        let mut text = format!("[[day]]\ndate = \"{date}\"\nair = \"20 C\"\n");
        for state in &self.sheet.states {
            let mut states = self.day.states.iter();
            let index = states.position(|known| known.name == state.name).unwrap();
            let truth = Truth::of(vehicle, &wiring, index);
            writeln!(
                text,
                "[[day.state]]\nname = \"{}\"\nreading = [",
                state.name
            )
            .unwrap();
            for row in &state.rows {
                let point = points.iter().find(|point| point.name == row.point).unwrap();
                if !wanted(point) {
                    continue;
                }
                let swapped = (&row.red, &row.black) != (&point.first.0, &point.second.0);
                let volts = truth.across(point.measured) * if swapped { -1.0 } else { 1.0 };
                let shown = volts * (1.0 + 0.005 * vehicle.dice.normal());
                let step = meter.step_v(shown);
                let shown = (shown / step).round() * step;
                writeln!(
                    text,
                    "{{ point = \"{}\", reads = \"{shown:.4} V\" }},",
                    row.point
                )
                .unwrap();
            }
            text.push_str("]\n");
        }
        text
    }

    fn verdict(&self, text: &str) -> Verdict {
        let mut sources = Sources::default();
        let source = sources.add("record.toml", text);
        let shown = |mistakes: Vec<_>| -> String { render(&mistakes, &sources, false) };
        let record = record::load(source, &sources, &self.planned.job)
            .unwrap_or_else(|mistakes| panic!("{}", shown(mistakes)));
        verify(&wired(self.planned, &self.planned.job), &record)
            .unwrap_or_else(|mistakes| panic!("{}", shown(mistakes)))
    }
}

/// A job so planned, or the same job on a day.
fn wired<'a>(planned: &'a Planned, job: &'a Job) -> Wiring<'a> {
    let plan = &planned.plan;
    let protection = Some(&plan.protection);
    wiring(
        job,
        &plan.route,
        &plan.sizing,
        protection,
        &WORKSHOP.catalog,
    )
}

fn joints(sheet: &Sheet, points: &[Point]) -> Vec<(String, (usize, usize))> {
    let rows = sheet.states.iter().flat_map(|state| &state.rows);
    let joints = rows.filter(|row| row.kind == PointKind::Joint);
    joints
        .map(|row| {
            let point = points.iter().find(|point| point.name == row.point).unwrap();
            let Measured::Elements { lead, first, .. } = point.measured else {
                panic!("{} is no part of a lead", row.point)
            };
            (row.point.clone(), (lead.0, first))
        })
        .collect()
}

/// The jobs in the tree; a folder of more where the environment names one.
fn jobs() -> Vec<PathBuf> {
    match std::env::var_os("LONGLEAD_RANDOM_JOBS") {
        Some(folder) => files(folder.to_str().unwrap()),
        None => files("tests/simulator/jobs"),
    }
}

/// How many cases: so many, or times as many where the environment says so.
fn count(usual: usize) -> usize {
    let times = std::env::var("LONGLEAD_TIMES_THE_CASES");
    usual * times.map_or(1, |times| times.parse().unwrap())
}

/// So many cases, each on one of the jobs that have crimps to read, in turn.
fn cases(count: usize) -> impl Iterator<Item = (String, Vehicle, Bench)> {
    let benches = jobs()
        .into_iter()
        .map(|path| (path.clone(), Bench::of(&path)));
    let with_crimps: Vec<PathBuf> = benches
        .filter(|(_, bench)| !bench.joints.is_empty())
        .map(|(path, _)| path)
        .collect();
    (0..count).map(move |case| {
        let path = &with_crimps[case % with_crimps.len()];
        let name = format!("case {case}, {}", path.display());
        (name, Vehicle::new(case as u64), Bench::of(path))
    })
}

/// A crimp of the sheet, by chance.
fn some_joint(vehicle: &mut Vehicle, bench: &Bench) -> (String, (usize, usize)) {
    let pick = (vehicle.dice.part() * bench.joints.len() as f64) as usize;
    bench.joints[pick].clone()
}

const DAY: &str = "2026-05-02";

#[test]
fn a_bad_joint_is_named_first() {
    let count = count(20);
    let mut missed = Vec::new();
    for (case, mut vehicle, bench) in cases(count) {
        let (name, at) = some_joint(&mut vehicle, &bench);
        let milliohm = 1.0 + 19.0 * vehicle.dice.part();
        vehicle.bad.insert(at, milliohm * 1e-3);
        let verdict = bench.verdict(&bench.record(&mut vehicle, DAY, |_| true));
        let first = verdict.days[0].suspects.first();
        let named = first.filter(|suspect| suspect.what == name);
        let figure = named.map(|suspect| suspect.figure);
        let close = |found: f64| (found - milliohm).abs() < 0.15 * milliohm + 0.1;
        if !matches!(figure, Some(Wrong::Milliohm { found, .. }) if close(found)) {
            missed.push(format!("{case}: {name} {milliohm:.1} mohm, not {first:?}"));
        }
    }
    println!("missed {} of {count}", missed.len());
    assert!(missed.len() * 20 <= count, "{}", missed.join("\n"));
}

#[test]
fn a_sound_vehicle_raises_no_alarm() {
    let count = count(20);
    let mut alarms = Vec::new();
    for (case, mut vehicle, bench) in cases(count) {
        let verdict = bench.verdict(&bench.record(&mut vehicle, DAY, |_| true));
        let day = &verdict.days[0];
        let wrong = day.readings.iter();
        let wrong: Vec<_> = wrong
            .filter(|reading| reading.agreement == Agreement::Wrong)
            .collect();
        if !day.suspects.is_empty() || !wrong.is_empty() {
            alarms.push(format!("{case}: {:?} {wrong:?}", day.suspects));
        }
    }
    println!("{} alarms of {count}", alarms.len());
    assert!(alarms.len() * 100 <= count, "{}", alarms.join("\n"));
}

/// Without the needle in a crimp nothing tells it from the rest of its cable: the cable must be
/// named, and the crimp be told as one of what is possible.
#[test]
fn without_readings_of_crimps_the_cable_is_named() {
    let count = count(10);
    let mut missed = Vec::new();
    for (case, mut vehicle, bench) in cases(count) {
        let (name, at) = some_joint(&mut vehicle, &bench);
        let milliohm = 1.0 + 19.0 * vehicle.dice.part();
        vehicle.bad.insert(at, milliohm * 1e-3);
        let no_crimps = |point: &Point| point.kind != PointKind::Joint;
        let verdict = bench.verdict(&bench.record(&mut vehicle, DAY, no_crimps));
        let first = verdict.days[0].suspects.first();
        let told = first.is_some_and(|suspect| {
            let mut all = suspect.or.iter().chain([&suspect.what]);
            all.any(|what| *what == name) && suspect.next.contains(&name)
        });
        if !told {
            missed.push(format!("{case}: {name} {milliohm:.1} mohm, not {first:?}"));
        }
    }
    println!("missed {} of {count}", missed.len());
    assert!(missed.len() * 20 <= count, "{}", missed.join("\n"));
}

#[test]
fn a_joint_that_ages_is_named_and_a_sound_vehicle_ages_in_nothing() {
    let count = count(5);
    let (mut missed, mut alarms) = (Vec::new(), Vec::new());
    for (case, mut vehicle, bench) in cases(count) {
        let (name, at) = some_joint(&mut vehicle, &bench);
        let years = |vehicle: &mut Vehicle, milliohm: [f64; 3]| {
            let mut text = String::new();
            for (year, milliohm) in (2026..).zip(milliohm) {
                vehicle.bad.insert(at, milliohm * 1e-3);
                // Loads, charge and warmth are others each year; parts are the same.
                vehicle
                    .off
                    .retain(|figure, _| !figure.contains(" in ") && !figure.starts_with("volts"));
                text.push_str(&bench.record(vehicle, &format!("{year}-05-02"), |_| true));
            }
            bench.verdict(&text).ageing
        };
        let sound = years(&mut vehicle, [0.0; 3]);
        if !sound.is_empty() {
            alarms.push(format!("{case}: {sound:?}"));
        }
        let ageing = years(&mut vehicle, [0.0, 0.5, 1.0]);
        if ageing.first().is_none_or(|first| first.what != name) {
            missed.push(format!("{case}: {name}, not {ageing:?}"));
        }
    }
    println!(
        "missed {}, {} alarms of {count}",
        missed.len(),
        alarms.len()
    );
    assert!(missed.len() * 20 <= count, "{}", missed.join("\n"));
    assert!(alarms.len() * 20 <= count, "{}", alarms.join("\n"));
}

/// What is lost along a lead is the sum of its parts, and every reading lies within its band.
#[test]
fn the_sheet_adds_up() {
    let mut compared = 0;
    for path in files("templates/jobs") {
        let bench = Bench::of(&path);
        for state in &bench.sheet.states {
            for row in &state.rows {
                assert!(row.least_v < row.volts && row.volts < row.most_v, "{row:?}");
            }
            for cable in state.rows.iter().filter(|row| row.kind == PointKind::Cable) {
                let own = |row: &&Row| row.of_cable.as_ref() == Some(&cable.point);
                let crimps: f64 = state.rows.iter().filter(own).map(|row| row.volts).sum();
                assert!(crimps > 0.0 && crimps < cable.volts, "{cable:?}");
                compared += 1;
            }
        }
    }
    assert!(compared > 50, "{compared}");
}
