//! The printed reference of a file: every key, what it takes, its default and its meaning.

use super::{Field, Shape, Table};

/// Markdown text of a file's reference, one section for each table in it.
pub fn reference<T: Table>(title: &str) -> String {
    let mut text = format!("# {title}\n\n");
    section(
        &mut text,
        T::NAME,
        "",
        "at the top of the file",
        &T::fields(),
    );
    text
}

/// One table; `path` is how its own tables are addressed, such as `leg.`.
fn section(text: &mut String, name: &str, path: &str, header: &str, fields: &[Field]) {
    text.push_str(&format!("## {name}: {header}\n\n"));
    text.push_str("| key | takes | when absent | meaning |\n|---|---|---|---|\n");
    for field in fields {
        text.push_str(&format!(
            "| `{}` | {} | {} | {} |\n",
            field.key,
            takes(&field.shape).replace('|', "\\|"),
            absent(field),
            field.meaning.replace('|', "\\|"),
        ));
    }
    text.push('\n');
    for field in fields {
        if let Some(words) = words_of(&field.shape) {
            word_list(text, field.key, words);
        }
    }
    for field in fields {
        subsection(text, &format!("{path}{}", field.key), &field.shape);
    }
}

fn words_of(shape: &Shape) -> Option<&'static [(&'static str, &'static str)]> {
    match shape {
        Shape::Words(words) => Some(words),
        Shape::List(inner) => words_of(inner),
        Shape::Scalar(_) | Shape::Bare(_) | Shape::Table(..) => None,
    }
}

fn word_list(text: &mut String, key: &str, words: &[(&str, &str)]) {
    text.push_str(&format!("The words for `{key}`:\n\n"));
    for (word, meaning) in words {
        text.push_str(&format!("- `\"{word}\"`: {}\n", meaning.trim()));
    }
    text.push('\n');
}

fn subsection(text: &mut String, key: &str, shape: &Shape) {
    let (name, fields, header) = match shape {
        Shape::Table(name, fields) => (name, fields, format!("`[{key}]`")),
        Shape::List(inner) => match inner.as_ref() {
            Shape::Table(name, fields) => (name, fields, format!("`[[{key}]]`")),
            _ => return,
        },
        Shape::Scalar(_) | Shape::Bare(_) | Shape::Words(_) => return,
    };
    section(text, name, &format!("{key}."), &header, &fields());
}

fn takes(shape: &Shape) -> String {
    match shape {
        Shape::Words(_) => "a word (listed below)".to_owned(),
        Shape::Table(..) => "a table (below)".to_owned(),
        Shape::List(inner) => match inner.as_ref() {
            Shape::Table(..) => "any number of tables (below)".to_owned(),
            Shape::Words(_) => "a list of words (listed below)".to_owned(),
            _ => shape.in_words(),
        },
        Shape::Scalar(_) | Shape::Bare(_) => shape.in_words(),
    }
}

fn absent(field: &Field) -> String {
    let bare = matches!(field.shape, Shape::Bare(_));
    match (field.default, field.optional, &field.shape) {
        (Some(default), ..) if bare => format!("`{default}`"),
        (Some(default), ..) => format!("`\"{default}\"`"),
        (None, true, Shape::List(_)) => "none".to_owned(),
        (None, true, _) => "not given".to_owned(),
        (None, false, _) => "must be there".to_owned(),
    }
}
