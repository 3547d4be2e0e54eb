//! A variant of a job, as written.

use toml::de::{DeTable, DeValue};

use super::file::Name;
use crate::diagnostic::Span;
use crate::file::{Field, OpenTable, Reader, Shape, Table, Value, wrong_type};

/// The same job with something changed. What it changes stands in keys of the job itself, which
/// are read with the job that it gives.
#[derive(Debug, Clone, PartialEq)]
pub struct VariantFile {
    /// Its name.
    pub name: Name,
    /// What it tries, for the comparison.
    pub note: Option<String>,
    /// Where the table stands.
    pub span: Span,
}

impl VariantFile {
    /// Keys of its own; a job has none of them.
    pub const OWN: [&'static str; 2] = ["name", "note"];
}

impl Table for VariantFile {
    const NAME: &'static str = "variant";

    fn fields() -> Vec<Field> {
        let field = |key, meaning: &str, shape, optional| Field {
            key,
            meaning: meaning.to_owned(),
            shape,
            default: None,
            optional,
        };
        vec![
            field("name", "Its name.", Name::shape(), false),
            field(
                "note",
                "What it tries, in a sentence for the comparison.",
                Option::<String>::shape(),
                true,
            ),
            field(
                "any key of the job",
                "What differs from the job. Under `[[variant.lead]]` and the like, an entry with the \
                 name of one that is there changes it (a leg and a bond are known by their \
                 `from` and `to`), with `remove = true` it takes it away, and with a new name it \
                 is added. Single tables are `[variant.climate]` and `[variant.rules]`.",
                Shape::Scalar("what the job takes there".to_owned()),
                true,
            ),
            field(
                "unset",
                "Keys that go back to what they are when absent, here and in any table of a \
                 variant.",
                Vec::<String>::shape(),
                true,
            ),
        ]
    }

    fn read_table(table: &DeTable<'_>, span: Span, reader: &mut Reader) -> Option<Self> {
        // Any key may stand here, so none is unknown yet.
        let open = OpenTable::partly(table, Self::NAME, span);
        let name = open.read_or_stand_in("name", None, reader);
        let note = open.read_or_stand_in("note", None, reader);
        Some(Self {
            name: name?,
            note: note?,
            span,
        })
    }
}

impl Value for VariantFile {
    fn shape() -> Shape {
        Shape::Table(Self::NAME, Self::fields)
    }

    fn stand_in(span: Span) -> Option<Self> {
        Some(Self {
            name: Name::stand_in(span)?,
            note: None,
            span,
        })
    }

    fn read(value: &DeValue<'_>, span: Span, reader: &mut Reader) -> Option<Self> {
        match value.as_table() {
            Some(table) => Self::read_table(table, span, reader),
            None => wrong_type(value, span, reader),
        }
    }
}
