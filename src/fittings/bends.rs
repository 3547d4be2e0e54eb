//! Bends: whether the cable can follow the way.

use super::ledger::Ledger;
use super::site::Site;
use super::words::{mm, source_of, told};
use crate::check::{Check, CheckRule};

/// Holds the bends of every lead against its cable.
pub(super) fn check(site: Site<'_>, ledger: &mut Ledger) {
    for (id, lead) in site.job.leads() {
        let (Some(cable), Some(way)) = (site.cable(id), site.way(id)) else {
            continue;
        };
        let least = cable.min_bend_radius;
        let source = source_of(cable);
        let note = format!("make no bend tighter than {}", mm(least));
        let check = match way.tightest_bend {
            Some(bend) => {
                let limit = source.map(|()| least.mm());
                let (rule, name) = (CheckRule::BendRadius, &lead.name);
                let check = Check::at_least(rule, name, bend.mm(), &limit, "mm");
                told(check, &note, "take a more flexible cable or a wider way")
            }
            None => Check::holds(CheckRule::BendRadius, &lead.name, true, &source).with_note(
                format!("{note}; no bend was measured, they are made by hand"),
            ),
        };
        ledger.checks.push(check);
    }
}
