//! How far the ground of an electronic load is from that of the engine.

use serde::Serialize;

use super::corner::{Corners, Harm, Quantity};
use crate::job::{Job, Owner, TerminalId};

/// Volts between the negative terminal of a load and the engine.
#[derive(Debug, Clone, Serialize)]
pub struct GroundOffset {
    /// The point that stands for the engine.
    pub against: String,
    /// Whether that is the chassis point that the case of a starter or alternator is bolted to; else
    /// it is the negative terminal of a battery.
    pub is_engine: bool,
    /// Millivolts by which the load's ground is above it, as planned.
    pub millivolt: f64,
    /// The same where it is furthest off.
    pub worst_millivolt: f64,
}

/// The offset of a load's ground, given by its node; `None` where nothing joins it to the engine.
pub fn offset(job: &Job, corners: &mut Corners, ground: usize) -> Option<GroundOffset> {
    let (against, is_engine) = engine_point(job)?;
    if !corners.solved.solver.joined(ground, against.0) {
        return None;
    }
    let quantity = Quantity::Across {
        higher: ground,
        lower: against.0,
    };
    let high = corners.worst(quantity, Harm::High);
    let low = corners.worst(quantity, Harm::Low);
    let worst = if low.worst.abs() > high.worst.abs() {
        low.worst
    } else {
        high.worst
    };
    Some(GroundOffset {
        against: job.terminal(against).name.clone(),
        is_engine,
        millivolt: high.nominal * 1e3,
        worst_millivolt: worst * 1e3,
    })
}

/// The chassis point that the case of a starter, else of an alternator, is bolted to; else the
/// negative terminal of the first battery.
fn engine_point(job: &Job) -> Option<(TerminalId, bool)> {
    let starters = job.loads.iter().filter(|load| load.is_starter());
    let cases = starters
        .map(|load| load.negative)
        .chain(job.alternators.iter().map(|alternator| alternator.negative));
    let chassis =
        |terminal: &TerminalId| matches!(job.terminal(*terminal).owner, Owner::Chassis(_));
    let case = cases.into_iter().find(chassis).map(|point| (point, true));
    case.or_else(|| Some((job.batteries.first()?.negative, false)))
}
