//! What gets worse from one day of readings to the next.

use std::collections::BTreeMap;

use serde::Serialize;

use super::explain::element_name;
use super::fit::Local;
use super::model::Model;
use super::suspects::Findings;
use super::unknowns::Unknown;
use crate::circuit::{BranchOwner, Wiring};
use crate::quantity::Date;

/// What the readings of one day alone say of each resistance.
#[derive(Debug, Default)]
pub struct Estimates {
    /// Milliohms and their variance; batteries by name, all else by what it is.
    known: BTreeMap<Resistance, (f64, f64)>,
}

/// A resistance that may grow with the years.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
enum Resistance {
    Part(Unknown),
    Source(String),
}

/// A part that got worse from day to day.
#[derive(Debug, Clone, Serialize)]
pub struct Ageing {
    /// What it is.
    pub what: String,
    /// Milliohms on every day on which readings tell of it.
    pub days: Vec<AgeingDay>,
    /// Growth in milliohms a year.
    pub milliohm_a_year: f64,
    /// How many of its standard deviations the growth is.
    pub sure: f64,
}

/// What a part had on a day.
#[derive(Debug, Clone, Serialize)]
pub struct AgeingDay {
    /// The day.
    pub date: Date,
    /// Its resistance.
    pub milliohm: f64,
    /// Standard deviation of it.
    pub give_or_take: f64,
}

impl Estimates {
    /// From the fit of a day.
    pub fn of(model: &Model, findings: &Findings) -> Self {
        let Some(local) = Local::at(model, &findings.freedom, &findings.fit.figures) else {
            return Self::default();
        };
        let mut known = BTreeMap::new();
        for (figure, unknown) in model.unknowns.list.iter().enumerate() {
            let Some((resistance, ohm)) = resistance(model, *unknown) else {
                continue;
            };
            if let Some((value, variance)) = local.alone(figure, &findings.freedom) {
                let unit = model.unknowns.spreads[figure] * ohm * 1e3;
                let milliohm = ohm * 1e3 + value * unit;
                known.insert(resistance, (milliohm, variance * unit * unit));
            }
        }
        Self { known }
    }
}

/// A figure as a resistance, with its ohms as planned.
fn resistance(model: &Model, unknown: Unknown) -> Option<(Resistance, f64)> {
    let round = model.rounds.first()?;
    let branch = |wanted: BranchOwner| {
        let mut branches = round.network().branches.iter();
        branches
            .find(|branch| branch.owner == wanted)
            .map(|branch| branch.ohm)
    };
    let ohm = match unknown {
        Unknown::Element(lead, at) => round.elements[lead.0].get(at).map(|part| part.ohm),
        Unknown::Device(at) => branch(BranchOwner::Device(at)),
        Unknown::Bond(at) => branch(BranchOwner::Bond(at)),
        Unknown::SourceOhm(source) => {
            let name = &model.unknowns.sources[source];
            let rounds = model.rounds.iter();
            let mut sources = rounds.flat_map(|round| &round.network().sources);
            let ohm = sources.find(|source| source.name == *name)?.ohm;
            return Some((Resistance::Source(name.to_string()), ohm));
        }
        _ => None,
    };
    ohm.map(|ohm| (Resistance::Part(unknown), ohm))
}

/// Growth that is less sure is chance. Judgement: one of some ten thousand sound parts.
const SURE: f64 = 4.0;

/// Growth of less over all days is not worth a word, in milliohms. Judgement.
const LEAST_MILLIOHM: f64 = 0.05;

/// And less than this part of what it had first. Judgement.
const LEAST_PART: f64 = 0.1;

/// Parts whose resistance grew over the days, the fastest first.
pub fn ageing(wiring: &Wiring<'_>, history: &[(Date, Estimates)]) -> Vec<Ageing> {
    let mut all: Vec<&Resistance> = history
        .iter()
        .flat_map(|(_, estimates)| estimates.known.keys())
        .collect();
    all.sort();
    all.dedup();
    let grown = all.into_iter().filter_map(|resistance| {
        let days = history.iter().filter_map(|(date, estimates)| {
            let (milliohm, variance) = estimates.known.get(resistance)?;
            Some(AgeingDay {
                date: *date,
                milliohm: *milliohm,
                give_or_take: variance.sqrt(),
            })
        });
        grown(name(wiring, resistance), days.collect())
    });
    let mut grown: Vec<Ageing> = grown.collect();
    grown.sort_by(|a, b| b.milliohm_a_year.total_cmp(&a.milliohm_a_year));
    grown
}

fn name(wiring: &Wiring<'_>, resistance: &Resistance) -> String {
    let job = wiring.job;
    match resistance {
        Resistance::Part(Unknown::Element(lead, at)) => element_name(wiring, *lead, *at),
        Resistance::Part(Unknown::Device(at)) => job.devices[*at].given.name.value.clone(),
        Resistance::Part(Unknown::Bond(at)) => {
            let bond = &job.bonds[*at].given;
            format!("metal from {} to {}", *bond.from, *bond.to)
        }
        Resistance::Part(_) => String::new(),
        Resistance::Source(name) => format!("{name}, inside"),
    }
}

/// A straight line through the days, each as heavy as it is sure (weighted least squares).
fn grown(what: String, days: Vec<AgeingDay>) -> Option<Ageing> {
    const DAYS_A_YEAR: f64 = 365.25;
    let (first, last) = (days.first()?, days.last()?);
    let years = |day: &AgeingDay| f64::from(day.date.days_since(first.date)) / DAYS_A_YEAR;
    let weighted = |of: &dyn Fn(&AgeingDay) -> f64| -> f64 {
        let terms = days.iter().map(|day| of(day) / weight_below(day));
        terms.sum()
    };
    let total = weighted(&|_| 1.0);
    let middle = weighted(&years) / total;
    let mean = weighted(&|day| day.milliohm) / total;
    let spread = weighted(&|day| (years(day) - middle).powi(2));
    let along = weighted(&|day| (years(day) - middle) * (day.milliohm - mean));
    if spread <= 0.0 {
        return None;
    }
    let slope = along / spread;
    let sure = slope * spread.sqrt();
    let rise = slope * years(last);
    let least = LEAST_MILLIOHM.max(LEAST_PART * first.milliohm);
    (sure > SURE && rise > least).then_some(Ageing {
        what,
        milliohm_a_year: slope,
        sure,
        days,
    })
}

/// The variance of a day's figure; never quite nothing.
fn weight_below(day: &AgeingDay) -> f64 {
    (day.give_or_take * day.give_or_take).max(1e-12)
}
