//! Which step uses which part: every need of the fittings is named in exactly one step.

use std::collections::BTreeMap;

use super::draft::Draft;
use super::library::{StepFile, StepLibrary};
use super::subject::{Subject, Wish};
use super::work::Work;
use crate::catalog::{ConsumableUse, PartKind};
use crate::fittings::{Amount, Need};
use crate::quantity::Length;

/// For each step, in the order of the work, the positions of the needs that it uses.
///
/// A need goes to the first step that takes such parts and whose thing is known to use just this
/// one; else to one whose thing is spoken of in the need's purpose, the longest name winning; else,
/// for consumables, to the first step that has a use for them; else to the step that names the rest.
pub fn shares(
    work: &Work,
    library: &StepLibrary,
    subjects: &[Subject],
    steps: &[Draft],
) -> Vec<Vec<usize>> {
    let things = |at: usize| &subjects[steps[at].subject];
    let mut wishes = Wishes::of(steps.len(), things);
    let mut takers: Vec<(Taken, Vec<usize>)> = Vec::new();
    let mut shares = vec![Vec::new(); steps.len()];
    for (position, need) in work.fittings.needs.iter().enumerate() {
        let taken = Taken::of(work, need);
        let known = takers.iter().position(|(known, _)| *known == taken);
        let known = known.unwrap_or_else(|| {
            let takes = |at: &usize| taken.by(&library.steps[steps[*at].kind]);
            takers.push((taken, (0..steps.len()).filter(takes).collect()));
            takers.len() - 1
        });
        let candidates = &takers[known].1;
        let rest = || steps.iter().position(|step| library.steps[step.kind].rest);
        let user = wishes
            .user(need, candidates, things)
            .or_else(|| spoken_of(need, candidates, things))
            .or_else(|| candidates.first().copied().filter(|_| is_consumable(need)))
            .or_else(rest);
        if let Some(user) = user {
            shares[user].push(position);
        }
    }
    shares
}

fn is_consumable(need: &Need) -> bool {
    need.kind == PartKind::Consumable
}

/// What decides which steps take a part.
#[derive(Clone, Copy, PartialEq)]
enum Taken {
    /// A part of a kind.
    Kind(PartKind),
    /// A consumable for a purpose, if it is known.
    Consumable(Option<ConsumableUse>),
}

impl Taken {
    fn of(work: &Work, need: &Need) -> Self {
        if !is_consumable(need) {
            return Self::Kind(need.kind);
        }
        let mut rows = work.catalog.consumables.iter();
        let row = rows.find(|row| *row.id == need.part);
        Self::Consumable(row.map(|row| row.purpose))
    }

    fn by(&self, step: &StepFile) -> bool {
        match self {
            Self::Kind(kind) => step.takes.contains(kind),
            Self::Consumable(purpose) => {
                purpose.is_some_and(|purpose| step.consumables.contains(&purpose))
            }
        }
    }
}

/// The parts that the things of steps are known to use and that no need has met so far.
struct Wishes<'a> {
    /// Those of each step.
    open: Vec<Vec<&'a Wish>>,
    /// The steps that once wished for a part, in their order.
    wishing: BTreeMap<&'a str, Vec<usize>>,
}

impl<'a> Wishes<'a> {
    fn of(steps: usize, things: impl Fn(usize) -> &'a Subject) -> Self {
        let mut wishing: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
        let open = (0..steps).map(|at| things(at).wishes.iter().collect());
        let open: Vec<Vec<&Wish>> = open.collect();
        for (at, wishes) in open.iter().enumerate() {
            for wish in wishes {
                let steps = wishing.entry(wish.part.as_str()).or_default();
                if steps.last() != Some(&at) {
                    steps.push(at);
                }
            }
        }
        Self { open, wishing }
    }

    /// A step whose thing is known to use the part, in just this length where there is one; of several
    /// the one that the purpose speaks of most. Pieces strike off as many wishes as there are pieces.
    fn user(
        &mut self,
        need: &Need,
        candidates: &[usize],
        things: impl Fn(usize) -> &'a Subject,
    ) -> Option<usize> {
        let fits = |wish: &&Wish| wish.part == need.part && same_length(wish.length, need.amount);
        let pieces = match need.amount {
            Amount::Pieces(pieces) => pieces.max(1),
            Amount::Length(_) => 1,
        };
        let wishing = self.wishing.get(need.part.as_str()).into_iter().flatten();
        let taking = wishing.filter(|at| candidates.binary_search(at).is_ok());
        let taking: Vec<usize> = taking.copied().collect();
        let mut user = None;
        for _ in 0..pieces {
            let wishing = taking.iter().copied();
            let wishing: Vec<usize> = wishing
                .filter(|at| self.open[*at].iter().any(fits))
                .collect();
            let Some(next) = most_spoken_of(need, &wishing, &things) else {
                break;
            };
            if let Some(struck) = self.open[next].iter().position(fits) {
                self.open[next].remove(struck);
            }
            user = user.or(Some(next));
        }
        user
    }
}

fn same_length(wish: Option<Length>, amount: Amount) -> bool {
    /// Lengths that differ by less are the same length, worked out twice.
    const HAIR_M: f64 = 1e-6;
    match (wish, amount) {
        (Some(wish), Amount::Length(need)) => (wish - need).m().abs() < HAIR_M,
        _ => true,
    }
}

/// The step whose thing has the longest name in the need's purpose; the first of several.
fn spoken_of<'a>(
    need: &Need,
    candidates: &[usize],
    things: impl Fn(usize) -> &'a Subject,
) -> Option<usize> {
    let user = most_spoken_of(need, candidates, &things);
    user.filter(|at| spoken(need, things(*at)) > 0)
}

fn most_spoken_of<'a>(
    need: &Need,
    steps: &[usize],
    things: &impl Fn(usize) -> &'a Subject,
) -> Option<usize> {
    // Of equals the last one that is looked at wins: the first, where the search goes backwards.
    let backwards = steps.iter().copied().rev();
    backwards.max_by_key(|at| spoken(need, things(*at)))
}

/// How much of a need's purpose is made of a thing's names.
fn spoken(need: &Need, thing: &Subject) -> usize {
    let names = thing.mentions.iter();
    let spoken = names.filter(|name| need.purpose.contains(name.as_str()));
    spoken.map(String::len).sum()
}

/// Parts in words with their number, one line for each part and colour.
pub fn in_words(work: &Work, needs: &[usize]) -> Vec<String> {
    let mut rows: Vec<Need> = Vec::new();
    for need in needs.iter().filter_map(|at| work.fittings.needs.get(*at)) {
        match rows.iter_mut().find(|row| alike(row, need)) {
            Some(row) => row.amount = sum(row.amount, need.amount),
            None => rows.push(need.clone()),
        }
    }
    rows.iter().map(|row| line(work, row)).collect()
}

/// Pieces add up; lengths are each one unbroken length, and stay on their own.
fn alike(a: &Need, b: &Need) -> bool {
    let pieces = |need: &Need| matches!(need.amount, Amount::Pieces(_));
    a.part == b.part && a.colour == b.colour && pieces(a) && pieces(b)
}

fn sum(a: Amount, b: Amount) -> Amount {
    match (a, b) {
        (Amount::Pieces(a), Amount::Pieces(b)) => Amount::Pieces(a.saturating_add(b)),
        (other, _) => other,
    }
}

fn line(work: &Work, need: &Need) -> String {
    let description = work.describe(&need.part);
    // Parts sold in one colour only name it themselves.
    let colour = need.colour.map(|colour| colour.to_string());
    let colour = colour.filter(|colour| !description.contains(colour.as_str()));
    let colour = colour.map_or_else(String::new, |colour| format!(", {colour}"));
    match need.amount {
        Amount::Pieces(pieces) => format!("{pieces} × {description}{colour}"),
        Amount::Length(length) => {
            let length = work.job.units.on_tape_at_least(length);
            format!("{length} of {description}{colour}")
        }
    }
}

/// Ids of the parts, each once.
pub fn ids(work: &Work, needs: &[usize]) -> Vec<String> {
    let mut ids: Vec<String> = Vec::new();
    for need in needs.iter().filter_map(|at| work.fittings.needs.get(*at)) {
        if !ids.contains(&need.part) {
            ids.push(need.part.clone());
        }
    }
    ids
}
