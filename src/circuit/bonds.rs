//! Whether metal that is no conductor carries load current.

use super::judge::Judged;
use super::network::BranchOwner;
use super::operate::Solved;
use super::wiring::Wiring;
use crate::check::{Check, CheckRule};

/// A verdict on every bond, where the setting limits what may flow through it.
pub fn judge(wiring: &Wiring<'_>, solved: &Solved) -> Vec<Judged> {
    let Some(rule) = &wiring.job.rules.bond_current else {
        return Vec::new();
    };
    let limit = rule.map(|current| current.a());
    let bonds = solved.network.branches.iter();
    let bonds = bonds.filter_map(|branch| match branch.owner {
        BranchOwner::Bond(index) => Some((index, branch)),
        _ => None,
    });
    let judged = bonds.map(|(index, branch)| {
        let bond = &wiring.job.bonds[index].given;
        let subject = format!("{} to {}", *bond.from, *bond.to);
        let amps = (solved.across(branch.from, branch.to) / branch.ohm()).abs();
        let mut note = format!("{amps:.2} A flow through the metal between them");
        if amps > limit.value {
            note.push_str(
                "; it is no return: lead the return of what causes it back by a cable of its own",
            );
        }
        let check = Check::at_most(CheckRule::BondCurrent, &subject, amps, &limit, "A");
        // Thicker cables only shift the current; the cure is another return.
        Judged {
            check: check.with_note(note),
            nodes: None,
        }
    });
    judged.collect()
}
