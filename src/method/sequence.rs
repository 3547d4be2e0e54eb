//! The order of the work.

use std::cmp::Ordering;
use std::collections::BTreeSet;

use super::draft::Draft;
use super::library::{Stage, StepLibrary};
use super::subject::{Key, Subject};
use super::walk::Walk;
use crate::job::PlaceId;

/// Positions of the drafts in the order of the work.
///
/// Of the steps whose needs are done the next one is that of the earliest stage; then the one
/// nearest to where the mechanic stands; then one for the same thing as the step before; then the
/// first by the order of the library and of the job.
pub fn sequence(
    library: &StepLibrary,
    subjects: &[Subject],
    drafts: &[Draft],
    waits: &[BTreeSet<usize>],
    walk: &Walk,
) -> Vec<usize> {
    let mut order = Vec::with_capacity(drafts.len());
    let mut waiting = vec![Vec::new(); drafts.len()];
    for (draft, needs) in waits.iter().enumerate() {
        needs.iter().for_each(|need| waiting[*need].push(draft));
    }
    let mut left: Vec<usize> = waits.iter().map(BTreeSet::len).collect();
    let mut ready: Vec<usize> = (0..drafts.len()).filter(|at| left[*at] == 0).collect();
    let mut stand = Stand::default();
    let rank = |draft: usize, stand: &Stand| {
        let Draft { kind, subject } = drafts[draft];
        let thing = &subjects[subject];
        Rank {
            stage: library.steps[kind].stage,
            walk: walk.between(stand.place, place(library, subjects, drafts[draft])),
            other_thing: stand.group != Some(thing.group),
            kind,
            subject,
        }
    };
    while let Some(next) = pick(&ready, |draft| rank(draft, &stand)) {
        ready.retain(|draft| *draft != next);
        order.push(next);
        stand.move_to(
            place(library, subjects, drafts[next]),
            subjects[drafts[next].subject].group,
        );
        for draft in &waiting[next] {
            left[*draft] -= 1;
            if left[*draft] == 0 {
                ready.push(*draft);
            }
        }
    }
    order
}

/// Where a step is done; nothing at the bench, and for steps without a place.
pub fn place(library: &StepLibrary, subjects: &[Subject], draft: Draft) -> Option<PlaceId> {
    if library.steps[draft.kind].bench {
        return None;
    }
    subjects[draft.subject].place
}

/// Where the mechanic stands, and what is in hand.
#[derive(Debug, Default)]
struct Stand {
    place: Option<PlaceId>,
    group: Option<Key>,
}

impl Stand {
    /// A step without a place leaves the mechanic where the last one was.
    fn move_to(&mut self, place: Option<PlaceId>, group: Key) {
        self.place = place.or(self.place);
        self.group = Some(group);
    }
}

/// What a step is chosen by.
struct Rank {
    stage: Stage,
    walk: f64,
    other_thing: bool,
    kind: usize,
    subject: usize,
}

impl Rank {
    fn compare(&self, other: &Self) -> Ordering {
        self.stage
            .cmp(&other.stage)
            .then(self.walk.total_cmp(&other.walk))
            .then(self.other_thing.cmp(&other.other_thing))
            .then(self.kind.cmp(&other.kind))
            .then(self.subject.cmp(&other.subject))
    }
}

fn pick(ready: &[usize], rank: impl Fn(usize) -> Rank) -> Option<usize> {
    let ranked = ready.iter().map(|draft| (rank(*draft), *draft));
    let best = ranked.reduce(|best, next| {
        if next.0.compare(&best.0).is_lt() {
            next
        } else {
            best
        }
    });
    best.map(|(_, draft)| draft)
}
