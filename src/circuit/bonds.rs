//! Whether metal that is no conductor carries load current.

use std::sync::Arc;

use super::corner::Corners;
use super::held::Judged;
use super::network::BranchOwner;
use super::wiring::Wiring;
use crate::catalog::Cited;
use crate::check::{Check, CheckRule};
use crate::job::Bond;
use crate::quantity::Current;

/// A verdict on every bond, where the setting limits what may flow through it.
pub fn judge<'a>(wiring: &Wiring<'a>, corners: &mut Corners) -> Vec<Judged<'a>> {
    let Some(rule) = &wiring.job.rules.bond_current else {
        return Vec::new();
    };
    let job = wiring.job;
    let solved = Arc::clone(&corners.solved);
    let branches = solved.network.branches.iter().enumerate();
    let bonds = branches.filter_map(|(position, branch)| match branch.owner {
        BranchOwner::Bond(index) => Some((index, position, branch)),
        _ => None,
    });
    let judged = bonds.map(|(index, position, branch)| {
        let planned = (solved.across(branch.from, branch.to) / branch.ohm).abs();
        let amps = corners.most_amps(position);
        // Thicker cables only shift the current; the cure is another return.
        Judged::told(move || told(&job.bonds[index], rule, (planned, amps)))
    });
    judged.collect()
}

fn told(bond: &Bond, rule: &Cited<Current>, (planned, amps): (f64, f64)) -> Check {
    let limit = rule.map(|current| current.a());
    let subject = format!("{} to {}", *bond.given.from, *bond.given.to);
    let mut note = format!(
        "{planned:.2} A flow through the metal between them as planned, {amps:.2} A at worst"
    );
    if amps > limit.value {
        note.push_str(
            "; it is no return: lead the return of what causes it back by a cable of its own",
        );
    }
    let check = Check::at_most(CheckRule::BondCurrent, &subject, amps, &limit, "A");
    check.with_nominal(planned, None).with_note(note)
}
