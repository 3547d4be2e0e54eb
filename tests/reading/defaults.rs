//! Every default and every example in the tables of the four files, read by the reader itself.

use longlead::catalog::CatalogFile;
use longlead::diagnostic::{Sources, render};
use longlead::file::{Field, Reader, Shape, Table, reference};
use longlead::job::JobFile;
use longlead::record::RecordFile;
use longlead::shop::ShopFile;

/// How deep the catalog's tables go; one more would be a mistake in the walk.
const DEEPEST: usize = 4;

/// An inline table with every key that must be there, and one of each table that may.
fn sample(fields: &[Field], depth: usize) -> String {
    assert!(depth <= DEEPEST);
    let keys = fields.iter().filter_map(|field| {
        let table = matches!(&field.shape, Shape::Table(..))
            || matches!(&field.shape, Shape::List(inner) if matches!(**inner, Shape::Table(..)));
        let needed = field.default.is_none() && !field.optional;
        (needed || table).then(|| format!("{} = {}", field.key, value(&field.shape, depth)))
    });
    keys.collect::<Vec<_>>().join(", ")
}

/// A value as the message for that key would offer it.
fn value(shape: &Shape, depth: usize) -> String {
    match shape {
        Shape::Words(words) => format!("\"{}\"", words[0].0),
        Shape::Bare(words) if words.contains("true") => "true".to_owned(),
        Shape::Bare(_) => "1".to_owned(),
        Shape::List(inner) => format!("[{}]", value(inner, depth)),
        Shape::Table(_, fields) => format!("{{ {} }}", sample(&fields(), depth + 1)),
        Shape::Scalar(words) => scalar(words),
    }
}

/// The first example in a description, or a text where it has none.
fn scalar(words: &str) -> String {
    let example = words.split_once("such as ").map(|(_, examples)| examples);
    let quoted = example.and_then(|text| text.split_inclusive("\" ").next());
    let quoted = quoted.map(|text| text.trim_end_matches(['}', ' ']));
    let first = quoted.and_then(|text| text.split("\", ").next());
    let first = first.map(|text| match text.ends_with('"') {
        true => text.to_owned(),
        false => format!("{text}\""),
    });
    // A rule of a setting is a figure with its source.
    if let Some(figure) = words.strip_prefix("{ value = ") {
        let figure = match figure {
            _ if figure.starts_with("true") => "true".to_owned(),
            _ if figure.starts_with("a whole number") => "1".to_owned(),
            _ => scalar(figure.split(", citation").next().unwrap()),
        };
        return format!("{{ value = {figure}, citation = \"x\", basis = \"memory\" }}");
    }
    first.unwrap_or_else(|| "\"a text\"".to_owned())
}

/// The sample of a whole file, a key a line.
fn document<T: Table>() -> String {
    let fields = T::fields();
    let lines = fields
        .iter()
        .map(|field| sample(std::slice::from_ref(field), 0));
    lines
        .filter(|line| !line.is_empty())
        .collect::<Vec<_>>()
        .join("\n")
}

fn assert_read<T: Table>() {
    let mut sources = Sources::default();
    let source = sources.add("sample.toml", document::<T>());
    let reading = Reader::read::<T>(source, &sources);
    assert!(
        reading.mistakes.is_empty(),
        "{}",
        render(&reading.mistakes, &sources, false)
    );
    assert!(reading.table.is_some());
}

#[test]
fn every_default_and_example_of_a_job_can_be_read() {
    assert_read::<JobFile>();
}

#[test]
fn every_default_and_example_of_a_shop_can_be_read() {
    assert_read::<ShopFile>();
}

#[test]
fn every_default_and_example_of_a_record_can_be_read() {
    assert_read::<RecordFile>();
}

#[test]
fn every_default_and_example_of_a_catalog_can_be_read() {
    assert_read::<CatalogFile>();
}

fn every_key(fields: &[Field], seen: &mut Vec<(&'static str, String)>) {
    for field in fields {
        seen.push((field.key, field.meaning.clone()));
        match &field.shape {
            Shape::Table(_, inner) => every_key(&inner(), seen),
            Shape::List(inner) => {
                if let Shape::Table(_, inner) = inner.as_ref() {
                    every_key(&inner(), seen);
                }
            }
            Shape::Scalar(_) | Shape::Bare(_) | Shape::Words(_) => {}
        }
    }
}

fn assert_referenced<T: Table>() {
    let text = reference::<T>("File");
    let mut seen = Vec::new();
    every_key(&T::fields(), &mut seen);
    for (key, meaning) in seen {
        assert!(!meaning.is_empty(), "`{key}` has no meaning");
        assert!(
            text.contains(&format!("| `{key}` | ")),
            "`{key}` is missing"
        );
    }
    for line in text.lines().filter(|line| line.starts_with('|')) {
        let bars = line.matches('|').count() - line.matches("\\|").count();
        assert_eq!(bars, 5, "{line}");
    }
}

#[test]
fn the_printed_references_hold_every_key_with_its_meaning() {
    assert_referenced::<JobFile>();
    assert_referenced::<ShopFile>();
    assert_referenced::<RecordFile>();
    assert_referenced::<CatalogFile>();
}

#[test]
fn the_printed_reference_addresses_inner_tables_and_quotes_defaults() {
    let text = reference::<JobFile>("Job file");
    for part in [
        "# Job file\n\n## job: at the top of the file\n",
        "## hazard: `[[leg.hazard]]`\n",
        "## climate: `[climate]`\n",
        "| `units` | a word (listed below) | `\"metric\"` |",
        "| `wet` | true or false | `false` |",
        "| `rules` | a table (below) | not given |",
        "- `\"imperial\"`: Feet and inches.\n",
    ] {
        assert!(text.contains(part), "{part}");
    }
}
