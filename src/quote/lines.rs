//! The lines that a customer reads: work by phase, parts by group, delivery.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use serde::Serialize;

use super::labour::Labour;
use super::parts::{PricedPart, Pricing};
use super::reckon::Settled;
use crate::method::{Stage, StepLibrary};
use crate::quantity::Money;

/// Where a line stands; lines of several options in the same place are one row.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum LinePlace {
    /// Work of a phase.
    Work(Stage),
    /// A group of parts, by its place among the groups.
    Parts(u32),
    /// Parts of no group.
    OtherParts,
    /// Consumables that are charged by the labour.
    Consumables,
    /// Delivery.
    Delivery,
}

/// One line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Line {
    /// Where it stands.
    pub place: LinePlace,
    /// What it is.
    pub name: String,
    /// Hours, for work.
    pub hours: Option<Decimal>,
    /// What it costs the workshop before tax; nothing for work whose hours have no cost.
    pub cost: Option<Money>,
    /// The price before tax.
    pub net: Money,
    /// The price as the customer reads it.
    pub shown: Money,
    /// The tax on it or inside it, where tax is reckoned on each line.
    pub tax: Option<Money>,
}

/// A line before tax.
#[derive(Debug, Clone)]
pub(super) struct Named {
    place: LinePlace,
    name: String,
    hours: Option<Decimal>,
    cost: Option<Decimal>,
    net: Money,
}

/// What lines are made from.
#[derive(Debug, Clone, Copy)]
pub(super) struct Lines<'a> {
    pub labour: &'a [Labour],
    pub parts: &'a [PricedPart],
    pub delivery: Money,
    pub pricing: Pricing<'a>,
    pub library: &'a StepLibrary,
}

impl Lines<'_> {
    /// The prices before tax, and what they are for, in the order in which they are read.
    pub(super) fn collect(&self) -> (Vec<Money>, Vec<Named>) {
        let mut rows: BTreeMap<LinePlace, Named> = BTreeMap::new();
        let mut add = |row: Named| match rows.get_mut(&row.place) {
            Some(known) => known.join(row),
            None => drop(rows.insert(row.place, row)),
        };
        self.labour
            .iter()
            .map(|row| self.work(row))
            .for_each(&mut add);
        let parts = self.parts.iter().map(|part| self.part(part));
        parts.for_each(&mut add);
        self.consumables().into_iter().for_each(&mut add);
        self.delivery().into_iter().for_each(&mut add);
        let rows: Vec<Named> = rows.into_values().collect();
        (rows.iter().map(|row| row.net).collect(), rows)
    }

    fn work(&self, row: &Labour) -> Named {
        Named {
            place: LinePlace::Work(row.stage),
            name: self.library.phase(row.stage),
            hours: Some(row.hours),
            cost: row.cost.map(Money::decimal),
            net: row.price,
        }
    }

    fn part(&self, part: &PricedPart) -> Named {
        let group = self.pricing.catalog.price_group(part.kind);
        let (place, name) = match group {
            _ if part.markup.is_none() => (LinePlace::Consumables, CONSUMABLES.to_owned()),
            Some(group) => (LinePlace::Parts(group.place.value), group.name.clone()),
            None => (LinePlace::OtherParts, "Other parts".to_owned()),
        };
        Named {
            place,
            name,
            hours: None,
            cost: Some(part.cost.decimal()),
            net: part.price,
        }
    }

    /// Consumables in percent of the labour.
    fn consumables(&self) -> Option<Named> {
        let rate = self.pricing.shop.consumables?;
        let labour: Money = self.labour.iter().map(|row| row.price).sum();
        let exact = labour.decimal() * rate.fraction();
        Some(Named {
            place: LinePlace::Consumables,
            name: CONSUMABLES.to_owned(),
            hours: None,
            cost: Some(Decimal::ZERO),
            net: self.pricing.rule.rounded(exact, self.pricing.currency),
        })
    }

    fn delivery(&self) -> Option<Named> {
        let Pricing {
            shop,
            rule,
            currency,
            ..
        } = self.pricing;
        (self.delivery > Money::ZERO).then(|| Named {
            place: LinePlace::Delivery,
            name: "Delivery of the parts to us".to_owned(),
            hours: None,
            cost: Some(self.delivery.decimal()),
            net: rule.marked_up(self.delivery, shop.delivery_markup, currency),
        })
    }
}

const CONSUMABLES: &str = "Consumables";

impl Named {
    fn join(&mut self, other: Self) {
        self.hours = sum(self.hours, other.hours);
        self.cost = self.cost.zip(other.cost).map(|(a, b)| a + b);
        self.net += other.net;
    }
}

fn sum(a: Option<Decimal>, b: Option<Decimal>) -> Option<Decimal> {
    match (a, b) {
        (Some(a), Some(b)) => Some(a + b),
        (a, b) => a.or(b),
    }
}

/// The lines with their prices as shown.
pub(super) fn settled(rows: Vec<Named>, settled: Vec<Settled>) -> Vec<Line> {
    let lines = rows.into_iter().zip(settled);
    lines
        .map(|(row, settled)| Line {
            place: row.place,
            name: row.name,
            hours: row.hours,
            cost: row.cost.map(Money::from_decimal),
            net: row.net,
            shown: settled.shown,
            tax: settled.tax,
        })
        .collect()
}
