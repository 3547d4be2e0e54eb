//! Plans side by side: what each costs and what it buys.

mod changes;
mod column;
mod figure;
mod headline;
mod parts;
mod space;

pub use changes::{Changes, CheckChange, Difference, Planned};
pub use column::{Column, Finding};
pub use figure::Figure;
pub use parts::{PartChange, Side};

use serde::Serialize;

use crate::file::words;

/// Plans side by side, each held against the first.
#[derive(Debug, Clone, Serialize)]
pub struct Comparison {
    /// What the first job is.
    pub title: String,
    /// Which is the cheapest that may be built.
    pub first: String,
    /// What each of the others buys, and what it costs.
    pub others: Vec<String>,
    /// Most parts of a plan whose mass is not known.
    pub unweighed: usize,
    /// The plans.
    pub columns: Vec<Column>,
    /// Figure by figure.
    pub rows: Vec<Row>,
}

/// One figure of all plans.
#[derive(Debug, Clone, Serialize)]
pub struct Row {
    /// Which.
    pub figure: Figure,
    /// Its unit.
    pub unit: String,
    /// One cell a plan.
    pub cells: Vec<Cell>,
}

/// One figure of one plan.
#[derive(Debug, Clone, Serialize)]
pub struct Cell {
    /// The figure; none where the job has nothing of the kind.
    pub value: Option<f64>,
    /// The same, rounded as it is compared.
    pub shown: String,
    /// What it was found at.
    pub at: Option<String>,
    /// How it stands to the first plan.
    pub mark: Mark,
    /// How much more or less than in the first plan, with its sign; empty where it is the same.
    pub differs: String,
}

words! {
    /// How a figure stands to that of the first plan.
    pub enum Mark as "how a figure stands to another" {
        /// It is the first plan.
        First = "first",
        /// No different, as rounded.
        Same = "same",
        /// Better.
        Better = "better",
        /// Worse.
        Worse = "worse",
        /// They cannot be compared: another currency or system voltage, or one of them lacks the figure.
        Unlike = "not comparable",
    }
}

impl Comparison {
    /// Sets plans side by side.
    pub fn of(title: &str, columns: Vec<Column>) -> Self {
        let rows = Figure::ALL.iter().map(|figure| row(*figure, &columns));
        Self {
            title: title.to_owned(),
            first: headline::first(&columns),
            others: headline::others(&columns),
            unweighed: columns
                .iter()
                .map(|column| column.unweighed)
                .max()
                .unwrap_or_default(),
            rows: rows.collect(),
            columns,
        }
    }

    /// Whether any of the plans may be built.
    pub fn any_ready(&self) -> bool {
        self.columns.iter().any(|column| column.ready)
    }
}

fn row(figure: Figure, columns: &[Column]) -> Row {
    let money = matches!(figure, Figure::Price | Figure::Tools);
    let unit = match columns.first() {
        Some(first) if money => first.currency.to_string(),
        _ => figure.unit().to_owned(),
    };
    let cells = columns.iter().enumerate().map(|(index, column)| {
        let first = columns.first().filter(|_| index > 0);
        cell(figure, column, first)
    });
    Row {
        figure,
        unit,
        cells: cells.collect(),
    }
}

fn cell(figure: Figure, column: &Column, first: Option<&Column>) -> Cell {
    let value = figure.value(column);
    let places = figure.places(column);
    let shown = value.map_or_else(|| "-".to_owned(), |value| format!("{value:.places$}"));
    let (mark, by) = first.map_or((Mark::First, 0.0), |first| against(figure, column, first));
    Cell {
        value,
        shown: match mark {
            Mark::Unlike if value.is_some() && figure.unit().is_empty() => {
                format!("{shown} {}", column.currency)
            }
            _ => shown,
        },
        at: figure.at(column).map(str::to_owned),
        mark,
        differs: match mark {
            Mark::Better | Mark::Worse => format!("{by:+.places$}"),
            _ => String::new(),
        },
    }
}

/// How a figure stands to that of another plan, and how much more it is.
fn against(figure: Figure, column: &Column, other: &Column) -> (Mark, f64) {
    let alike = figure.is_comparable(column, other);
    let (Some(own), Some(theirs), true) = (figure.value(column), figure.value(other), alike) else {
        let both_lack = figure.value(column).is_none() && figure.value(other).is_none();
        let mark = if both_lack { Mark::Same } else { Mark::Unlike };
        return (mark, 0.0);
    };
    // What reads the same is the same.
    let scale = 10f64.powi(figure.places(column) as i32);
    let by = ((own * scale).round() - (theirs * scale).round()) / scale;
    let mark = match () {
        () if by == 0.0 => Mark::Same,
        () if (by > 0.0) == figure.more_is_better() => Mark::Better,
        () => Mark::Worse,
    };
    (mark, by)
}
