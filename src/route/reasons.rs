//! Why a way was not taken, in words.

use std::collections::BTreeMap;

use super::choice::Choice;
use super::limits::{Closure, Insulation, closures};
use super::{Way, wording};
use crate::job::{Access, HazardKind, Job};
use crate::quantity::{Length, Temperature};

/// Differences in length below this are not worth a word.
const NOTICEABLE: Length = Length::from_mm(5.0);

/// Everything that speaks against a way beside the one taken; never empty.
pub fn against(choice: &Choice<'_>, other: &Way, taken: &Way) -> Vec<String> {
    let job = choice.job;
    let closed = all_closures(job, other, choice.insulation);
    let mut reasons: Vec<String> = closed.iter().map(|closure| told(job, closure)).collect();
    reasons.extend(longer(job, other, taken));
    reasons.extend(hazards(job, other, taken, &closed));
    reasons.extend(hotter(job, other, taken, &closed));
    reasons.extend(harder_to_reach(job, other, taken));
    if reasons.is_empty() {
        reasons.push(if other.cost_m > taken.cost_m {
            "more of it lies where it is exposed or hard to reach".to_owned()
        } else {
            "no better in any respect".to_owned()
        });
    }
    reasons
}

fn all_closures(job: &Job, way: &Way, insulation: Option<&Insulation>) -> Vec<Closure> {
    let mut legs = way.legs.clone();
    legs.sort_unstable();
    legs.dedup();
    let each = legs.into_iter();
    each.flat_map(|leg| closures(job, job.leg(leg), insulation))
        .collect()
}

fn told(job: &Job, closure: &Closure) -> String {
    match closure {
        Closure::Gap { kind, gap, limit } => format!(
            "closed: {} from {}, {} needed",
            job.units.shown(*gap),
            wording::hazard(*kind),
            job.units.shown_at_least(*limit)
        ),
        Closure::Heat { space, rating } => format!(
            "closed: {} in `{}`, the insulation is rated {}",
            job.units.temperature(job.space(*space).temperature),
            job.space(*space).name,
            job.units.temperature(*rating)
        ),
    }
}

fn longer(job: &Job, other: &Way, taken: &Way) -> Option<String> {
    let more = other.length - taken.length;
    (more > NOTICEABLE).then(|| format!("{} longer", job.units.shown(more)))
}

/// Nearest distance to each kind of hazard on a way; `None`
/// where a gap was not measured.
fn nearest(job: &Job, way: &Way) -> BTreeMap<HazardKind, Option<Length>> {
    let mut nearest: BTreeMap<HazardKind, Option<Length>> = BTreeMap::new();
    for leg in &way.legs {
        for hazard in &job.leg(*leg).hazards {
            let known = nearest.entry(hazard.kind).or_insert(hazard.gap);
            *known = match (*known, hazard.gap) {
                (Some(a), Some(b)) => Some(a.min(b)),
                _ => None,
            };
        }
    }
    nearest
}

/// Hazards that the other way passes and the one taken does not, or not so near, but for those
/// that close it.
fn hazards(job: &Job, other: &Way, taken: &Way, closed: &[Closure]) -> Vec<String> {
    let closes = |wanted| {
        closed
            .iter()
            .any(|closure| matches!(closure, Closure::Gap { kind, .. } if *kind == wanted))
    };
    let known = nearest(job, taken);
    let mut reasons = Vec::new();
    for (kind, gap) in nearest(job, other) {
        if closes(kind) {
            continue;
        }
        let name = wording::hazard(kind);
        match (gap, known.get(&kind)) {
            (_, Some(None)) => {}
            (Some(gap), Some(Some(taken))) if gap >= *taken => {}
            (Some(gap), _) => reasons.push(format!("passes {name} at {}", job.units.shown(gap))),
            (None, _) => reasons.push(format!("passes {name}")),
        }
    }
    reasons
}

fn hottest(job: &Job, way: &Way) -> Option<Temperature> {
    let spaces = way
        .legs
        .iter()
        .map(|leg| job.space(job.leg(*leg).space).temperature);
    spaces.reduce(Temperature::max)
}

fn hotter(job: &Job, other: &Way, taken: &Way, closed: &[Closure]) -> Option<String> {
    let too_hot = |closure: &Closure| matches!(closure, Closure::Heat { .. });
    if closed.iter().any(too_hot) {
        return None;
    }
    let hottest_other = hottest(job, other)?;
    (hottest(job, taken)? < hottest_other).then(|| {
        let temperature = job.units.temperature(hottest_other);
        format!("lies in hotter air, up to {temperature}")
    })
}

fn harder_to_reach(job: &Job, other: &Way, taken: &Way) -> Option<String> {
    let hardest = |way: &Way| way.legs.iter().map(|leg| job.leg(*leg).access).max();
    let access = hardest(other)?;
    (hardest(taken)? < access).then(|| match access {
        Access::Hard => "hard to reach".to_owned(),
        Access::Awkward => "awkward to reach".to_owned(),
        Access::Open | Access::Easy => "not as open".to_owned(),
    })
}
