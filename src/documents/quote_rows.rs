//! Rows of a quote for a spreadsheet.

use super::rows::Rows;
use super::view::{CostingView, CustomerView};
use crate::quantity::Money;

fn text<T: ToString>(value: Option<T>) -> String {
    value.map_or_else(String::new, |value| value.to_string())
}

/// The customer's lines, then the sums, option by option.
pub fn customer(view: &CustomerView) -> Rows {
    let mut rows = Vec::new();
    for (at, option) in view.options.iter().enumerate() {
        let mut row = |kind: &str, name: &str, hours: String, amount: String, tax: String| {
            let currency = option.currency.to_string();
            let cells = [
                option.name.as_str(),
                kind,
                name,
                &hours,
                &amount,
                &tax,
                &currency,
            ];
            rows.push(cells.map(str::to_owned).to_vec());
        };
        for (kind, lines) in [("work", &view.work), ("goods", &view.goods)] {
            for line in lines {
                if let Some(Some(cell)) = line.cells.get(at) {
                    row(
                        kind,
                        &line.name,
                        text(cell.hours),
                        cell.price.to_string(),
                        text(cell.tax),
                    );
                }
            }
        }
        let mut sum = |name: &str, amount: Option<Money>| {
            if let Some(amount) = amount {
                row(
                    "sum",
                    name,
                    String::new(),
                    amount.to_string(),
                    String::new(),
                );
            }
        };
        sum("before tax", Some(option.net));
        sum("tax", Some(option.tax));
        sum("total", Some(option.total));
        sum("rounding to coins", option.cash_rounding);
        sum("to be paid", Some(option.due));
        sum("deposit", option.deposit);
        sum("rest", Some(option.balance));
    }
    Rows {
        headers: vec![
            "option", "kind", "name", "hours", "amount", "tax", "currency",
        ],
        rows,
    }
}

/// The workshop's hours, parts and lines, then the sums, option by option.
pub fn costing(view: &CostingView) -> Rows {
    let mut rows = Vec::new();
    for option in &view.options {
        let currency = option.currency.to_string();
        let mut row = |cells: [String; 8]| {
            let mut row = vec![option.name.clone()];
            row.extend(cells);
            row.push(currency.clone());
            rows.push(row);
        };
        let none = String::new;
        for view in &option.labour {
            let work = &view.labour;
            let what = format!("{}, {}", work.stage, work.workplace);
            let rate = format!("{} at {}", work.rate, work.hour);
            row([
                "hours".to_owned(),
                what,
                work.hours.to_string(),
                rate,
                text(work.cost),
                none(),
                work.price.to_string(),
                text(view.margin),
            ]);
        }
        for view in &option.parts {
            let part = &view.part;
            row([
                "part".to_owned(),
                part.description.clone(),
                part.amount.clone(),
                part.origin.clone(),
                part.cost.to_string(),
                text(part.markup),
                part.price.to_string(),
                view.margin.to_string(),
            ]);
        }
        for line in &option.lines {
            row([
                "line".to_owned(),
                line.name.clone(),
                text(line.hours),
                none(),
                text(line.cost),
                none(),
                line.net.to_string(),
                text(line.margin),
            ]);
        }
        let costing = &option.costing;
        let sums = [
            ("rounding of tax", option.rounding),
            ("before tax", Some(option.sums.net)),
            ("tax", Some(option.sums.tax)),
            ("total", Some(option.sums.total)),
            ("to be paid", Some(option.sums.due)),
            ("cost of parts", Some(costing.parts)),
            ("cost of delivery", Some(costing.delivery)),
            ("cost of labour", costing.labour),
            ("left", Some(costing.left)),
        ];
        for (name, amount) in sums {
            if let Some(amount) = amount {
                row([
                    "sum".to_owned(),
                    name.to_owned(),
                    none(),
                    none(),
                    none(),
                    none(),
                    amount.to_string(),
                    none(),
                ]);
            }
        }
    }
    Rows {
        headers: vec![
            "option", "kind", "name", "amount", "from", "cost", "markup", "price", "margin",
            "currency",
        ],
        rows,
    }
}
