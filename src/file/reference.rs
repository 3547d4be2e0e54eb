//! The printed reference of a file: every key, what it takes, its default and its meaning.

use super::{Field, Shape, Table};

/// Markdown text of a file's reference, one section for each table in it.
pub fn reference<T: Table>(title: &str) -> String {
    let mut text = format!("# {title}\n\n");
    section(&mut text, T::NAME, "at the top of the file", &T::fields());
    text
}

fn section(text: &mut String, name: &str, header: &str, fields: &[Field]) {
    text.push_str(&format!("## {name}: {header}\n\n"));
    text.push_str("| key | takes | when absent | meaning |\n|---|---|---|---|\n");
    for field in fields {
        let takes = takes(&field.shape).replace('|', "\\|");
        text.push_str(&format!(
            "| `{}` | {takes} | {} | {} |\n",
            field.key,
            absent(field),
            field.meaning
        ));
    }
    text.push('\n');
    for field in fields {
        subsection(text, field.key, &field.shape);
    }
}

fn subsection(text: &mut String, key: &str, shape: &Shape) {
    match shape {
        Shape::Table(name, fields) => section(text, name, &format!("`[{key}]`"), &fields()),
        Shape::List(inner) => {
            if let Shape::Table(name, fields) = inner.as_ref() {
                section(text, name, &format!("`[[{key}]]`"), &fields());
            } else {
                subsection(text, key, inner);
            }
        }
        Shape::Words(words) => {
            text.push_str(&format!("The words for `{key}`:\n\n"));
            for (word, meaning) in *words {
                text.push_str(&format!("- `{word}`:{meaning}\n"));
            }
            text.push('\n');
        }
        Shape::Scalar(_) => {}
    }
}

fn takes(shape: &Shape) -> String {
    match shape {
        Shape::Words(_) => "a word (listed below)".to_owned(),
        Shape::List(inner) if matches!(**inner, Shape::Table(..)) => "any number of tables".into(),
        other => other.in_words(),
    }
}

fn absent(field: &Field) -> String {
    match (field.default, field.optional) {
        (Some(default), _) => format!("`{default}`"),
        (None, true) => "nothing".to_owned(),
        (None, false) => "must be there".to_owned(),
    }
}
