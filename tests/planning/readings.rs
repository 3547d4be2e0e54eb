//! Readings: vehicles are made here with every figure somewhere within its tolerance, a joint of
//! some goes bad, a noisy meter is held to every point of the sheet, and the verdict must name it.
//!
//! The vehicle's network is put together from its parts here, not by the model that fits it.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::PathBuf;

use longlead::catalog::{Catalog, RuleSet};
use longlead::circuit::{
    BranchOwner, Corners, Figure, Frame, Network, PartKind, Quantity, Solver, Wiring,
};
use longlead::diagnostic::{Sources, render};
use longlead::job::{Job, LeadId};
use longlead::plan::wiring;
use longlead::readings::{
    Measured, Meter, Point, PointKind, Sheet, Verdict, WORKSHOP_AIR, Wrong, on_the_day, points,
    sheet, verify,
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
}

impl Bench {
    fn of(path: &PathBuf) -> Self {
        let planned = Planned::of_file(path);
        Self {
            day: on_the_day(&planned.job, WORKSHOP_AIR),
            planned,
        }
    }

    fn wiring<'a>(&'a self, job: &'a Job, catalog: &'a Catalog) -> Wiring<'a> {
        let plan = &self.planned.plan;
        wiring(
            job,
            &plan.route,
            &plan.sizing,
            Some(&plan.protection),
            catalog,
        )
    }

    fn planned(&self) -> Wiring<'_> {
        self.wiring(&self.planned.job, &WORKSHOP.catalog)
    }

    fn sheet(&self) -> Sheet {
        sheet(&self.planned(), WORKSHOP_AIR, Meter::default())
    }

    /// A record of all readings of the sheet for which a point is wanted.
    fn record(&self, vehicle: &mut Vehicle, date: &str, wanted: impl Fn(&Point) -> bool) -> String {
        let wiring = self.wiring(&self.day, &WORKSHOP.catalog);
        let points = points(&wiring);
        let meter = Meter::default();
        let mut text = format!("[[day]]\ndate = \"{date}\"\nair = \"20 C\"\n");
        for state in self.sheet().states {
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
                let swapped = row.red != point.first.0;
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
        verify(&self.planned(), &record).unwrap_or_else(|mistakes| panic!("{}", shown(mistakes)))
    }

    /// Names of the crimps on the sheet, each with its lead and position.
    fn joints(&self) -> Vec<(String, (usize, usize))> {
        let points = points(&self.planned());
        let sheet = self.sheet();
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
}

/// The jobs in the tree; a folder of more where the environment names one.
fn jobs() -> Vec<PathBuf> {
    match std::env::var_os("LONGLEAD_RANDOM_JOBS") {
        Some(folder) => files(folder.to_str().unwrap()),
        None => files("tests/simulator/jobs"),
    }
}

const CASES: usize = 200;

/// Every case on one of the jobs in turn.
fn cases() -> impl Iterator<Item = (usize, PathBuf)> {
    let jobs: Vec<PathBuf> = jobs()
        .into_iter()
        .filter(|path| !Bench::of(path).joints().is_empty())
        .collect();
    (0..CASES).map(move |case| (case, jobs[case % jobs.len()].clone()))
}

#[test]
fn the_bad_joint_is_named_first() {
    let mut missed = Vec::new();
    let mut close = 0;
    for (case, path) in cases() {
        let bench = Bench::of(&path);
        let mut vehicle = Vehicle::new(case as u64);
        let joints = bench.joints();
        let pick = (vehicle.dice.part() * joints.len() as f64) as usize;
        let (name, at) = joints[pick].clone();
        let ohm = 1e-3 + 19e-3 * vehicle.dice.part();
        vehicle.bad.insert(at, ohm);
        let verdict = bench.verdict(&bench.record(&mut vehicle, "2026-05-02", |_| true));
        let first = verdict.days[0].suspects.first();
        if first.is_some_and(|suspect| suspect.what == name) {
            if let Some(Wrong::Milliohm { found, .. }) = first.map(|suspect| suspect.figure) {
                close += usize::from((found - ohm * 1e3).abs() < 0.15 * ohm * 1e3 + 0.1);
            }
        } else {
            let told = first.map(|suspect| (&suspect.what, suspect.figure));
            missed.push(format!(
                "{case} {}: {name} {:.1} mohm, not {told:?}",
                path.display(),
                ohm * 1e3
            ));
        }
    }
    println!("missed {} of {CASES}, {close} within a sixth", missed.len());
    assert!(missed.len() * 20 <= CASES, "{}", missed.join("\n"));
    assert!(close * 10 >= (CASES - missed.len()) * 9, "{close}");
}

#[test]
fn a_sound_vehicle_raises_no_alarm() {
    let mut alarms = Vec::new();
    let (mut readings, mut doubtful) = (0, 0);
    for (case, path) in cases() {
        let bench = Bench::of(&path);
        let mut vehicle = Vehicle::new(1000 + case as u64);
        let verdict = bench.verdict(&bench.record(&mut vehicle, "2026-05-02", |_| true));
        let day = &verdict.days[0];
        readings += day.readings.len();
        doubtful += day
            .readings
            .iter()
            .filter(|reading| reading.agreement != longlead::readings::Agreement::Agrees)
            .count();
        if !verdict.is_sound() {
            alarms.push(format!(
                "{case} {}: {:?} {:?}",
                path.display(),
                day.suspects,
                day.readings
                    .iter()
                    .filter(|reading| reading.agreement == longlead::readings::Agreement::Wrong)
                    .collect::<Vec<_>>()
            ));
        }
    }
    println!(
        "{} alarms of {CASES}; {doubtful} of {readings} readings doubtful",
        alarms.len()
    );
    assert!(alarms.len() * 100 <= CASES, "{}", alarms.join("\n"));
}
