//! Everything that might be taken along, each once.

use super::bulk;
use super::bypass::Bypass;
use super::price::{self, Till};
use super::problem::Burden;
use crate::catalog::{Catalog, Part, PartKind};
use crate::job::Units;
use crate::quantity::{Mass, Money, Volume};

/// Something that might be taken along.
#[derive(Debug, Clone)]
pub(super) struct Item {
    /// What it is.
    pub what: What,
    /// One line on it.
    pub description: String,
    /// So many pieces: as many as the hungriest mending takes.
    pub pieces: u32,
    /// Mass of all pieces.
    pub mass: Mass,
    /// Room of all pieces.
    pub volume: Volume,
    /// Where the mass comes from.
    pub mass_source: String,
    /// Where the room comes from.
    pub volume_source: String,
    /// Price of all pieces, tax included.
    pub price: Money,
    /// Whether the workshop has it already.
    pub owned: bool,
}

/// What an item is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum What {
    /// A part, consumable or tool of the catalog.
    Part(PartKind, String),
    /// One of the bypass leads.
    Bypass(usize),
}

/// Collects them.
#[derive(Debug)]
pub(super) struct Pool<'a, 'b> {
    catalog: &'a Catalog,
    till: &'b Till<'a>,
    owned: Vec<String>,
    pub items: Vec<Item>,
    /// Ids of parts that nobody offers, or of which neither mass nor room is known.
    pub not_to_be_had: Vec<String>,
}

impl<'a, 'b> Pool<'a, 'b> {
    /// With the tools that the workshop gives along.
    pub(super) fn new(catalog: &'a Catalog, till: &'b Till<'a>, owned: Vec<String>) -> Self {
        Self {
            catalog,
            till,
            owned,
            items: Vec::new(),
            not_to_be_had: Vec::new(),
        }
    }

    /// The position of a part of which so many pieces may be needed at once; `None` where it is not
    /// to be had.
    pub(super) fn part(&mut self, id: &str, pieces: u32) -> Option<usize> {
        let part = self.catalog.part(id)?;
        let what = What::Part(part.kind(), id.to_owned());
        let known = self.items.iter().position(|item| item.what == what);
        if let Some(known) = known {
            let held = self.items.get(known).map_or(0, |item| item.pieces);
            if pieces > held {
                let item = self.priced(part, what, pieces)?;
                *self.items.get_mut(known)? = item;
            }
            return Some(known);
        }
        if self.not_to_be_had.iter().any(|other| other == id) {
            return None;
        }
        let Some(item) = self.priced(part, what, pieces) else {
            self.not_to_be_had.push(id.to_owned());
            return None;
        };
        self.items.push(item);
        Some(self.items.len() - 1)
    }

    fn priced(&self, part: &dyn Part, what: What, pieces: u32) -> Option<Item> {
        let bulk = bulk::of_part(part, self.catalog)?;
        let owned = self.owned.iter().any(|id| id == part.id());
        let price = if owned {
            Money::ZERO
        } else {
            let need = price::pieces(part, pieces, self.catalog);
            self.till.price(std::slice::from_ref(&need))?
        };
        let count = f64::from(pieces);
        Some(Item {
            what,
            description: part.description().to_owned(),
            pieces,
            mass: bulk.mass * count,
            volume: bulk.volume * count,
            mass_source: bulk.mass_source,
            volume_source: bulk.volume_source,
            price,
            owned,
        })
    }

    /// The position of a bypass lead.
    pub(super) fn bypass(&mut self, number: usize, bypass: &Bypass<'_>, units: Units) -> usize {
        let what = What::Bypass(number);
        if let Some(known) = self.items.iter().position(|item| item.what == what) {
            return known;
        }
        self.items.push(Item {
            what,
            description: bypass.words(units),
            pieces: 1,
            mass: bypass.bulk.mass,
            volume: bypass.bulk.volume,
            mass_source: format!("{}, with its ends and fuse", bypass.bulk.mass_source),
            volume_source: bypass.bulk.volume_source.clone(),
            price: bypass.price,
            owned: false,
        });
        self.items.len() - 1
    }

    /// What each item takes of the limits, in whole units, rounded up.
    pub(super) fn burdens(&self) -> Vec<Burden> {
        let burden = |item: &Item| Burden {
            grams: up(item.mass.kg()),
            millilitres: up(item.volume.l()),
            price: self.till.units(item.price),
        };
        self.items.iter().map(burden).collect()
    }
}

/// Thousandths, rounded up; a hair above a whole number counts as that.
pub(super) fn up(value: f64) -> u64 {
    (value * 1e3 - 1e-6).ceil().max(0.0) as u64
}
