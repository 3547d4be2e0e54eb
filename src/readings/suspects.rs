//! Which part, source or load explains readings that no sound vehicle shows.

use nalgebra::DVector;

use super::fit::{FREE, Fit, Freedom, Local, fit};
use super::model::Model;
use super::unknowns::Unknown;
use crate::job::LoadId;

/// What may be at fault.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Accused {
    /// The resistance of a part: a crimp, a cable, a device, metal of the body.
    Part(Unknown),
    /// The resistance within a source.
    SourceOhm(usize),
    /// The voltage of a source.
    SourceVolts(usize),
    /// The voltage that a converter regulates to.
    Output(usize),
    /// What a load draws.
    Load(LoadId),
    /// A reading, by position: it was not taken where it should, or not written as it was.
    Reading(usize),
}

/// What is at fault, as far as the readings tell.
#[derive(Debug, Clone)]
pub struct Suspect {
    /// What explains the readings best.
    pub accused: Accused,
    /// What explains them nearly as well, so that the readings cannot tell it apart.
    pub others: Vec<Accused>,
}

/// What was found on a day.
#[derive(Debug)]
pub struct Findings {
    /// What is at fault, the worst first.
    pub suspects: Vec<Suspect>,
    /// The figures found with all suspects set free.
    pub fit: Fit,
    /// Which figures and readings were set free.
    pub freedom: Freedom,
}

/// A vehicle has more faults than these only when something else is wrong with the readings.
const MOST_SUSPECTS: usize = 4;

/// Chance that the readings of a sound vehicle accuse something. Judgement.
const FALSE_ALARM: f64 = 1e-3;

/// What explains the readings so much less well (in the sum of squares) is told as possible too: it
/// is up to some twenty times less likely.
const NEARLY: f64 = 6.0;

/// A reading is accused only where it explains so much more than any part.
const READING_LAST: f64 = 4.0;

/// How many of the accused are tried in full.
const TRIED: usize = 8;

/// Looks for what is at fault until the rest is as in a sound vehicle.
pub fn find(model: &Model) -> Findings {
    let mut freedom = Freedom::sound(model);
    let all = accused(model);
    let planned = DVector::zeros(model.unknowns.list.len());
    let mut findings = Findings {
        suspects: Vec::new(),
        fit: fit(model, &freedom, &planned),
        freedom: freedom.clone(),
    };
    while findings.suspects.len() < MOST_SUSPECTS {
        let mut starts = vec![findings.fit.figures.clone()];
        if findings.suspects.is_empty() {
            // A large fault bends the figures of a fit that does not know of it.
            starts.push(planned.clone());
        }
        let trials = trials(model, &freedom, &all, &starts);
        let Some((suspect, best)) = judged(&findings.fit, trials, all.len()) else {
            break;
        };
        freedom = best.freedom;
        findings = Findings {
            suspects: [findings.suspects, vec![suspect]].concat(),
            fit: best.fit,
            freedom: freedom.clone(),
        };
    }
    findings
}

/// Everything that may be at fault.
fn accused(model: &Model) -> Vec<Accused> {
    let mut all = Vec::new();
    for unknown in &model.unknowns.list {
        let accused = match *unknown {
            Unknown::Element(..) | Unknown::Device(_) | Unknown::Bond(_) => Accused::Part(*unknown),
            Unknown::SourceOhm(source) => Accused::SourceOhm(source),
            Unknown::SourceVolts(source) => Accused::SourceVolts(source),
            Unknown::Output(converter) => Accused::Output(converter),
            Unknown::Draw(_, load) => Accused::Load(load),
            Unknown::SourceNow(..) | Unknown::Warmth(..) => continue,
        };
        if !all.contains(&accused) {
            all.push(accused);
        }
    }
    all.extend((0..model.readings()).map(Accused::Reading));
    all
}

/// Positions of the figures that are free when something is at fault.
pub fn figures_of(model: &Model, accused: &Accused) -> Vec<usize> {
    let position = |unknown: Unknown| model.unknowns.position(unknown);
    let one = |unknown: Unknown| position(unknown).into_iter().collect();
    match *accused {
        Accused::Part(unknown) => one(unknown),
        Accused::SourceOhm(source) => one(Unknown::SourceOhm(source)),
        Accused::SourceVolts(source) => one(Unknown::SourceVolts(source)),
        Accused::Output(converter) => one(Unknown::Output(converter)),
        Accused::Load(load) => (0..model.rounds.len())
            .filter_map(|round| position(Unknown::Draw(round, load)))
            .collect(),
        Accused::Reading(_) => Vec::new(),
    }
}

/// Somebody at fault, and the fit that knows of it.
struct Trial {
    accused: Accused,
    fit: Fit,
    freedom: Freedom,
}

/// Tries those of the accused that promise most.
fn trials(
    model: &Model,
    freedom: &Freedom,
    all: &[Accused],
    starts: &[DVector<f64>],
) -> Vec<Trial> {
    let mut chosen: Vec<(usize, Accused)> = Vec::new();
    for (at, start) in starts.iter().enumerate() {
        let Some(local) = Local::at(model, freedom, start) else {
            continue;
        };
        let readings = local.gains_of_readings();
        let gain = |accused: &Accused| match accused {
            Accused::Reading(reading) => readings[*reading] - READING_LAST,
            other => local.gain_of_figures(&figures_of(model, other)),
        };
        let mut promising: Vec<(f64, &Accused)> =
            all.iter().map(|accused| (gain(accused), accused)).collect();
        promising.sort_by(|a, b| b.0.total_cmp(&a.0));
        chosen.extend(
            promising
                .into_iter()
                .take(TRIED)
                .map(|(_, accused)| (at, accused.clone())),
        );
    }
    let trials = chosen.into_iter().map(|(at, accused)| {
        let mut freedom = freedom.clone();
        for figure in figures_of(model, &accused) {
            freedom.figures[figure] = FREE;
        }
        if let Accused::Reading(reading) = accused {
            freedom.readings[reading] = FREE;
        }
        let fit = fit(model, &freedom, &starts[at]);
        Trial {
            accused,
            fit,
            freedom,
        }
    });
    trials.filter(|trial| is_possible(model, trial)).collect()
}

/// A contact can only be worse than planned: what would have to be better is not at fault.
fn is_possible(model: &Model, trial: &Trial) -> bool {
    match trial.accused {
        Accused::Part(_) | Accused::SourceOhm(_) => {
            let figures = figures_of(model, &trial.accused);
            figures
                .iter()
                .all(|figure| trial.fit.figures[*figure] > 0.0)
        }
        _ => true,
    }
}

/// The sum of squares that counts: readings come after parts, and each figure set free beyond the
/// first has to earn its place.
fn counted(trial: &Trial, before: &Fit) -> f64 {
    let freed = match trial.accused {
        Accused::Reading(_) => READING_LAST,
        Accused::Load(_) => NEARLY / 2.0,
        _ => 0.0,
    };
    before.cost - trial.fit.cost - freed
}

/// What is at fault, if anything is.
fn judged(before: &Fit, trials: Vec<Trial>, accused: usize) -> Option<(Suspect, Trial)> {
    let alarm = 2.0 * (accused as f64 / FALSE_ALARM).ln();
    let mut trials: Vec<(f64, Trial)> = trials
        .into_iter()
        .map(|trial| (counted(&trial, before), trial))
        .collect();
    trials.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut trials = trials.into_iter();
    let (most, best) = trials.next()?;
    if most < alarm {
        return None;
    }
    let mut others: Vec<Accused> = Vec::new();
    for (gain, trial) in trials {
        let known = trial.accused == best.accused || others.contains(&trial.accused);
        if gain > most - NEARLY && !known {
            others.push(trial.accused);
        }
    }
    let suspect = Suspect {
        accused: best.accused.clone(),
        others,
    };
    Some((suspect, best))
}
