//! Sealant, paint, cleaner and contact protection, by the container.

use super::choose::{Lacks, choose};
use super::ledger::Ledger;
use super::site::Site;
use crate::catalog::{Consumable, ConsumableUse};

/// Notes the containers of sealant, paint, cleaner and contact protection.
pub(super) fn fit(site: Site<'_>, joints: usize, ledger: &mut Ledger) {
    let holes = ledger.holes.len();
    let steel = ledger.holes.iter().filter(|hole| hole.steel).count();
    for (purpose, uses, what) in [
        (ConsumableUse::Sealant, holes, "drilled holes"),
        (ConsumableUse::Paint, steel, "bare edges of drilled steel"),
        (ConsumableUse::Cleaner, joints, "joints"),
        (ConsumableUse::ContactProtection, joints, "joints"),
    ] {
        if uses > 0 {
            containers(site, purpose, uses, what, ledger);
        }
    }
}

fn containers(
    site: Site<'_>,
    purpose: ConsumableUse,
    uses: usize,
    what: &str,
    ledger: &mut Ledger,
) {
    let uses = u32::try_from(uses).unwrap_or(u32::MAX);
    let count = |row: &Consumable| uses.div_ceil(row.uses.max(1));
    let judge = |row: &Consumable, lacks: &mut Lacks| {
        lacks.unless(row.purpose == purpose, || format!("it is {}", row.purpose));
    };
    // As little left over as may be, then as few containers.
    let rank = |row: &Consumable| {
        let held = f64::from(count(row)) * f64::from(row.uses);
        [held, f64::from(count(row))]
    };
    match choose(&site.catalog.consumables, judge, rank) {
        Ok(row) => ledger.need(row, count(row), format!("{purpose} for {uses} {what}")),
        Err(nearest) => ledger.lack(format!("{purpose} for {uses} {what}"), nearest),
    }
}
