//! Rows for a spreadsheet.

use super::view::PlanView;
use crate::compare::Comparison;

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

/// What to fetch, supplier by supplier and aisle by aisle; then the shelf, tools and the rest.
pub fn shopping(view: &PlanView) -> Rows {
    let list = &view.shopping;
    let mut rows = Vec::new();
    let mut row = |from: &str, aisle: &str, amount: &str, what: &str, part: &str, price: String| {
        let currency = match price.is_empty() {
            true => String::new(),
            false => list.currency.to_string(),
        };
        let cells = [from, aisle, amount, what, part, &price, &currency];
        rows.push(cells.map(str::to_owned).to_vec());
    };
    for order in &list.orders {
        for aisle in &order.aisles {
            for line in &aisle.lines {
                let amount = format!("{} × {}", line.packs, line.pack);
                let price = line.line_total.to_string();
                row(
                    &order.supplier,
                    &aisle.name,
                    &amount,
                    &line.description,
                    &line.part,
                    price,
                );
            }
        }
        row(
            &order.supplier,
            "",
            "",
            "delivery",
            "",
            order.delivery.to_string(),
        );
    }
    for item in &list.from_stock {
        row(
            "shelf",
            "",
            &item.amount,
            &item.description,
            &item.part,
            String::new(),
        );
    }
    for (tools, how) in [
        (&list.tools_to_buy, "buy"),
        (&list.tools_to_borrow, "borrow or hire"),
    ] {
        for tool in tools {
            let price = tool.price.to_string();
            row(
                &tool.supplier,
                how,
                "1",
                &tool.description,
                &tool.part,
                price,
            );
        }
    }
    for (from, things) in [
        ("own tools", &list.tools_owned),
        ("at hand", &list.at_hand),
        ("easily forgotten", &list.reminders),
    ] {
        for thing in things {
            row(from, "", "", thing, "", String::new());
        }
    }
    Rows {
        headers: vec![
            "from", "aisle", "amount", "what", "part", "price", "currency",
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

/// Labels, one a row, for a label printer.
pub fn labels(view: &PlanView) -> Rows {
    let rows = view.labels.iter().map(|label| {
        vec![
            label.lead.clone(),
            label.cable.clone().unwrap_or_default(),
            label.here.clone(),
            label.there.clone(),
            label.size.clone(),
            label.protection.clone().unwrap_or_default(),
            label.text.clone(),
        ]
    });
    Rows {
        headers: vec![
            "lead",
            "cable",
            "here",
            "there",
            "size",
            "protection",
            "text",
        ],
        rows: rows.collect(),
    }
}

/// Every figure of every plan of a comparison.
pub fn comparison(comparison: &Comparison) -> Rows {
    let mut rows = Vec::new();
    for row in &comparison.rows {
        for (column, cell) in comparison.columns.iter().zip(&row.cells) {
            rows.push(vec![
                row.figure.to_string(),
                row.unit.clone(),
                column.name.clone(),
                if column.ready { "yes" } else { "no" }.to_owned(),
                cell.shown.clone(),
                cell.differs.clone(),
                cell.mark.to_string(),
                cell.at.clone().unwrap_or_default(),
            ]);
        }
    }
    Rows {
        headers: vec![
            "figure",
            "unit",
            "plan",
            "ready",
            "value",
            "difference",
            "mark",
            "at",
        ],
        rows,
    }
}

/// Everything in the spares kit.
pub fn spares(view: &PlanView) -> Rows {
    let items = view.spares.iter().flat_map(|spares| {
        let currency = spares.currency;
        spares.items.iter().map(move |item| {
            vec![
                item.part.clone().unwrap_or_default(),
                item.kind.clone(),
                item.description.clone(),
                item.pieces.to_string(),
                format!("{:.0}", item.mass_g),
                item.mass_source.clone(),
                format!("{:.0}", item.volume_ml),
                item.volume_source.clone(),
                item.price.to_string(),
                currency.to_string(),
                if item.owned { "yes" } else { "no" }.to_owned(),
                if item.must { "yes" } else { "no" }.to_owned(),
            ]
        })
    });
    Rows {
        headers: vec![
            "part",
            "kind",
            "description",
            "pieces",
            "mass_g",
            "mass_source",
            "volume_ml",
            "volume_source",
            "price",
            "currency",
            "owned",
            "must",
        ],
        rows: items.collect(),
    }
}

/// What a meter should show, in volts; the last column is for what it shows.
pub fn readings(view: &PlanView) -> Rows {
    let states = view.readings.iter().flat_map(|sheet| &sheet.states);
    let rows = states.flat_map(|state| {
        let rows = state.rows.iter().chain(&state.crimps);
        rows.map(|view| {
            let row = &view.row;
            vec![
                state.name.clone(),
                row.place.clone(),
                row.point.clone(),
                row.kind.to_string(),
                row.red.clone(),
                row.black.clone(),
                format!("{:.5}", row.volts),
                format!("{:.5}", row.least_v),
                format!("{:.5}", row.most_v),
                String::new(),
            ]
        })
    });
    Rows {
        headers: vec![
            "state", "place", "point", "kind", "red_on", "black_on", "shows_v", "least_v",
            "most_v", "read_v",
        ],
        rows: rows.collect(),
    }
}
