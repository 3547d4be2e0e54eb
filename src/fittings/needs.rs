//! What is taken as the earlier stages found it: cables and protection; and the labels.

use super::Amount;
use super::choose::{Lacks, choose};
use super::ends::sold_colour;
use super::fasteners;
use super::ledger::Ledger;
use super::site::Site;
use super::words::mm;
use crate::catalog::Label;

/// Notes the cable of every section.
pub(super) fn cables(site: Site<'_>, ledger: &mut Ledger) {
    for (id, lead) in site.job.leads() {
        let Some(cable) = site.cable(id) else {
            continue;
        };
        let colour = sold_colour(&cable.colours, &[lead.insulation()]);
        for (index, section) in site.sections(id).iter().enumerate() {
            let purpose = site.section_name(id, index);
            ledger.need_in(cable, colour, Amount::Length(section.cut), purpose);
        }
    }
}

/// Notes every breaker, fuse and holder.
pub(super) fn guards(site: Site<'_>, ledger: &mut Ledger) {
    for guard in &site.protection.guards {
        let purpose = format!("protection of {}", site.name(guard.lead));
        if let Some(part) = site.catalog.part(&guard.part) {
            ledger.need(part, 1, &purpose);
        }
        let holders = &site.catalog.holders;
        let id = guard.holder.as_deref();
        if let Some(holder) = holders.iter().find(|row| Some(row.id.as_str()) == id) {
            ledger.need(holder, 1, &purpose);
            fasteners::mount(site, holder.mount, holder.mounts, &purpose, ledger);
        }
    }
}

/// Notes two labels for every cable of a lead, one near each end.
pub(super) fn labels(site: Site<'_>, ledger: &mut Ledger) {
    for (id, lead) in site.job.leads() {
        let Some(diameter) = site.diameter(id) else {
            continue;
        };
        let judge = |label: &Label, lacks: &mut Lacks| {
            let fits = label.min_cable <= diameter && diameter <= label.max_cable;
            lacks.unless(fits, || {
                let (least, most) = (mm(label.min_cable), mm(label.max_cable));
                format!(
                    "it takes cables from {least} to {most}, this one is {}",
                    mm(diameter)
                )
            });
        };
        let rank = |label: &Label| [label.max_cable.mm(), 0.0];
        match choose(&site.catalog.labels, judge, rank) {
            Ok(label) => {
                let cables = site.route.leads[id.0].sections.len() as u32;
                ledger.need(label, 2 * cables, format!("both ends of {}", lead.name));
            }
            Err(nearest) => ledger.lack(format!("a label for {} cable", mm(diameter)), nearest),
        }
    }
}
