//! The way of a load's current in few rows: the joints of a lead taken together.

use serde::Serialize;

use super::build::Context;
use crate::circuit::{LedgerLine, LoadLedger, PartKind};

/// A row of a ledger.
#[derive(Debug, Clone, Serialize)]
pub struct RowView {
    /// The lead, device or stretch of body; none where it is that of the row before.
    pub of: String,
    /// The part.
    pub part: String,
    /// Whether it is a sum.
    pub sum: bool,
    /// Its resistance.
    pub milliohm: Option<f64>,
    /// Amperes in the direction of the way.
    pub amps: Option<f64>,
    /// What it takes.
    pub millivolt: f64,
    /// What it turns to heat.
    pub watts: f64,
}

/// A part of the way.
#[derive(Debug, Clone)]
pub struct Part {
    /// The lead, device or stretch of body.
    pub of: String,
    /// Position of that lead.
    pub lead: Option<usize>,
    /// What it is, in words.
    pub part: String,
    /// What kind of part.
    pub kind: PartKind,
    /// What it takes.
    pub millivolt: f64,
    milliohm: f64,
    amps: f64,
    watts: f64,
}

/// The parts of the way out and back.
pub fn parts(context: Context<'_>, load: &LoadLedger) -> Vec<Part> {
    let mut all = side(context, &load.out);
    all.extend(side(context, &load.back));
    all
}

/// The way out and back with a sum for each, and one for both.
pub fn rows(context: Context<'_>, load: &LoadLedger) -> Vec<RowView> {
    let mut rows = Vec::new();
    for (lines, name) in [(&load.out, "Out"), (&load.back, "Back")] {
        let mut before = None;
        for part in side(context, lines) {
            let same = before.as_ref() == Some(&part.of);
            before = Some(part.of.clone());
            rows.push(RowView {
                of: if same { String::new() } else { part.of },
                part: part.part,
                sum: false,
                milliohm: Some(part.milliohm),
                amps: Some(part.amps),
                millivolt: part.millivolt,
                watts: part.watts,
            });
        }
        rows.push(sum(name, lines.iter()));
    }
    rows.push(sum("Out and back", load.out.iter().chain(&load.back)));
    rows
}

fn sum<'a>(name: &str, lines: impl Iterator<Item = &'a LedgerLine> + Clone) -> RowView {
    RowView {
        of: name.to_owned(),
        part: String::new(),
        sum: true,
        milliohm: None,
        amps: None,
        millivolt: lines.clone().map(|line| line.millivolt).sum(),
        watts: lines.map(|line| line.watts).sum(),
    }
}

/// One side of the way: of each branch its cables, its protection and its joints together.
fn side(context: Context<'_>, lines: &[LedgerLine]) -> Vec<Part> {
    let mut parts = Vec::new();
    for branch in lines.chunk_by(|a, b| a.branch == b.branch) {
        let kinds = [
            PartKind::Cable,
            PartKind::Protection,
            PartKind::Device,
            PartKind::Body,
            PartKind::Joint,
        ];
        for kind in kinds {
            let of_kind: Vec<&LedgerLine> =
                branch.iter().filter(|line| line.kind == kind).collect();
            parts.extend(together(context, kind, &of_kind));
        }
    }
    parts
}

fn together(context: Context<'_>, kind: PartKind, lines: &[&LedgerLine]) -> Option<Part> {
    let first = lines.first()?;
    let sum = |figure: fn(&LedgerLine) -> f64| lines.iter().map(|line| figure(line)).sum();
    Some(Part {
        of: first.of.clone(),
        lead: first.lead,
        part: in_words(context, kind, lines),
        kind,
        millivolt: sum(|line| line.millivolt),
        milliohm: sum(|line| line.milliohm),
        amps: first.amps,
        watts: sum(|line| line.watts),
    })
}

fn in_words(context: Context<'_>, kind: PartKind, lines: &[&LedgerLine]) -> String {
    let plan = context.plan;
    let lead = lines.first().and_then(|line| line.lead);
    match (kind, lead) {
        (PartKind::Joint, _) => format!("{} crimps and studs", lines.len()),
        (PartKind::Cable, Some(lead)) => {
            let size = plan.sizing.leads.get(lead);
            let size = size.map_or(String::new(), |lead| lead.size.to_string());
            let way = plan.route.leads.get(lead);
            let cut = way.map_or(String::new(), |way| context.shown(way.cut()));
            format!("{cut} of {size}")
        }
        (PartKind::Protection, Some(lead)) => {
            let guards = &plan.protection;
            let guard = guards.guard(crate::job::LeadId(lead));
            guard.map_or("protection".to_owned(), |guard| {
                format!("{:.0} A {}", guard.rating.a(), guard.kind)
            })
        }
        (PartKind::Device, _) => "closed contacts".to_owned(),
        (PartKind::Body, _) => "metal of the body".to_owned(),
        (PartKind::Cable | PartKind::Protection, None) => kind.to_string(),
    }
}
