//! Whether metal that is no conductor carries load current.

use std::rc::Rc;

use super::corner::Corners;
use super::judge::Judged;
use super::network::BranchOwner;
use super::wiring::Wiring;
use crate::check::{Check, CheckRule};

/// A verdict on every bond, where the setting limits what may flow through it.
pub fn judge(wiring: &Wiring<'_>, corners: &mut Corners) -> Vec<Judged> {
    let Some(rule) = &wiring.job.rules.bond_current else {
        return Vec::new();
    };
    let limit = rule.map(|current| current.a());
    let solved = Rc::clone(&corners.solved);
    let branches = solved.network.branches.iter().enumerate();
    let bonds = branches.filter_map(|(position, branch)| match branch.owner {
        BranchOwner::Bond(index) => Some((index, position, branch)),
        _ => None,
    });
    let judged = bonds.map(|(index, position, branch)| {
        let bond = &wiring.job.bonds[index].given;
        let subject = format!("{} to {}", *bond.from, *bond.to);
        let planned = (solved.across(branch.from, branch.to) / branch.ohm).abs();
        let amps = corners.most_amps(position);
        let mut note = format!(
            "{planned:.2} A flow through the metal between them as planned, {amps:.2} A at worst"
        );
        if amps > limit.value {
            note.push_str(
                "; it is no return: lead the return of what causes it back by a cable of its own",
            );
        }
        let check = Check::at_most(CheckRule::BondCurrent, &subject, amps, &limit, "A");
        // Thicker cables only shift the current; the cure is another return.
        Judged {
            check: check.with_nominal(planned, None).with_note(note),
            judged: None,
        }
    });
    judged.collect()
}
