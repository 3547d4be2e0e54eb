//! Tools and dies: those owned, and those to be had.

use crate::catalog::{Catalog, PartKind};
use crate::fittings::{Amount, Need};
use crate::shop::ShopFile;

/// The tools of a job by who has them.
#[derive(Debug)]
pub(super) struct Sorted {
    /// Descriptions of those that the shop owns, in the order of the job.
    pub owned: Vec<String>,
    /// Those that it lacks, one each.
    pub missing: Vec<Need>,
}

/// Sorts the tools; one named twice counts once.
pub(super) fn sort(tools: &[String], shop: &ShopFile, catalog: &Catalog) -> Sorted {
    let mut sorted = Sorted {
        owned: Vec::new(),
        missing: Vec::new(),
    };
    for (position, id) in tools.iter().enumerate() {
        if tools[..position].contains(id) {
            continue;
        }
        let part = catalog.part(id);
        if shop.tools.iter().any(|owned| owned.value == *id) {
            let description = part.map_or(id.as_str(), |part| part.description());
            sorted.owned.push(description.to_owned());
        } else {
            sorted.missing.push(Need {
                part: id.clone(),
                kind: part.map_or(PartKind::Tool, |part| part.kind()),
                colour: None,
                amount: Amount::Pieces(1),
                purpose: "tool of the job".to_owned(),
            });
        }
    }
    sorted
}
