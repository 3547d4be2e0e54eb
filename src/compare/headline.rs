//! The first line of a comparison: which plan is the cheapest, and what the others buy.

use super::column::Column;
use super::{Figure, Mark, against};
use crate::check::Verdict;

/// The cheapest plan that may be built; of equals the first. Prices in another currency than the
/// first plan's cannot be compared.
fn cheapest(columns: &[Column]) -> Option<&Column> {
    let currency = columns.first()?.currency;
    let ready = columns
        .iter()
        .filter(|column| column.ready && column.currency == currency);
    ready.min_by_key(|column| column.price)
}

/// Which plan is the cheapest that may be built.
pub fn first(columns: &[Column]) -> String {
    match cheapest(columns) {
        Some(column) => format!(
            "Cheapest that is READY TO BUILD: {}, {} {}.",
            named(column),
            column.price,
            column.currency
        ),
        None => "None of these is READY TO BUILD.".to_owned(),
    }
}

/// What each other plan buys and costs, held against the cheapest that may be built.
pub fn others(columns: &[Column]) -> Vec<String> {
    let Some(cheapest) = cheapest(columns) else {
        return columns.iter().map(not_ready).collect();
    };
    let others = columns
        .iter()
        .filter(|column| !std::ptr::eq(*column, cheapest));
    others
        .map(|column| match column.ready {
            true => bought(column, cheapest),
            false => not_ready(column),
        })
        .collect()
}

fn named(column: &Column) -> String {
    format!("“{}”", column.name)
}

fn not_ready(column: &Column) -> String {
    let (fail, open) = (column.count(Verdict::Fail), column.count(Verdict::Open));
    let first = column.broken.first();
    let first = first.map_or(String::new(), |check| {
        format!("; the first is {} of {}", check.rule, check.subject)
    });
    let fail = if fail == 1 {
        "1 check fails".to_owned()
    } else {
        format!("{fail} checks fail")
    };
    let open = if open == 1 {
        "1 is open".to_owned()
    } else {
        format!("{open} are open")
    };
    format!(
        "{} is NOT READY TO BUILD: {fail}, {open}{first}.",
        named(column)
    )
}

/// What a plan has that the cheapest lacks, and what it takes for that.
fn bought(column: &Column, cheapest: &Column) -> String {
    let mut better = Vec::new();
    let mut worse = Vec::new();
    for figure in Figure::ALL
        .into_iter()
        .filter(|figure| *figure != Figure::Price)
    {
        let (mark, by) = against(figure, column, cheapest);
        match mark {
            Mark::Better => better.push(difference(figure, column, by)),
            Mark::Worse => worse.push(difference(figure, column, by)),
            Mark::First | Mark::Same | Mark::Unlike => {}
        }
    }
    let price = match against(Figure::Price, column, cheapest) {
        (Mark::Same, _) => "costs the same".to_owned(),
        (Mark::Unlike, _) => format!("costs {} {}", column.price, column.currency),
        (_, by) => format!(
            "costs {} {} more",
            amount(Figure::Price, column, by),
            column.currency
        ),
    };
    let buys = match better.is_empty() {
        true => "buys nothing that these figures show".to_owned(),
        false => format!("buys {}", better.join(", ")),
    };
    let takes = match worse.is_empty() {
        true => String::new(),
        false => format!("; against it: {}", worse.join(", ")),
    };
    format!("{} {price} and {buys}{takes}.", named(column))
}

fn amount(figure: Figure, column: &Column, by: f64) -> String {
    let places = figure.places(column);
    format!("{:.places$}", by.abs())
}

/// A difference in words.
fn difference(figure: Figure, column: &Column, by: f64) -> String {
    let amount = amount(figure, column, by);
    let more = if by > 0.0 { "more" } else { "less" };
    match figure {
        Figure::Price => format!("{amount} {} {more}", column.currency),
        Figure::Tools => format!("tools for {amount} {} {more}", column.currency),
        Figure::Labour => format!("{amount} h {more} work"),
        Figure::CableMass => format!("{amount} kg {more} cable"),
        Figure::PartsMass => format!("{amount} kg {more} in all"),
        Figure::Cranking => format!("{amount} V {more} at the starter"),
        Figure::Sensitive => format!("{amount} V {more} at the sensitive load that gets least"),
        Figure::Hottest => match by > 0.0 {
            true => format!("a hottest cable {amount} °C hotter"),
            false => format!("a hottest cable {amount} °C cooler"),
        },
        Figure::Clearing => match by > 0.0 {
            true => format!("a slowest device {amount} s slower"),
            false => format!("a slowest device {amount} s faster"),
        },
        Figure::Bare => format!("{amount} m {more} without protection"),
        Figure::Failing => format!("{amount} {more} failing checks"),
        Figure::Open => format!("{amount} {more} open checks"),
    }
}
