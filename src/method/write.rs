//! From drafts in order to steps that can be read.

use std::collections::BTreeSet;

use rayon::prelude::*;

use super::draft::Draft;
use super::library::{CautionFile, StepFile, StepLibrary};
use super::subject::Subject;
use super::template::Texts;
use super::work::Work;
use super::{Method, Step, parts, sequence, tools};

/// Everything that the steps are written from.
#[derive(Debug)]
pub struct Manuscript<'a> {
    /// Outcome of the earlier stages.
    pub work: Work<'a>,
    /// The step library.
    pub library: &'a StepLibrary,
    /// Its templates.
    pub texts: &'a Texts<'a>,
    /// The things that steps are made for; the first is the job.
    pub subjects: &'a [Subject],
    /// The steps before they were put in order.
    pub drafts: &'a [Draft],
    /// What each of them waits for, without what follows from it.
    pub waits: &'a [BTreeSet<usize>],
    /// Their order.
    pub order: &'a [usize],
}

/// Writes the steps out.
pub fn write(manuscript: &Manuscript) -> Method {
    let ordered: Vec<Draft> = manuscript
        .order
        .iter()
        .map(|draft| manuscript.drafts[*draft])
        .collect();
    let Manuscript {
        work,
        library,
        subjects,
        ..
    } = manuscript;
    let shares = parts::shares(work, library, subjects, &ordered);
    let mut numbers = vec![0; manuscript.drafts.len()];
    for (index, draft) in manuscript.order.iter().enumerate() {
        numbers[*draft] = index + 1;
    }
    let steps: Vec<Step> = manuscript
        .order
        .par_iter()
        .zip(&shares)
        .map(|(draft, share)| manuscript.step(*draft, &numbers, share))
        .collect();
    Method {
        tools: manuscript.all_tools(),
        cautions: manuscript.cautions(&ordered),
        minutes: tenths(steps.iter().map(|step| step.minutes).sum()),
        steps,
    }
}

impl Manuscript<'_> {
    fn step(&self, draft: usize, numbers: &[usize], share: &[usize]) -> Step {
        let Draft { kind, subject } = self.drafts[draft];
        let (step, thing) = (&self.library.steps[kind], &self.subjects[subject]);
        let place = sequence::place(self.library, self.subjects, self.drafts[draft]);
        let show = |text: &str| self.texts.show(text, &thing.facts);
        let mut needs: Vec<usize> = self.waits[draft].iter().map(|at| numbers[*at]).collect();
        needs.sort_unstable();
        let tools = tools::of_step(&self.work, step, &thing.measure).into_iter();
        Step {
            number: numbers[draft],
            kind: step.name.value.clone(),
            stage: step.stage,
            title: show(&step.title),
            particulars: step
                .particulars
                .as_ref()
                .map(|text| show(text))
                .unwrap_or_default(),
            text: show(&step.text),
            place,
            place_name: match place {
                Some(place) => self.work.job.place(place).name.clone(),
                None if step.bench => "workbench".to_owned(),
                None => String::new(),
            },
            needs,
            at_bench: step.bench,
            minutes: self.minutes(step, thing),
            tools: tools.map(|tool| tool.words).collect(),
            parts: parts::in_words(&self.work, share),
            part_ids: parts::ids(&self.work, share),
            hold_points: step
                .hold_points
                .iter()
                .map(|text| show(text))
                .filter(|text| !text.is_empty())
                .collect(),
            readings: step.readings.iter().map(|text| show(text)).collect(),
            second_person: step
                .second_person
                .as_ref()
                .map(|text| show(text))
                .filter(|text| !text.is_empty()),
            cautions: self.bites(step).map(|row| row.short.clone()).collect(),
            source: step.source.clone(),
        }
    }

    fn all_tools(&self) -> Vec<String> {
        let mut all = self.work.fittings.tools.clone();
        for draft in self.order {
            let Draft { kind, subject } = self.drafts[*draft];
            let (step, thing) = (&self.library.steps[kind], &self.subjects[subject]);
            for tool in tools::of_step(&self.work, step, &thing.measure) {
                all.extend(tool.id.filter(|id| !all.contains(id)));
            }
        }
        all
    }

    /// To a tenth of a minute, so that the sum of what is shown is the sum that is shown.
    fn minutes(&self, step: &StepFile, thing: &Subject) -> f64 {
        let count = thing.count as f64;
        let usual = step.minutes.minutes() + step.minutes_each.minutes() * count;
        let factor = if step.bench { 1.0 } else { self.factor(thing) };
        tenths(usual * factor)
    }

    /// The mean of the factors of all that a thing is reached by, each by its weight.
    fn factor(&self, thing: &Subject) -> f64 {
        let weight: f64 = thing.reach.iter().map(|(_, weight)| weight).sum();
        if weight <= 0.0 {
            return 1.0;
        }
        let reach = thing.reach.iter();
        let sum: f64 = reach
            .map(|(access, weight)| self.library.factor(*access) * weight)
            .sum();
        sum / weight
    }

    /// Cautions of a step that hold for the job.
    fn bites<'b>(&'b self, step: &'b StepFile) -> impl Iterator<Item = &'b CautionFile> {
        let rows = self.library.cautions.iter();
        let own = rows.filter(|row| {
            let mut named = step.cautions.iter();
            named.any(|name| name.value == row.name.value)
        });
        own.filter(|row| self.holds(row))
    }

    fn holds(&self, caution: &CautionFile) -> bool {
        let when = caution.when.as_ref().map(|when| when.as_str());
        let job = self.subjects.first();
        // A caution too many does less harm than one too few.
        job.is_none_or(|job| self.texts.judge(when, &job.facts).unwrap_or(true))
    }

    /// Cautions of the first page, in the order of the library: those that every plan carries, and
    /// those that bite in some step.
    fn cautions(&self, steps: &[Draft]) -> Vec<String> {
        let mut called: BTreeSet<&str> = BTreeSet::new();
        for step in steps {
            let names = self.library.steps[step.kind].cautions.iter();
            called.extend(names.map(|name| name.as_str()));
        }
        let rows = self.library.cautions.iter();
        let wanted = rows.filter(|row| row.always || called.contains(row.name.as_str()));
        let holding = wanted.filter(|row| self.holds(row));
        holding.map(|row| row.text.clone()).collect()
    }
}

fn tenths(minutes: f64) -> f64 {
    (minutes * 10.0).round() / 10.0
}
