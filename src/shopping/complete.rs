//! Nothing is forgotten: what steps name is there, and what is there is named by a step.

use std::collections::BTreeSet;

use crate::catalog::{Basis, Catalog, Cited, PartKind};
use crate::check::{Check, CheckRule};
use crate::method::{Method, Step, StepLibrary};
use crate::purchase::{FromStock, Purchase};

/// One verdict on parts and one on tools, each in both directions.
pub(super) fn judge(
    purchase: &Purchase,
    method: &Method,
    at_hand: &[String],
    catalog: &Catalog,
    library: &StepLibrary,
) -> Vec<Check> {
    // Without steps nothing is done and nothing needs to be there.
    if method.steps.is_empty() {
        return Vec::new();
    }
    let lists = Lists::of(purchase, at_hand, catalog);
    let named_parts: BTreeSet<&str> = parts(method.steps.iter());
    let named_tools = method.steps.iter().flat_map(|step| &step.tools);
    let named_tools: BTreeSet<&str> = named_tools.map(String::as_str).collect();
    // The step that lays all parts out in the beginning uses none of them.
    let lays_out = |step: &&Step| {
        let kind = library.position(&step.kind);
        kind.and_then(|kind| library.steps.get(kind))
            .is_some_and(|kind| kind.rest)
    };
    let used_parts = parts(method.steps.iter().filter(|step| !lays_out(step)));
    let there: BTreeSet<&str> = lists.tools.union(&lists.at_hand).copied().collect();
    vec![
        all(
            "parts of the steps",
            "is named by a step, and neither bought nor on the shelf",
            &named_parts,
            &lists.parts,
        ),
        all(
            "parts on the list",
            "is bought or taken from the shelf, and no step uses it",
            &lists.parts,
            &used_parts,
        ),
        all(
            "tools of the steps",
            "is named by a step, and on no list",
            &named_tools,
            &there,
        ),
        all(
            "tools on the list",
            "is on the list, and no step uses it",
            &lists.tools,
            &named_tools,
        ),
    ]
}

/// What is there.
struct Lists<'a> {
    /// Ids of the parts.
    parts: BTreeSet<&'a str>,
    /// Descriptions of the tools.
    tools: BTreeSet<&'a str>,
    /// Other things to have at hand.
    at_hand: BTreeSet<&'a str>,
}

impl<'a> Lists<'a> {
    fn of(purchase: &'a Purchase, at_hand: &'a [String], catalog: &Catalog) -> Self {
        let is_tool = |item: &&FromStock| {
            let kind = catalog.part(&item.part).map(|part| part.kind());
            matches!(kind, Some(PartKind::Tool | PartKind::Die))
        };
        let shelf = || purchase.from_stock.iter();
        let (bought, to_get) = (&purchase.bill.lines, &purchase.tools.lines);
        let parts = bought.iter().map(|line| &line.part);
        let parts = parts.chain(shelf().filter(|item| !is_tool(item)).map(|item| &item.part));
        let tools = to_get.iter().map(|line| &line.description);
        let tools = tools.chain(shelf().filter(is_tool).map(|item| &item.description));
        let tools = tools.chain(&purchase.tools_owned);
        Self {
            parts: parts.map(String::as_str).collect(),
            tools: tools.map(String::as_str).collect(),
            at_hand: at_hand.iter().map(String::as_str).collect(),
        }
    }
}

fn parts<'a>(steps: impl Iterator<Item = &'a Step>) -> BTreeSet<&'a str> {
    steps
        .flat_map(|step| step.part_ids.iter().map(String::as_str))
        .collect()
}

/// Whether every one is among the others; which are not, in the note.
fn all(subject: &str, lack: &str, ones: &BTreeSet<&str>, others: &BTreeSet<&str>) -> Check {
    let missing: Vec<&str> = ones.difference(others).copied().collect();
    let source = Cited {
        value: (),
        citation: String::new(),
        basis: Basis::CommonPractice,
    };
    let check = Check::holds(CheckRule::Complete, subject, missing.is_empty(), &source);
    let who = match missing.is_empty() {
        true => "nothing".to_owned(),
        false => missing.join(", "),
    };
    check.with_note(format!("{who} {lack}"))
}
