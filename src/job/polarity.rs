//! Which leads are on the positive side.
//!
//! Terminals joined by leads, devices and bonds form one conductor group. A group that touches any
//! positive pole is on the positive side; a link between batteries in series is too.

use super::model::{Job, Protected, Unprotected};
use crate::catalog::Polarity;

/// Gives every lead its side, and with it its need of protection.
pub fn settle(job: &mut Job) {
    let groups = job.groups();
    let positive: Vec<usize> = job
        .terminals
        .iter()
        .enumerate()
        .filter(|(_, terminal)| terminal.pole == Some(Polarity::Positive))
        .map(|(index, _)| groups[index])
        .collect();
    for lead in &mut job.leads {
        if positive.contains(&groups[lead.from.0]) {
            continue;
        }
        lead.polarity = Polarity::Negative;
        if lead.protected == Protected::Auto
            || matches!(lead.protected, Protected::No { reason } if reason != Unprotected::User)
        {
            lead.protected = Protected::No {
                reason: Unprotected::Return,
            };
        }
    }
}
