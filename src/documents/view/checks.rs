//! Verdicts and misfits.

use serde::Serialize;

use super::build::Context;
use crate::check::Check;
use crate::plan::Plan;

/// One verdict.
pub type CheckView = Check;

/// Every verdict; failing ones first, then open ones, each group in the order of the stages.
pub fn views(plan: &Plan) -> Vec<CheckView> {
    use crate::check::Verdict::{Fail, Open, Pass};
    let with = |verdict| {
        plan.checks
            .iter()
            .filter(move |check| check.verdict == verdict)
    };
    with(Fail)
        .chain(with(Open))
        .chain(with(Pass))
        .cloned()
        .collect()
}

/// Something that nothing in the catalog fits.
#[derive(Debug, Clone, Serialize)]
pub struct MisfitView {
    /// What is needed.
    pub wanted: String,
    /// The parts that come nearest.
    pub nearest: Vec<NearMissView>,
}

/// A part that nearly fits.
#[derive(Debug, Clone, Serialize)]
pub struct NearMissView {
    /// Id of the part.
    pub part: String,
    /// The part in words.
    pub description: String,
    /// What it lacks.
    pub lacks: Vec<String>,
}

/// Every misfit.
pub fn misfits(context: Context<'_>) -> Vec<MisfitView> {
    let misfits = context.plan.fittings.misfits.iter();
    misfits
        .map(|misfit| MisfitView {
            wanted: misfit.wanted.clone(),
            nearest: misfit
                .nearest
                .iter()
                .map(|miss| NearMissView {
                    part: miss.part.clone(),
                    description: context.described(&miss.part),
                    lacks: miss.lacks.clone(),
                })
                .collect(),
        })
        .collect()
}
