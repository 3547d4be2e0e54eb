//! Steps of the work.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use crate::method::listed;
use crate::plan::Plan;

/// One step.
#[derive(Debug, Clone, Serialize)]
pub struct StepView {
    /// Its number.
    pub number: usize,
    /// Kind of step in the library.
    pub kind: String,
    /// Phase of the work.
    pub stage: String,
    /// What to do, in a line.
    pub title: String,
    /// What holds of this one thing alone; may be empty.
    pub particulars: String,
    /// How such a step is done, at length.
    pub text: String,
    /// Where.
    pub place: String,
    /// Steps that must be done first.
    pub needs: Vec<usize>,
    /// The same in words, such as `3, 7 to 9`.
    pub needs_shown: String,
    /// How long it takes.
    pub minutes: f64,
    /// Tools.
    pub tools: Vec<String>,
    /// Parts.
    pub parts: Vec<String>,
    /// Ids of the parts.
    pub part_ids: Vec<String>,
    /// What to make sure of before going on.
    pub hold_points: Vec<String>,
    /// Readings to write down.
    pub readings: Vec<String>,
    /// What a second person does.
    pub second_person: Option<String>,
    /// What can go wrong and hurt.
    pub cautions: Vec<String>,
}

/// Every step.
pub fn views(plan: &Plan) -> Vec<StepView> {
    let steps = plan.method.steps.iter();
    steps
        .map(|step| StepView {
            number: step.number,
            kind: step.kind.clone(),
            stage: step.stage.to_string(),
            title: step.title.clone(),
            particulars: step.particulars.clone(),
            text: step.text.clone(),
            place: step.place_name.clone(),
            needs: step.needs.clone(),
            needs_shown: in_words(&step.needs),
            minutes: step.minutes,
            tools: step.tools.clone(),
            parts: step.parts.clone(),
            part_ids: step.part_ids.clone(),
            hold_points: step.hold_points.clone(),
            readings: step.readings.clone(),
            second_person: step.second_person.clone(),
            cautions: step.cautions.clone(),
        })
        .collect()
}

/// How to share out the work: over days and among people.
#[derive(Debug, Clone, Serialize)]
pub struct SharingView {
    /// Steps at the bench that wait for nothing but one another.
    pub evening: Vec<usize>,
    /// The same in words.
    pub evening_shown: String,
    /// How long they take.
    pub evening_minutes: f64,
    /// What needs a second person, in the order of the work.
    pub together: Vec<TogetherView>,
}

/// What a second person is needed for.
#[derive(Debug, Clone, Serialize)]
pub struct TogetherView {
    /// What that person does.
    pub what: String,
    /// In which steps.
    pub steps: Vec<usize>,
    /// The same in words.
    pub steps_shown: String,
}

/// Rising numbers in words; three or more that follow each other by their first and last.
fn in_words(numbers: &[usize]) -> String {
    let runs = numbers.chunk_by(|before, after| before + 1 == *after);
    let words = runs.map(|run| match run {
        [first, .., last] if run.len() > 2 => format!("{first} to {last}"),
        few => {
            let few: Vec<String> = few.iter().map(usize::to_string).collect();
            few.join(", ")
        }
    });
    words.collect::<Vec<_>>().join(", ")
}

/// How the steps are shared out.
pub fn sharing(plan: &Plan) -> SharingView {
    let mut evening: BTreeSet<usize> = BTreeSet::new();
    let mut minutes = 0.0;
    let mut together: Vec<(&String, Vec<usize>)> = Vec::new();
    for step in &plan.method.steps {
        if step.at_bench && step.needs.iter().all(|need| evening.contains(need)) {
            evening.insert(step.number);
            minutes += step.minutes;
        }
        let Some(what) = &step.second_person else {
            continue;
        };
        match together.iter_mut().find(|(known, _)| *known == what) {
            Some((_, steps)) => steps.push(step.number),
            None => together.push((what, vec![step.number])),
        }
    }
    let row = |(what, steps): (&String, Vec<usize>)| TogetherView {
        what: what.clone(),
        steps_shown: in_words(&steps),
        steps,
    };
    let evening: Vec<usize> = evening.into_iter().collect();
    SharingView {
        evening_shown: in_words(&evening),
        evening,
        evening_minutes: minutes,
        together: together.into_iter().map(row).collect(),
    }
}

/// A stretch of steps: the first of a kind at full length, then such as were told before.
#[derive(Debug, Clone, Serialize)]
pub struct StepGroupView {
    /// Heading, where this stretch is the first of a phase of the work: the phase, and those earlier
    /// ones that go on until the next heading.
    pub begins: Option<String>,
    /// The first step of its kind.
    pub told: Option<StepView>,
    /// The steps after it, which are done as earlier ones.
    pub brief: Vec<BriefStepView>,
}

/// A step that is done as an earlier one.
#[derive(Debug, Clone, Serialize)]
pub struct BriefStepView {
    /// The step.
    pub step: StepView,
    /// Number of the step that tells how.
    pub like: usize,
    /// What to make sure of that the step which tells how does not say already.
    pub hold_points: Vec<String>,
}

impl BriefStepView {
    fn new(step: &StepView, like: &StepView) -> Self {
        let holds = step.hold_points.iter();
        Self {
            step: step.clone(),
            like: like.number,
            hold_points: holds
                .filter(|hold| !like.hold_points.contains(hold))
                .cloned()
                .collect(),
        }
    }
}

/// The steps in stretches.
pub fn groups(steps: &[StepView]) -> Vec<StepGroupView> {
    let mut told: BTreeMap<&str, &StepView> = BTreeMap::new();
    let mut groups: Vec<StepGroupView> = Vec::new();
    let mut begun: BTreeSet<&str> = BTreeSet::new();
    for (position, step) in steps.iter().enumerate() {
        let begins = begun
            .insert(&step.stage)
            .then(|| phases(&steps[position..], &begun));
        let like = told.get(step.kind.as_str()).copied();
        if like.is_none() || begins.is_some() || groups.is_empty() {
            groups.push(StepGroupView {
                begins,
                told: None,
                brief: Vec::new(),
            });
        }
        let Some(group) = groups.last_mut() else {
            continue;
        };
        match like {
            None => {
                told.insert(&step.kind, step);
                group.told = Some(step.clone());
            }
            Some(like) => group.brief.push(BriefStepView::new(step, like)),
        }
    }
    groups
}

/// The phase that steps begin with, and those of the phases begun before that come back until the
/// next one begins.
fn phases(steps: &[StepView], begun: &BTreeSet<&str>) -> String {
    let until_next = steps
        .iter()
        .map(|step| step.stage.as_str())
        .take_while(|stage| begun.contains(stage));
    let mut phases: Vec<String> = Vec::new();
    for stage in until_next.map(str::to_owned) {
        if !phases.contains(&stage) {
            phases.push(stage);
        }
    }
    listed(&phases)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_in_a_row_are_told_by_their_first_and_last() {
        assert_eq!(in_words(&[]), "");
        assert_eq!(in_words(&[4]), "4");
        assert_eq!(in_words(&[4, 5]), "4, 5");
        assert_eq!(in_words(&[1, 3, 4, 5, 9, 10]), "1, 3 to 5, 9, 10");
    }
}
