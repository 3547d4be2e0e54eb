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

/// Shorts at the points of every positive lead, with the lead's metres.
pub fn faults(view: &PlanView) -> Rows {
    let figure = |value: Option<f64>, places: usize| {
        value.map_or_else(String::new, |value| format!("{value:.places$}"))
    };
    let mut rows = Vec::new();
    for lead in &view.faults.leads {
        for point in &lead.points {
            rows.push(vec![
                lead.lead.clone(),
                format!("{:.3}", lead.metres.all_m),
                format!("{:.3}", lead.metres.protected_m),
                format!("{:.3}", lead.metres.permitted_m),
                format!("{:.3}", lead.metres.bare_m),
                point.name.to_owned(),
                format!("{:.3}", point.at_m),
                format!("{:.0}", point.smallest_a),
                format!("{:.0}", point.largest_a),
                point.device_of.clone().unwrap_or_default(),
                figure(point.opens_within_s, 3),
                figure(point.lets_through_a2s, 0),
                format!("{:.0}", lead.stands_a2s),
            ]);
        }
    }
    Rows {
        headers: vec![
            "lead",
            "length_m",
            "protected_m",
            "permitted_m",
            "not_protected_m",
            "short_at",
            "at_m",
            "smallest_a",
            "largest_a",
            "device_of",
            "opens_within_s",
            "lets_through_a2s",
            "stands_a2s",
        ],
        rows,
    }
}

/// Every piece to cut, roll by roll.
pub fn cuts(view: &PlanView) -> Rows {
    let mut rows = Vec::new();
    for roll in &view.cuts {
        for piece in &roll.pieces {
            rows.push(vec![
                roll.number.to_string(),
                roll.part.clone(),
                roll.description.clone(),
                roll.colour.clone().unwrap_or_default(),
                roll.origin.clone(),
                format!("{:.3}", roll.length_m),
                piece.number.to_string(),
                piece.purpose.clone(),
                format!("{:.3}", piece.length_m),
                format!("{:.3}", piece.mark_m),
                piece.rescue.clone(),
                format!("{:.3}", roll.left_m),
            ]);
        }
    }
    Rows {
        headers: vec![
            "roll",
            "part",
            "description",
            "colour",
            "from",
            "roll_length_m",
            "piece",
            "purpose",
            "cut_length_m",
            "mark_at_m",
            "if_spoilt",
            "left_of_roll_m",
        ],
        rows,
    }
}
