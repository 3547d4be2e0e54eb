//! Which leads are on the positive side.
//!
//! Terminals joined by leads, devices and bonds form one conductor group. A group that touches any
//! positive pole is on the positive side; a link between batteries in series is too.

use super::model::{Job, Protected, Unprotected};
use crate::catalog::Polarity;

/// For each terminal the smallest terminal of its group.
pub fn groups(job: &Job) -> Vec<usize> {
    let mut root: Vec<usize> = (0..job.terminals.len()).collect();
    let leads = job.leads.iter().map(|lead| (lead.from, lead.to));
    let bonds = job.bonds.iter().map(|bond| (bond.from, bond.to));
    let devices = job
        .devices
        .iter()
        .map(|device| (device.input, device.output));
    for (a, b) in leads.chain(bonds).chain(devices) {
        let (a, b) = (find(&root, a.0), find(&root, b.0));
        root[a.max(b)] = a.min(b);
    }
    (0..root.len())
        .map(|terminal| find(&root, terminal))
        .collect()
}

fn find(root: &[usize], mut terminal: usize) -> usize {
    while root[terminal] != terminal {
        terminal = root[terminal];
    }
    terminal
}

/// Gives every lead its side, and with it its need of protection.
pub fn settle(job: &mut Job) {
    let groups = groups(job);
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
