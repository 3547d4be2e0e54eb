//! References and contradictions in a shop file.

use std::collections::BTreeMap;

use super::ShopFile;
use crate::catalog::{Catalog, Part};
use crate::diagnostic::{Diagnostic, Problem, Span, Spanned, Subject};
use crate::quantity::Money;

/// Every mistake that only the catalog or the rest of the file shows.
pub fn check(shop: &ShopFile, catalog: &Catalog) -> Vec<Diagnostic> {
    let mut mistakes = Vec::new();
    let parts: Vec<&str> = catalog.parts().map(Part::id).collect();
    let stocked = shop.stock.iter().map(|stock| &stock.part);
    for part in stocked.chain(&shop.tools).chain(&shop.unavailable) {
        require(part, Subject::Part, &parts, &mut mistakes);
    }
    let lists = catalog.price_lists.iter();
    let suppliers: Vec<&str> = lists.map(|list| list.supplier.as_str()).collect();
    let mut seen: BTreeMap<&str, Span> = BTreeMap::new();
    for supplier in &shop.supplier {
        require(&supplier.name, Subject::Supplier, &suppliers, &mut mistakes);
        if let Some(first) = seen.insert(&supplier.name, supplier.name.span) {
            let problem = Problem::DuplicateName {
                subject: Subject::Supplier,
                name: supplier.name.value.clone(),
            };
            let mistake = Diagnostic::new(problem, supplier.name.span);
            mistakes.push(mistake.with_related(first, "first used here"));
        }
    }
    for stock in &shop.stock {
        if stock.pieces == 0 && stock.offcuts.is_empty() {
            let reason = format!("nothing of `{}` is on the shelf", *stock.part);
            let help = "give `pieces` or `offcuts`, or take the entry away";
            let problem = Problem::contradiction_with_help(reason, help);
            mistakes.push(Diagnostic::new(problem, stock.span));
        }
    }
    for exchange in &shop.exchange {
        if exchange.rate.value == Money::ZERO {
            let problem = Problem::contradiction("a rate of exchange cannot be nothing");
            mistakes.push(Diagnostic::new(problem, exchange.rate.span));
        }
    }
    mistakes
}

fn require(
    name: &Spanned<String>,
    subject: Subject,
    known: &[&str],
    mistakes: &mut Vec<Diagnostic>,
) {
    if !known.contains(&name.as_str()) {
        let problem = Problem::unknown_name(subject, name, known.iter().copied());
        mistakes.push(Diagnostic::new(problem, name.span));
    }
}
