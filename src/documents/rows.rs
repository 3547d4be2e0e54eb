//! Rows for a spreadsheet.

use super::view::PlanView;

/// A head and its rows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rows {
    /// Names of the columns, with units.
    pub headers: Vec<&'static str>,
    /// The cells.
    pub rows: Vec<Vec<String>>,
}

/// The lines of the bill, then its totals.
pub fn bill(view: &PlanView) -> Rows {
    let bill = &view.bill;
    let mut rows: Vec<Vec<String>> = bill
        .lines
        .iter()
        .map(|line| {
            vec![
                line.part.clone(),
                line.description.clone(),
                line.quantity.clone(),
                line.unit.to_owned(),
                line.supplier.clone(),
                line.pack.clone(),
                line.packs.to_string(),
                line.unit_price.to_string(),
                line.line_total.to_string(),
                bill.currency.to_string(),
            ]
        })
        .collect();
    let totals = [
        ("goods", &bill.goods_total),
        ("delivery", &bill.delivery),
        ("tax", &bill.tax),
        ("total", &bill.total),
    ];
    for (name, amount) in totals {
        let mut row = vec![String::new(); 10];
        row[1] = name.to_owned();
        row[8] = amount.to_string();
        row[9] = bill.currency.to_string();
        rows.push(row);
    }
    Rows {
        headers: vec![
            "part",
            "description",
            "quantity",
            "unit",
            "supplier",
            "pack",
            "packs",
            "unit_price",
            "line_total",
            "currency",
        ],
        rows,
    }
}

/// Every cable to cut.
pub fn cuts(view: &PlanView) -> Rows {
    let mut rows = Vec::new();
    for lead in &view.leads {
        for section in &lead.sections {
            rows.push(vec![
                lead.name.clone(),
                section.number.to_string(),
                lead.cable.clone(),
                lead.size.clone(),
                lead.colour.clone(),
                section.from.clone(),
                section.to.clone(),
                format!("{:.3}", section.routed_length_m),
                format!("{:.3}", section.cut_length_m),
            ]);
        }
    }
    Rows {
        headers: vec![
            "lead",
            "section",
            "cable",
            "size",
            "colour",
            "from",
            "to",
            "routed_length_m",
            "cut_length_m",
        ],
        rows,
    }
}
