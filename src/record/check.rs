//! Names and contradictions in a record file.

use std::collections::{BTreeMap, BTreeSet};

use super::{DayFile, RecordFile};
use crate::diagnostic::{Diagnostic, Problem, Span, Subject};
use crate::job::Job;
use crate::quantity::{Date, Length, Ratio, Voltage};

/// Every mistake that only the job or the rest of the file shows.
pub fn check(record: &RecordFile, job: &Job) -> Vec<Diagnostic> {
    let mut mistakes = Vec::new();
    meter(record, &mut mistakes);
    let leads: Vec<&str> = job.leads.iter().map(|lead| lead.name.as_str()).collect();
    for cut in &record.cut {
        if !leads.contains(&cut.lead.as_str()) {
            let leads = leads.iter().copied();
            let problem = Problem::unknown_name(Subject::Lead, &cut.lead, leads);
            mistakes.push(Diagnostic::new(problem, cut.lead.span));
        }
        if cut.length.value <= Length::ZERO {
            let problem = Problem::out_of_range("`length`", "more than nothing");
            mistakes.push(Diagnostic::new(problem, cut.length.span));
        }
    }
    let mut seen: BTreeMap<Date, Span> = BTreeMap::new();
    for day in &record.day {
        if let Some(first) = seen.insert(day.date.value, day.date.span) {
            let reason = format!("{} is told of twice", day.date.value);
            let help = "put all states of a day under one [[day]]";
            let problem = Problem::contradiction_with_help(reason, help);
            let mistake = Diagnostic::new(problem, day.date.span);
            mistakes.push(mistake.with_related(first, "first told here"));
        }
        states(day, job, &mut mistakes);
    }
    mistakes
}

fn meter(record: &RecordFile, mistakes: &mut Vec<Diagnostic>) {
    let (error, step) = (&record.meter_error, &record.meter_step);
    if error.value <= Ratio::ZERO || error.value > Ratio::from_fraction(0.1) {
        let problem = Problem::out_of_range("`meter_error`", "more than 0 % and at most 10 %");
        mistakes.push(Diagnostic::new(problem, error.span));
    }
    if step.value <= Voltage::ZERO || step.value > Voltage::from_v(0.1) {
        let problem = Problem::out_of_range("`meter_step`", "more than 0 V and at most 100 mV");
        mistakes.push(Diagnostic::new(problem, step.span));
    }
}

fn states(day: &DayFile, job: &Job, mistakes: &mut Vec<Diagnostic>) {
    let known = || job.states.iter().map(|state| state.name.as_str());
    let mut seen: BTreeMap<(&str, &str), Span> = BTreeMap::new();
    for state in &day.state {
        if known().all(|name| name != state.name.value) {
            let problem = Problem::unknown_name(Subject::State, &state.name, known());
            mistakes.push(Diagnostic::new(problem, state.name.span));
        }
        for reading in &state.reading {
            let key = (state.name.as_str(), reading.point.as_str());
            if let Some(first) = seen.insert(key, reading.point.span) {
                let problem = Problem::DuplicateName {
                    subject: Subject::TestPoint,
                    name: reading.point.value.clone(),
                };
                let mistake = Diagnostic::new(problem, reading.point.span);
                mistakes.push(mistake.with_related(first, "first used here"));
            }
        }
    }
}

/// Parts that are said to take the place of one that the plan does not have.
pub fn unplanned(record: &RecordFile, parts: &BTreeSet<&str>) -> Vec<Diagnostic> {
    let strangers = record.bought.iter().map(|bought| &bought.planned);
    let strangers = strangers.filter(|part| !parts.contains(part.as_str()));
    strangers
        .map(|part| {
            let problem = Problem::unknown_name(Subject::Part, part, parts.iter().copied());
            Diagnostic::new(problem, part.span)
        })
        .collect()
}
