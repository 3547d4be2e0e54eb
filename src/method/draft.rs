//! Steps before they are put in order: one for each kind and thing, and what each waits for.

use std::collections::BTreeSet;

use super::library::{StepFile, StepLibrary};
use super::subject::Subject;
use super::template::Texts;

/// A step to be made: a kind, and the thing it is made for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Draft {
    /// Position of the kind in the library.
    pub kind: usize,
    /// Position of the thing among all things.
    pub subject: usize,
}

/// Every step to be made, kind by kind.
///
/// An expression that cannot be worked out makes its step all the same: a step too many does less
/// harm than one too few.
pub fn drafts(library: &StepLibrary, subjects: &[Subject], texts: &Texts<'_>) -> Vec<Draft> {
    let mut drafts = Vec::new();
    for (kind, step) in library.steps.iter().enumerate() {
        let when = step.when.as_ref().map(|when| when.as_str());
        for (subject, thing) in subjects.iter().enumerate() {
            if thing.per == step.per && texts.judge(when, &thing.facts).unwrap_or(true) {
                drafts.push(Draft { kind, subject });
            }
        }
    }
    drafts
}

/// For each draft the positions of the drafts that it waits for.
pub fn waits(
    library: &StepLibrary,
    subjects: &[Subject],
    drafts: &[Draft],
) -> Vec<BTreeSet<usize>> {
    let by_kind: Vec<Vec<usize>> = (0..library.steps.len())
        .map(|kind| {
            let numbered = drafts.iter().enumerate();
            let own = numbered.filter(|(_, draft)| draft.kind == kind);
            own.map(|(position, _)| position).collect()
        })
        .collect();
    let search = Search {
        library,
        subjects,
        drafts,
        by_kind,
    };
    (0..drafts.len()).map(|draft| search.waits(draft)).collect()
}

struct Search<'a> {
    library: &'a StepLibrary,
    subjects: &'a [Subject],
    drafts: &'a [Draft],
    by_kind: Vec<Vec<usize>>,
}

impl Search<'_> {
    fn waits(&self, draft: usize) -> BTreeSet<usize> {
        let mut found = BTreeSet::new();
        // Kinds still to look at, and whether any step of them counts or only related ones.
        let mut open = self.needed(self.drafts[draft].kind, false);
        let mut seen = BTreeSet::new();
        while let Some((kind, all)) = open.pop() {
            if !seen.insert((kind, all)) {
                continue;
            }
            let steps = self.by_kind[kind].iter().copied();
            let steps: Vec<usize> = steps
                .filter(|other| all || self.related(draft, *other))
                .collect();
            if steps.is_empty() {
                open.extend(self.needed(kind, all));
            }
            found.extend(steps);
        }
        found
    }

    fn needed(&self, kind: usize, all: bool) -> Vec<(usize, bool)> {
        let step: &StepFile = &self.library.steps[kind];
        let needs = step.needs.iter().map(|name| (name, all));
        let named = needs.chain(step.after_all.iter().map(|name| (name, true)));
        named
            .filter_map(|(name, all)| Some((self.library.position(name)?, all)))
            .collect()
    }

    fn related(&self, draft: usize, other: usize) -> bool {
        let subject = |draft: usize| &self.subjects[self.drafts[draft].subject];
        subject(draft).hangs_together_with(subject(other))
    }
}
