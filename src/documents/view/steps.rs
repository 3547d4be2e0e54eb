//! Steps of the work.

use serde::Serialize;

use crate::plan::Plan;

/// One step.
#[derive(Debug, Clone, Serialize)]
pub struct StepView {
    /// Its number.
    pub number: usize,
    /// What to do, in a line.
    pub title: String,
    /// What to do, at length.
    pub text: String,
    /// Where.
    pub place: String,
    /// Steps that must be done first.
    pub needs: Vec<usize>,
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
    /// What can go wrong and hurt.
    pub cautions: Vec<String>,
}

/// Every step.
pub fn views(plan: &Plan) -> Vec<StepView> {
    let steps = plan.method.steps.iter();
    steps
        .map(|step| StepView {
            number: step.number,
            title: step.title.clone(),
            text: step.text.clone(),
            place: step.place_name.clone(),
            needs: step.needs.clone(),
            minutes: step.minutes,
            tools: step.tools.clone(),
            parts: step.parts.clone(),
            part_ids: step.part_ids.clone(),
            hold_points: step.hold_points.clone(),
            cautions: step.cautions.clone(),
        })
        .collect()
}
