//! Nuts and their torques.

use serde::Serialize;

use super::build::Context;
use crate::fittings::Joint;

/// A nut and what is under it.
#[derive(Debug, Clone, Serialize)]
pub struct JointView {
    /// The stud.
    pub name: String,
    /// Where it is.
    pub place: String,
    /// Its thread.
    pub thread: String,
    /// Leads whose lugs it holds, from the stud's foot up.
    pub leads: Vec<String>,
    /// Torque of the nut.
    pub torque_nm: Option<f64>,
    /// The same in the job's units.
    pub torque_shown: Option<String>,
    /// How far the torque binds: `table`, `guidance` or `open`.
    pub torque_standing: String,
    /// Publication behind the torque, or why there is none.
    pub torque_source: String,
    /// Number of that publication among the sources of torques, from one.
    pub torque_note: usize,
    /// Wrench for it.
    pub wrench: Option<String>,
}

/// Every nut; `sources` are those of all torques.
pub fn joints(context: Context<'_>, sources: &[String]) -> Vec<JointView> {
    let view = |joint: &Joint| JointView {
        name: joint.name.clone(),
        place: context.job.place(joint.place).name.clone(),
        thread: joint.thread.to_string(),
        leads: joint.leads.clone(),
        torque_nm: joint.torque.value.map(|torque| torque.nm()),
        torque_shown: joint
            .torque
            .value
            .map(|torque| context.job.units.torque(torque)),
        torque_standing: joint.torque.standing.to_string(),
        torque_source: joint.torque.source.clone(),
        torque_note: 1 + sources
            .iter()
            .position(|source| *source == joint.torque.source)
            .unwrap_or_default(),
        wrench: joint.wrench.clone(),
    };
    context.plan.fittings.joints.iter().map(view).collect()
}

/// Every source of a torque once, in the order of the nuts.
pub fn sources(context: Context<'_>) -> Vec<String> {
    let mut sources: Vec<String> = Vec::new();
    for joint in &context.plan.fittings.joints {
        if !sources.contains(&joint.torque.source) {
            sources.push(joint.torque.source.clone());
        }
    }
    sources
}
