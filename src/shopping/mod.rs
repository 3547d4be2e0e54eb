//! Shopping: what to fetch where, in the order of the aisles, what it weighs, and what is forgotten
//! easily; and the proof that nothing is forgotten.

mod complete;
mod reminders;
mod weight;

use std::collections::BTreeSet;

use serde::Serialize;

use crate::catalog::{Catalog, Lending, PartKind, ToolUse};
use crate::check::Check;
use crate::method::{Method, StepLibrary};
use crate::purchase::{BillLine, FromStock, Purchase};
use crate::quantity::{Currency, Money};
pub use weight::Weight;

/// Outcome of the shopping stage.
#[derive(Debug, Clone, Serialize)]
pub struct Shopping {
    /// Currency of all amounts.
    pub currency: Currency,
    /// One order a supplier, by name.
    pub orders: Vec<Order>,
    /// What all orders weigh.
    pub weight: Weight,
    /// What the shelf gives.
    pub from_stock: Vec<FromStock>,
    /// Tools and dies that are not owned.
    pub tools: Vec<ToolToGet>,
    /// What they weigh.
    pub tools_weight: Weight,
    /// Tools and dies owned, by description.
    pub tools_owned: Vec<String>,
    /// Other things that steps ask for, in the order of the steps.
    pub at_hand: Vec<String>,
    /// Things that are easily forgotten.
    pub reminders: Vec<String>,
    /// Whether nothing is forgotten.
    pub checks: Vec<Check>,
}

/// What one supplier is asked for.
#[derive(Debug, Clone, Serialize)]
pub struct Order {
    /// The supplier.
    pub supplier: String,
    /// The lines, aisle by aisle.
    pub aisles: Vec<AisleLines>,
    /// Goods before tax.
    pub goods: Money,
    /// Delivery.
    pub delivery: Money,
    /// What it weighs.
    pub weight: Weight,
}

/// The lines of one aisle.
#[derive(Debug, Clone, Serialize)]
pub struct AisleLines {
    /// What stands over it.
    pub name: String,
    /// The lines, by kind and then description.
    pub lines: Vec<BillLine>,
}

/// A tool that is not owned.
#[derive(Debug, Clone, Serialize)]
pub struct ToolToGet {
    /// Who sells it for how much.
    pub line: BillLine,
    /// How to come by it.
    pub advice: Lending,
    /// Why.
    pub reason: Option<String>,
}

/// Sorts what is bought into orders and aisles.
pub fn list(
    purchase: &Purchase,
    method: &Method,
    catalog: &Catalog,
    library: &StepLibrary,
) -> Shopping {
    let bill = &purchase.bill;
    let orders = bill.deliveries.iter().map(|delivery| {
        let mine = bill.lines.iter();
        let mine: Vec<&BillLine> = mine
            .filter(|line| line.supplier == delivery.supplier)
            .collect();
        Order {
            supplier: delivery.supplier.clone(),
            weight: weight::of(mine.iter().copied(), catalog),
            aisles: aisles(&mine, catalog),
            goods: delivery.goods,
            delivery: delivery.charge,
        }
    });
    let tools = purchase.tools.lines.iter();
    let at_hand = at_hand(method, library);
    Shopping {
        currency: bill.currency,
        orders: orders.collect(),
        weight: weight::of(bill.lines.iter(), catalog),
        from_stock: purchase.from_stock.clone(),
        tools: tools.map(|line| tool(line, catalog)).collect(),
        tools_weight: weight::of(purchase.tools.lines.iter(), catalog),
        tools_owned: purchase.tools_owned.clone(),
        reminders: reminders::of(purchase, &at_hand, catalog),
        checks: complete::judge(purchase, method, &at_hand, catalog, library),
        at_hand,
    }
}

/// The lines by aisle; those of kinds without an aisle come last.
fn aisles(lines: &[&BillLine], catalog: &Catalog) -> Vec<AisleLines> {
    let place = |line: &&BillLine| {
        catalog
            .aisle(line.kind)
            .map_or(u32::MAX, |row| row.place.value)
    };
    let places: BTreeSet<u32> = lines.iter().map(place).collect();
    let of_place = |wanted: u32| {
        let mine = lines.iter().filter(|line| place(line) == wanted);
        let lines: Vec<BillLine> = mine.map(|line| (*line).clone()).collect();
        let aisle = lines.first().and_then(|line| catalog.aisle(line.kind));
        AisleLines {
            name: aisle.map_or("Elsewhere".to_owned(), |aisle| aisle.name.clone()),
            lines,
        }
    };
    places.into_iter().map(of_place).collect()
}

/// A die goes the way of its press, which tells why.
fn tool(line: &BillLine, catalog: &Catalog) -> ToolToGet {
    let row = catalog.lending(&line.part);
    let own = row.filter(|_| line.kind != PartKind::Die);
    ToolToGet {
        line: line.clone(),
        advice: row.map_or(Lending::Buy, |row| row.advice),
        reason: own.map(|row| row.reason.clone()),
    }
}

/// What steps ask for besides the tools of the catalog, each once: their aids, and tools whose size
/// only the vehicle tells.
fn at_hand(method: &Method, library: &StepLibrary) -> Vec<String> {
    let mut things: Vec<String> = Vec::new();
    for step in &method.steps {
        let kind = library.position(&step.kind);
        let kind = kind.and_then(|kind| library.steps.get(kind));
        let aids = kind.map_or(&[][..], |kind| &kind.aids);
        let of_any_size = |tool: &&String| ToolUse::WORDS.iter().any(|(word, _)| word == tool);
        let wanted = step.tools.iter().filter(of_any_size).chain(aids);
        for thing in wanted {
            if !things.contains(thing) {
                things.push(thing.clone());
            }
        }
    }
    things
}
