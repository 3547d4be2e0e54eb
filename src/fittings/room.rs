//! The room that clamps take from the distance to hot, moving and fuel-bearing things.

use super::clamps::Group;
use super::ledger::Ledger;
use super::site::Site;
use super::words::mm;
use crate::check::{Check, CheckRule};
use crate::job::LegId;
use crate::quantity::Length;
use crate::route::{gap_limit, hazard_name};

/// One verdict for each measured distance on a leg that has clamps: gaps are measured to the cable,
/// and a clamp stands out from it by as much as it is wider. That it does so on the side of the
/// hazard is taken as the worst case.
pub(super) fn check(site: Site<'_>, leg: LegId, groups: &[Group<'_>], ledger: &mut Ledger) {
    let parts = groups.iter().filter_map(|group| Some((group, group.part?)));
    let wider = parts.map(|(group, part)| (part.max_diameter - group.diameter(), part));
    let Some((wider, part)) = wider.max_by(|a, b| a.0.total_cmp(&b.0)) else {
        return;
    };
    for hazard in &site.job.leg(leg).hazards {
        let (Some(gap), Some(limit)) = (hazard.gap, gap_limit(&site.job.rules, hazard.kind)) else {
            continue;
        };
        let left = gap - wider.max(Length::ZERO);
        let subject = format!("clamps at {}", site.leg_name(leg));
        let limit_mm = limit.map(|limit| limit.mm());
        let check = Check::at_least(CheckRule::Clearance, &subject, left.mm(), &limit_mm, "mm");
        let note = format!(
            "`{}` is up to {} wider than what it holds, which leaves {} to {}",
            part.id.value,
            mm(wider),
            mm(left),
            hazard_name(hazard.kind)
        );
        ledger.checks.push(check.with_note(note));
    }
}
