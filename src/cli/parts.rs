//! `parts`: searches, explains and proves the catalog.

use super::arguments::{PartsAction, PartsOptions};
use super::error::CommandError;
use super::{Outcome, input, output};
use crate::catalog::{Catalog, Pack, Part, PartKind, lint};
use crate::diagnostic::nearest;
use crate::documents::block::{Align, Block, Column, Document, Span, Style, Table, Text};
use crate::documents::terminal;

/// Runs the command.
pub fn run(options: &PartsOptions) -> Result<Outcome, CommandError> {
    let catalog = input::load_catalog(&options.catalog)?;
    match &options.action {
        PartsAction::Search { words } => search(&catalog, words),
        PartsAction::Explain { part } => explain(&catalog, part),
        PartsAction::Count => count(&catalog),
        PartsAction::Lint => prove(&catalog),
    }
}

fn print(document: &Document) -> Result<Outcome, CommandError> {
    let text = terminal::write(document, output::width(None), output::colour());
    output::print(text.as_bytes())?;
    Ok(Outcome::Done)
}

fn words(text: &str) -> Text {
    vec![Span::new(text, Style::Plain)]
}

fn table(columns: &[(&str, Align)], rows: Vec<Vec<String>>) -> Block {
    let cell = |text: &String| words(text);
    Block::Table(Table {
        columns: columns
            .iter()
            .map(|(head, align)| Column {
                head: words(head),
                align: *align,
            })
            .collect(),
        rows: rows
            .iter()
            .map(|row| row.iter().map(cell).collect())
            .collect(),
    })
}

fn search(catalog: &Catalog, words: &[String]) -> Result<Outcome, CommandError> {
    let words: Vec<String> = words.iter().map(|word| word.to_lowercase()).collect();
    let found: Vec<Vec<String>> = catalog
        .parts()
        .filter(|part| {
            let text = format!("{} {} {}", part.id(), part.kind(), part.description());
            let text = text.to_lowercase();
            words.iter().all(|word| text.contains(word))
        })
        .map(|part| vec![part.id().to_owned(), part.description().to_owned()])
        .collect();
    if found.is_empty() {
        let text = format!("error: no part holds all of: {}", words.join(" "));
        return Err(CommandError::Usage(text));
    }
    let columns = [("Part", Align::Left), ("Description", Align::Left)];
    print(&Document {
        title: "Parts".to_owned(),
        blocks: vec![table(&columns, found)],
    })
}

fn explain(catalog: &Catalog, id: &str) -> Result<Outcome, CommandError> {
    let Some(part) = catalog.part(id) else {
        let near = nearest(id, catalog.parts().map(Part::id));
        let help = near.map_or(String::new(), |near| {
            format!("\nhelp: did you mean `{near}`?")
        });
        return Err(CommandError::Usage(format!(
            "error: there is no part `{id}`{help}"
        )));
    };
    let mut facts = vec![
        vec!["kind".to_owned(), part.kind().to_string()],
        vec!["description".to_owned(), part.description().to_owned()],
        vec!["figures from".to_owned(), part.source().to_owned()],
    ];
    if let Some(mass) = part.mass() {
        facts.push(vec!["mass".to_owned(), format!("{:.3} kg", mass.kg())]);
    }
    let columns = [("Fact", Align::Left), ("Value", Align::Left)];
    let mut blocks = vec![
        Block::Heading {
            level: 1,
            text: words(id),
        },
        table(&columns, facts),
    ];
    let offers = offers(catalog, id);
    if !offers.is_empty() {
        let columns = [
            ("Supplier", Align::Left),
            ("Pack", Align::Right),
            ("Price", Align::Right),
            ("Prices from", Align::Left),
        ];
        blocks.push(table(&columns, offers));
    }
    print(&Document {
        title: id.to_owned(),
        blocks,
    })
}

fn offers(catalog: &Catalog, id: &str) -> Vec<Vec<String>> {
    let mut rows = Vec::new();
    for list in &catalog.price_lists {
        for offer in list.offer.iter().filter(|offer| *offer.part == id) {
            let pack = match offer.pack {
                Pack::Pieces(1) => "1 piece".to_owned(),
                Pack::Pieces(count) => format!("{count} pieces"),
                Pack::Length(length) => length.metric(),
            };
            rows.push(vec![
                list.supplier.value.clone(),
                pack,
                format!("{} {}", offer.price.value, list.currency),
                list.source.clone(),
            ]);
        }
    }
    rows
}

fn count(catalog: &Catalog) -> Result<Outcome, CommandError> {
    let mut rows: Vec<Vec<String>> = Vec::new();
    for (word, _) in PartKind::WORDS {
        let of_kind = catalog.parts().filter(|part| part.kind().as_str() == *word);
        rows.push(vec![(*word).to_owned(), of_kind.count().to_string()]);
    }
    rows.push(vec!["all".to_owned(), catalog.parts().count().to_string()]);
    let columns = [("Kind", Align::Left), ("Parts", Align::Right)];
    print(&Document {
        title: "Parts".to_owned(),
        blocks: vec![table(&columns, rows)],
    })
}

fn prove(catalog: &Catalog) -> Result<Outcome, CommandError> {
    let holes = lint(catalog);
    if holes.is_empty() {
        let count = catalog.parts().count();
        output::print(format!("{count} parts, no holes\n").as_bytes())?;
        return Ok(Outcome::Done);
    }
    let lines: Vec<String> = holes.iter().map(ToString::to_string).collect();
    Err(CommandError::Mistakes(format!(
        "error: the catalog has {} holes\n{}",
        lines.len(),
        lines.join("\n")
    )))
}
