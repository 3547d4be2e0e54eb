//! What there is to carry.

use serde::Serialize;

use crate::catalog::{Catalog, Pack};
use crate::purchase::BillLine;
use crate::quantity::{Length, Mass};

/// The weight of some goods; whole packs and rolls are carried.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Weight {
    /// Of all whose mass the catalog knows.
    pub known: Mass,
    /// What the catalog gives no mass of, by description.
    pub unknown: Vec<String>,
}

/// Weighs lines of a bill.
pub(super) fn of<'a>(lines: impl Iterator<Item = &'a BillLine>, catalog: &Catalog) -> Weight {
    let mut weight = Weight::default();
    for line in lines {
        match one(line, catalog) {
            Some(mass) => weight.known += mass,
            None => weight.unknown.push(line.description.clone()),
        }
    }
    weight
}

fn one(line: &BillLine, catalog: &Catalog) -> Option<Mass> {
    let packs = f64::from(line.packs);
    match line.contents {
        Pack::Pieces(pieces) => {
            let each = catalog.part(&line.part)?.mass()?;
            Some(each * (f64::from(pieces) * packs))
        }
        Pack::Length(length) => {
            let cable = catalog.cable(&line.part)?;
            Some(cable.mass_per_length.of(Length::from_m(length.m() * packs)))
        }
    }
}
