//! Tables of keys, declared once.

use toml::de::{DeTable, DeValue};

use super::{Reader, Shape, Value};
use crate::diagnostic::{Problem, Span, nearest};

/// One key of a table.
#[derive(Debug, Clone)]
pub struct Field {
    /// The key.
    pub key: &'static str,
    /// What it means, in whole sentences.
    pub meaning: String,
    /// What stands behind it.
    pub shape: Shape,
    /// The value when the key is absent, as it would be written.
    pub default: Option<&'static str>,
    /// Whether the key may be absent.
    pub optional: bool,
}

/// A type that is read from a TOML table; implemented by [`table!`](super::table).
pub trait Table: Sized {
    /// What one such table is called in a message.
    const NAME: &'static str;

    /// Every key.
    fn fields() -> Vec<Field>;

    /// Reads the table, reporting every mistake in it.
    fn read_table(table: &DeTable<'_>, span: Span, reader: &mut Reader) -> Option<Self>;
}

/// A table of the file that is being read, key by key.
#[derive(Debug)]
pub struct OpenTable<'a> {
    table: &'a DeTable<'a>,
    name: &'static str,
    span: Span,
    misspelt: Vec<&'static str>,
}

impl<'a> OpenTable<'a> {
    /// Opens a table, reporting every key that is none of `keys`.
    pub fn new(
        table: &'a DeTable<'a>,
        name: &'static str,
        keys: &[&'static str],
        span: Span,
        reader: &mut Reader,
    ) -> Self {
        let mut misspelt = Vec::new();
        for (written, _) in table {
            if keys.contains(&written.get_ref().as_ref()) {
                continue;
            }
            let nearest = nearest(written.get_ref(), keys.iter().copied());
            misspelt.extend(keys.iter().copied().filter(|key| Some(*key) == nearest));
            let problem = Problem::UnknownKey {
                key: written.get_ref().to_string(),
                table: name,
                nearest: nearest.map(str::to_owned),
                known: keys.join(", "),
            };
            reader.report(problem, reader.span(written.span()));
        }
        Self {
            table,
            name,
            span,
            misspelt,
        }
    }

    /// Opens a table of which only some keys are read.
    pub fn partly(table: &'a DeTable<'a>, name: &'static str, span: Span) -> Self {
        Self {
            table,
            name,
            span,
            misspelt: Vec::new(),
        }
    }

    /// Reads one key; what cannot be read gets a stand-in, and the reader remembers it.
    pub fn read_or_stand_in<T: Value>(
        &self,
        key: &'static str,
        default: Option<&'static str>,
        reader: &mut Reader,
    ) -> Option<T> {
        self.read(key, default, reader).or_else(|| {
            reader.flaw(self.span, key);
            T::stand_in(self.span)
        })
    }

    /// Reads one key. The outer `None` means that it could not be read.
    pub fn read<T: Value>(
        &self,
        key: &'static str,
        default: Option<&'static str>,
        reader: &mut Reader,
    ) -> Option<T> {
        let found = self
            .table
            .iter()
            .find(|(written, _)| written.get_ref() == key);
        if let Some((_, value)) = found {
            return T::read(value.get_ref(), reader.span(value.span()), reader);
        }
        if let Some(text) = default {
            return read_default(text, self.span, reader);
        }
        let absent = T::absent();
        // A misspelt key was reported already; that it is missing too would be the same fault twice.
        if absent.is_none() && !self.misspelt.contains(&key) {
            let problem = Problem::MissingKey {
                key,
                table: self.name,
                expected: T::shape().in_words(),
            };
            reader.report(problem, self.span);
        }
        absent
    }
}

/// Defaults are written as the user would write them, so that one reader serves both.
fn read_default<T: Value>(text: &str, span: Span, reader: &mut Reader) -> Option<T> {
    if let (Shape::Bare(_), Ok(value)) = (T::shape(), DeValue::parse(text)) {
        return T::read(value.get_ref(), span, reader);
    }
    T::read(&DeValue::String(text.into()), span, reader)
}

/// Declares a struct that is read from a TOML table.
///
/// A field with `= "..."` takes that default; an `Option` or `Vec` may be absent; every other key
/// must be there. The place of the table itself is kept in `span`.
macro_rules! table {
    (
        $(#[doc = $doc:literal])*
        pub struct $name:ident as $title:literal {
            $( $(#[doc = $meaning:literal])+ $key:ident : $kind:ty $(= $default:literal)? ),+ $(,)?
        }
    ) => {
        $(#[doc = $doc])*
        #[derive(Debug, Clone, PartialEq)]
        pub struct $name {
            $( $(#[doc = $meaning])+ pub $key: $kind, )+
            /// Where the table stands.
            pub span: $crate::diagnostic::Span,
        }

        impl $crate::file::Table for $name {
            const NAME: &'static str = $title;

            fn fields() -> Vec<$crate::file::Field> {
                vec![$( $crate::file::Field {
                    key: stringify!($key),
                    meaning: [$($meaning),+].join("").trim().to_owned(),
                    shape: <$kind as $crate::file::Value>::shape(),
                    default: $crate::file::table!(@default $($default)?),
                    optional: <$kind as $crate::file::Value>::absent().is_some(),
                } ),+]
            }

            fn read_table(
                table: &toml::de::DeTable<'_>,
                span: $crate::diagnostic::Span,
                reader: &mut $crate::file::Reader,
            ) -> Option<Self> {
                let keys = [$(stringify!($key)),+];
                let open = $crate::file::OpenTable::new(table, $title, &keys, span, reader);
                // Every key is read before any failure ends the table.
                $( let $key: Option<$kind> = open.read_or_stand_in(
                    stringify!($key), $crate::file::table!(@default $($default)?), reader); )+
                Some(Self { $( $key: $key?, )+ span })
            }
        }

        impl $crate::file::Value for $name {
            fn shape() -> $crate::file::Shape {
                $crate::file::Shape::Table($title, <Self as $crate::file::Table>::fields)
            }

            fn stand_in(span: $crate::diagnostic::Span) -> Option<Self> {
                Some(Self {
                    $( $key: <$kind as $crate::file::Value>::stand_in(span)?, )+
                    span,
                })
            }

            fn read(
                value: &toml::de::DeValue<'_>,
                span: $crate::diagnostic::Span,
                reader: &mut $crate::file::Reader,
            ) -> Option<Self> {
                match value.as_table() {
                    Some(table) => <Self as $crate::file::Table>::read_table(table, span, reader),
                    None => $crate::file::wrong_type(value, span, reader),
                }
            }
        }
    };
    (@default) => { None };
    (@default $default:literal) => { Some($default) };
}
pub(crate) use table;
