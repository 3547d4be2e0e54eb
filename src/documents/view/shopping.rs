//! The shopping list as its reader takes it along.

use serde::Serialize;

use super::build::Context;
use crate::purchase::{BillLine, FromStock};
use crate::quantity::{Currency, Money};
use crate::shopping::{Order, Weight};

/// A shopping list.
#[derive(Debug, Clone, Serialize)]
pub struct ShoppingView {
    /// Currency of all amounts.
    pub currency: Currency,
    /// One order a supplier.
    pub orders: Vec<OrderView>,
    /// What all orders weigh.
    pub weight: WeightView,
    /// What the shelf gives.
    pub from_stock: Vec<FromStock>,
    /// Tools and dies to buy.
    pub tools_to_buy: Vec<ToolView>,
    /// Tools and dies to borrow or hire.
    pub tools_to_borrow: Vec<ToolView>,
    /// What all of these weigh.
    pub tools_weight: WeightView,
    /// Tools and dies owned.
    pub tools_owned: Vec<String>,
    /// Other things that steps ask for.
    pub at_hand: Vec<String>,
    /// Things that are easily forgotten.
    pub reminders: Vec<String>,
}

/// What one supplier is asked for.
#[derive(Debug, Clone, Serialize)]
pub struct OrderView {
    /// The supplier.
    pub supplier: String,
    /// The lines, aisle by aisle.
    pub aisles: Vec<AisleView>,
    /// Goods before tax.
    pub goods: Money,
    /// Delivery.
    pub delivery: Money,
    /// What it weighs.
    pub weight: WeightView,
}

/// The lines of one aisle.
#[derive(Debug, Clone, Serialize)]
pub struct AisleView {
    /// What stands over it.
    pub name: String,
    /// The lines.
    pub lines: Vec<BillLine>,
}

/// A weight.
#[derive(Debug, Clone, Serialize)]
pub struct WeightView {
    /// Kilograms of all whose mass is known.
    pub kg: f64,
    /// The same in the units of the job.
    pub shown: String,
    /// What the catalog gives no mass of.
    pub without: Vec<String>,
}

/// A tool that is not owned.
#[derive(Debug, Clone, Serialize)]
pub struct ToolView {
    /// Id of the tool.
    pub part: String,
    /// The tool.
    pub description: String,
    /// Who sells it.
    pub supplier: String,
    /// For how much.
    pub price: Money,
    /// Why it is bought or borrowed.
    pub reason: Option<String>,
}

/// The list of a plan.
pub fn view(context: Context<'_>) -> ShoppingView {
    let list = &context.plan.shopping;
    let tools = |wanted| {
        let tools = list.tools.iter().filter(move |tool| tool.advice == wanted);
        let views = tools.map(|tool| ToolView {
            part: tool.line.part.clone(),
            description: tool.line.description.clone(),
            supplier: tool.line.supplier.clone(),
            price: tool.line.line_total,
            reason: tool.reason.clone(),
        });
        views.collect()
    };
    ShoppingView {
        currency: list.currency,
        orders: list
            .orders
            .iter()
            .map(|order| self::order(context, order))
            .collect(),
        weight: weight(context, &list.weight),
        from_stock: list.from_stock.clone(),
        tools_to_buy: tools(crate::catalog::Lending::Buy),
        tools_to_borrow: tools(crate::catalog::Lending::Borrow),
        tools_weight: weight(context, &list.tools_weight),
        tools_owned: list.tools_owned.clone(),
        at_hand: list.at_hand.clone(),
        reminders: list.reminders.clone(),
    }
}

fn order(context: Context<'_>, order: &Order) -> OrderView {
    let aisles = order.aisles.iter().map(|aisle| AisleView {
        name: aisle.name.clone(),
        lines: aisle.lines.clone(),
    });
    OrderView {
        supplier: order.supplier.clone(),
        aisles: aisles.collect(),
        goods: order.goods,
        delivery: order.delivery,
        weight: weight(context, &order.weight),
    }
}

fn weight(context: Context<'_>, weight: &Weight) -> WeightView {
    let kg = (weight.known.kg() * 1e3).round() / 1e3;
    WeightView {
        kg,
        shown: context.job.units.mass(weight.known),
        without: weight.unknown.clone(),
    }
}
