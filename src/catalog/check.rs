//! Rows that clash, references that lead nowhere, and tables whose rows do not match.

use std::collections::BTreeMap;

use super::{AmpacityTable, Catalog, ChemistryRow, Curve, Part};
use crate::diagnostic::{Diagnostic, Problem, Span, Spanned, Subject, nearest};

/// What is given twice in one layer.
pub fn layer(rows: &Catalog) -> Vec<Diagnostic> {
    let mut mistakes = Vec::new();
    let parts = rows.parts().map(|part| (part.id(), part.span()));
    once(Subject::Part, parts, &mut mistakes);
    let curves = rows.curves.iter();
    let curves = curves.map(|row| (row.name.as_str(), row.name.span));
    once(Subject::Curve, curves, &mut mistakes);
    let lists = rows.price_lists.iter();
    let suppliers = lists.map(|row| (row.supplier.as_str(), row.supplier.span));
    once(Subject::Supplier, suppliers, &mut mistakes);
    let groups = rows.price_groups.iter().map(|row| ((), &row.place));
    mistakes.extend(same_place(groups));
    let texts = rows.quote_texts.iter();
    mistakes.extend(same_place(texts.map(|row| (row.purpose, &row.place))));
    mistakes.extend(same_place(rows.aisles.iter().map(|row| ((), &row.place))));
    mistakes.extend(same_place(
        rows.reminders.iter().map(|row| ((), &row.place)),
    ));
    mistakes
}

/// Rows of one list that claim the same place in it.
fn same_place<'a, K: Ord>(rows: impl Iterator<Item = (K, &'a Spanned<u32>)>) -> Vec<Diagnostic> {
    let mut first: BTreeMap<(K, u32), Span> = BTreeMap::new();
    let mut mistakes = Vec::new();
    for (list, place) in rows {
        if let Some(earlier) = first.insert((list, place.value), place.span) {
            let reason = format!("place {} is taken", place.value);
            let help = "give each row of the list a place of its own";
            let problem = Problem::contradiction_with_help(reason, help);
            let mistake = Diagnostic::new(problem, place.span);
            mistakes.push(mistake.with_related(earlier, "it is taken here"));
        }
    }
    mistakes
}

fn once<'a>(
    subject: Subject,
    names: impl Iterator<Item = (&'a str, Span)>,
    mistakes: &mut Vec<Diagnostic>,
) {
    let mut first: BTreeMap<&str, Span> = BTreeMap::new();
    // A blank name takes the place of one that was reported already.
    for (name, span) in names.filter(|(name, _)| !name.is_empty()) {
        let Some(earlier) = first.get(name) else {
            first.insert(name, span);
            continue;
        };
        let name = name.to_owned();
        let mistake = Diagnostic::new(Problem::DuplicateName { subject, name }, span);
        mistakes.push(mistake.with_related(*earlier, "first used here"));
    }
}

/// What does not hold together once all layers are laid over each other.
pub fn whole(catalog: &Catalog) -> Vec<Diagnostic> {
    let mut mistakes = dangling(catalog);
    mistakes.extend(catalog.ampacity_tables.iter().filter_map(uneven));
    mistakes.extend(catalog.curves.iter().filter_map(falling));
    mistakes.extend(catalog.curves.iter().filter_map(cooling));
    mistakes.extend(catalog.chemistries.iter().filter_map(sagging));
    mistakes
}

/// References that lead nowhere.
fn dangling(catalog: &Catalog) -> Vec<Diagnostic> {
    let mut mistakes = Vec::new();
    let mut require = |owner: &str, subject: Subject, name: &str, known: &[&str], span| {
        // A blank name takes the place of one that was reported already.
        if name.is_empty() || known.contains(&name) {
            return;
        }
        let reason = format!("{owner} names the {subject} `{name}`, which is not in the catalog");
        let problem = match nearest(name, known.iter().copied()) {
            Some(near) => {
                Problem::contradiction_with_help(reason, format!("did you mean `{near}`?"))
            }
            None => Problem::contradiction(reason),
        };
        mistakes.push(Diagnostic::new(problem, span));
    };
    let curves: Vec<&str> = catalog.curves.iter().map(|c| c.name.as_str()).collect();
    for row in &catalog.breakers {
        require(
            "this breaker",
            Subject::Curve,
            &row.curve,
            &curves,
            row.id.span,
        );
    }
    for row in &catalog.fuses {
        require(
            "this fuse",
            Subject::Curve,
            &row.curve,
            &curves,
            row.id.span,
        );
    }
    let dies: Vec<&str> = catalog.dies.iter().map(Part::id).collect();
    for lug in &catalog.lugs {
        require("this lug", Subject::Die, &lug.die, &dies, lug.id.span);
    }
    let tools: Vec<&str> = catalog.tools.iter().map(Part::id).collect();
    for die in &catalog.dies {
        require("this die", Subject::Tool, &die.press, &tools, die.id.span);
    }
    let ids: Vec<&str> = catalog.parts().map(Part::id).collect();
    for offer in catalog.price_lists.iter().flat_map(|list| &list.offer) {
        require(
            "this offer",
            Subject::Part,
            &offer.part,
            &ids,
            offer.part.span,
        );
    }
    let tables: Vec<&str> = catalog
        .ampacity_tables
        .iter()
        .map(|t| t.name.as_str())
        .collect();
    let families = catalog.cable_families();
    for rules in &catalog.settings {
        let table = &rules.ampacity_table;
        require(
            "this setting",
            Subject::AmpacityTable,
            table,
            &tables,
            rules.span,
        );
        for family in &rules.auto_families {
            require(
                "this setting",
                Subject::CableFamily,
                family,
                &families,
                rules.span,
            );
        }
    }
    mistakes
}

/// Every row of an ampacity table holds one current for each rating.
fn uneven(table: &AmpacityTable) -> Option<Diagnostic> {
    let ratings = table.ratings.len();
    if let Some(row) = table.row.iter().find(|row| row.currents.len() != ratings) {
        let found = row.currents.len();
        let reason =
            format!("the table has {ratings} ratings, but the currents in this row are {found}");
        return Some(Diagnostic::new(Problem::contradiction(reason), row.span));
    }
    let found = table.engine_factors.len();
    (found != ratings).then(|| {
        let reason = format!("the table has {ratings} ratings, but {found} engine factors");
        Diagnostic::new(Problem::contradiction(reason), table.span)
    })
}

/// The points of a curve stand in the order of rising current.
fn falling(curve: &Curve) -> Option<Diagnostic> {
    let steps = curve.point.windows(2);
    let wrong = steps.filter_map(|step| match step {
        [before, after] if after.percent <= before.percent => Some(after.span),
        _ => None,
    });
    let reason = "this point does not lie at a larger current than the one before";
    wrong
        .map(|span| Diagnostic::new(Problem::contradiction(reason), span))
        .next()
}

/// The points of a rerating stand in the order of rising temperature, and each leaves something.
fn cooling(curve: &Curve) -> Option<Diagnostic> {
    let points = curve.rerating.as_ref().map(|rerating| &rerating.point)?;
    let steps = points.windows(2);
    let wrong = steps.filter_map(|step| match step {
        [before, after] if after.temperature <= before.temperature => Some(after.span),
        _ => None,
    });
    let nothing = points
        .iter()
        .filter(|point| point.carries.fraction() <= 0.0);
    let reason = "this point does not lie at a higher temperature than the one before";
    let unordered = wrong.map(|span| Diagnostic::new(Problem::contradiction(reason), span));
    let reason = "a device that carries nothing guards nothing";
    let empty = nothing.map(|point| Diagnostic::new(Problem::contradiction(reason), point.span));
    unordered.chain(empty).next()
}

/// The rest points of a chemistry stand in the order of rising charge, and there is at least one.
fn sagging(row: &ChemistryRow) -> Option<Diagnostic> {
    if row.rest.is_empty() {
        let reason = "this chemistry has no `rest` points, so its voltage is not known";
        return Some(Diagnostic::new(Problem::contradiction(reason), row.span));
    }
    let steps = row.rest.windows(2);
    let wrong = steps.filter_map(|step| match step {
        [before, after] if after.charge <= before.charge => Some(after.span),
        _ => None,
    });
    let reason = "this point does not lie at a larger charge than the one before";
    wrong
        .map(|span| Diagnostic::new(Problem::contradiction(reason), span))
        .next()
}
