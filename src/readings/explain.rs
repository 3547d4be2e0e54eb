//! What is at fault, in the words and units of a mechanic.

use serde::Serialize;

use super::fit::Local;
use super::model::Model;
use super::points::{Measured, Point};
use super::suspects::{Accused, Findings, figures_of};
use super::unknowns::Unknown;
use crate::circuit::{EndName, PartKind, Wiring};
use crate::job::LeadId;

/// Something at fault, with what it should be and what it is.
#[derive(Debug, Clone, Serialize)]
pub struct Explained {
    /// What it is, such as `main positive, crimp at front bus`.
    pub what: String,
    /// What of it is wrong.
    pub figure: Wrong,
    /// What explains the readings nearly as well.
    pub or: Vec<String>,
    /// A reading that would tell them apart, by its test point.
    pub next: Vec<String>,
}

/// Which figure is wrong, what it should be and what it is.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Wrong {
    /// A resistance, in milliohms, give or take.
    Milliohm {
        /// As planned.
        planned: f64,
        /// As found.
        found: f64,
        /// Standard deviation of what was found.
        give_or_take: f64,
    },
    /// A voltage, in volts.
    Volts {
        /// As planned.
        planned: f64,
        /// As found.
        found: f64,
        /// Standard deviation of what was found.
        give_or_take: f64,
    },
    /// What a load draws, as parts of what is planned.
    Times {
        /// As found.
        found: f64,
        /// Standard deviation of what was found.
        give_or_take: f64,
    },
    /// A reading that nothing explains, in volts, first probe against second.
    Reading {
        /// What all the others make of it.
        should: f64,
        /// As read.
        read: f64,
    },
}

/// What was found on a day, in words.
pub fn explained(
    wiring: &Wiring<'_>,
    points: &[Point],
    model: &Model,
    findings: &Findings,
) -> Vec<Explained> {
    let words = Words {
        wiring,
        points,
        model,
        findings,
        local: Local::at(model, &findings.freedom, &findings.fit.figures),
    };
    let suspects = findings.suspects.iter();
    suspects
        .map(|suspect| Explained {
            what: words.name(&suspect.accused),
            figure: words.figure(&suspect.accused),
            or: suspect
                .others
                .iter()
                .map(|other| words.name(other))
                .collect(),
            next: words.next(&suspect.accused, &suspect.others),
        })
        .collect()
}

struct Words<'a> {
    wiring: &'a Wiring<'a>,
    points: &'a [Point],
    model: &'a Model,
    findings: &'a Findings,
    local: Option<Local>,
}

impl Words<'_> {
    fn name(&self, accused: &Accused) -> String {
        let job = self.wiring.job;
        match *accused {
            Accused::Part(Unknown::Element(lead, at)) => element_name(self.wiring, lead, at),
            Accused::Part(Unknown::Device(at)) => job.devices[at].given.name.value.clone(),
            Accused::Part(Unknown::Bond(at)) => {
                let bond = &job.bonds[at].given;
                format!("metal from {} to {}", *bond.from, *bond.to)
            }
            Accused::Part(_) => String::new(),
            Accused::SourceOhm(source) => {
                format!("{}, inside", self.model.unknowns.sources[source])
            }
            Accused::SourceVolts(source) => {
                format!("{}, its voltage", self.model.unknowns.sources[source])
            }
            Accused::Output(at) => {
                format!(
                    "{}, the voltage it gives",
                    job.converters[at].given.name.value
                )
            }
            Accused::Load(load) => format!("{}, what it draws", job.load(load).name()),
            Accused::Reading(at) => {
                let (round, taken) = self.taken(at);
                let state = &job.states[self.model.rounds[round].occasion.state].name;
                let point = &self.points[self.model.rounds[round].taken[taken].point].name;
                format!("the reading of {point} in {state}")
            }
        }
    }

    /// The round of a reading, and its place in it.
    fn taken(&self, at: usize) -> (usize, usize) {
        let mut left = at;
        for (index, round) in self.model.rounds.iter().enumerate() {
            if left < round.taken.len() {
                return (index, left);
            }
            left -= round.taken.len();
        }
        (0, 0)
    }

    fn figure(&self, accused: &Accused) -> Wrong {
        if let Accused::Reading(at) = *accused {
            let (round, taken) = self.taken(at);
            let taken = &self.model.rounds[round].taken[taken];
            let off = self.model.off(&self.findings.fit.figures)[at] * taken.spread_v;
            return Wrong::Reading {
                should: taken.volts - off,
                read: taken.volts,
            };
        }
        let figures = figures_of(self.model, accused);
        // Of a load in several rounds the one that is farthest off counts.
        let found = &self.findings.fit.figures;
        let farthest = figures
            .into_iter()
            .max_by(|a, b| found[*a].abs().total_cmp(&found[*b].abs()));
        let Some(figure) = farthest else {
            return Wrong::Times {
                found: 1.0,
                give_or_take: 0.0,
            };
        };
        let unit = self.model.unknowns.spreads[figure];
        let moved = found[figure] * unit;
        let alone = self.local.as_ref();
        let alone = alone.and_then(|local| local.alone(figure, &self.findings.freedom));
        let give_or_take = alone.map_or(0.0, |(_, variance)| variance.sqrt() * unit);
        match (accused, planned(self.model, accused)) {
            (Accused::Load(_), _) => Wrong::Times {
                found: 1.0 + moved,
                give_or_take,
            },
            (Accused::SourceVolts(_) | Accused::Output(_), volts) => Wrong::Volts {
                planned: volts,
                found: volts + moved,
                give_or_take,
            },
            (_, ohm) => Wrong::Milliohm {
                planned: ohm * 1e3,
                found: ohm * (1.0 + moved) * 1e3,
                give_or_take: ohm * give_or_take * 1e3,
            },
        }
    }

    /// Test points that show the accused one by one, and were not read.
    fn next(&self, accused: &Accused, others: &[Accused]) -> Vec<String> {
        if others.is_empty() {
            return Vec::new();
        }
        let all = std::iter::once(accused).chain(others);
        let parts = all.filter_map(|accused| match *accused {
            Accused::Part(Unknown::Element(lead, at)) => Some((lead, at)),
            _ => None,
        });
        let rounds = self.model.rounds.iter();
        let taken: Vec<Measured> = rounds
            .flat_map(|round| round.taken.iter().map(|taken| taken.measured))
            .collect();
        let own = parts.filter_map(|(lead, at)| {
            let alone = Measured::Elements {
                lead,
                first: at,
                last: at,
            };
            let mut points = self.points.iter();
            points.find(|point| point.measured == alone && !taken.contains(&alone))
        });
        own.map(|point| point.name.clone()).collect()
    }
}

/// Ohms or volts as planned.
fn planned(model: &Model, accused: &Accused) -> f64 {
    let mut rounds = model.rounds.iter();
    let found = match *accused {
        Accused::Part(Unknown::Element(lead, at)) => {
            let first = model.rounds.first();
            first.map(|round| round.elements[lead.0][at].ohm)
        }
        Accused::Part(unknown) => rounds.find_map(|round| {
            let mut branches = round.network().branches.iter();
            branches.find_map(|branch| {
                let own = match branch.owner {
                    crate::circuit::BranchOwner::Device(at) => Unknown::Device(at),
                    crate::circuit::BranchOwner::Bond(at) => Unknown::Bond(at),
                    _ => return None,
                };
                (own == unknown).then_some(branch.ohm)
            })
        }),
        Accused::SourceOhm(source) | Accused::SourceVolts(source) => rounds.find_map(|round| {
            let name = &model.unknowns.sources[source];
            let mut sources = round.network().sources.iter();
            let own = sources.find(|source| source.name == *name)?;
            Some(match accused {
                Accused::SourceOhm(_) => own.ohm,
                _ => own.volts,
            })
        }),
        Accused::Output(at) => rounds.find_map(|round| {
            let mut converters = round.network().converters.iter();
            let own = converters.find(|converter| converter.index == at)?;
            Some(own.volts)
        }),
        Accused::Load(_) | Accused::Reading(_) => None,
    };
    found.unwrap_or(0.0)
}

/// The name of a part of a lead, such as `main positive 2/3, crimp at front bus`.
pub fn element_name(wiring: &Wiring<'_>, lead: LeadId, at: usize) -> String {
    let job = wiring.job;
    let elements = wiring.elements(lead, 20.0);
    let before = elements.iter().take(at + 1);
    let cables = before
        .filter(|element| element.kind == PartKind::Cable)
        .count();
    let way = &wiring.route.leads[lead.0];
    let name = |section| way.section_name(&job.lead(lead).name, section);
    let joint_after = elements
        .get(at)
        .is_some_and(|element| element.kind == PartKind::Joint)
        && at > 0
        && elements[at - 1].kind == PartKind::Cable;
    match elements[at].kind {
        PartKind::Cable => {
            format!("{}, the cable itself", name(cables - 1))
        }
        PartKind::Joint => {
            let index = if joint_after { cables - 1 } else { cables };
            let section = &way.sections[index];
            let end = if joint_after {
                &section.to
            } else {
                &section.from
            };
            format!("{}, crimp at {}", name(index), end.words(job))
        }
        _ => format!("{} of {}", EndName::PROTECTION, job.lead(lead).name),
    }
}
