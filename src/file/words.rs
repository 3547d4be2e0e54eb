//! Closed sets of words.

/// Declares an enum that is written as one of a set of words.
macro_rules! words {
    (
        $(#[doc = $doc:literal])*
        pub enum $name:ident as $wanted:literal {
            $( $(#[doc = $meaning:literal])+ $variant:ident = $word:literal ),+ $(,)?
        }
    ) => {
        $(#[doc = $doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum $name { $( $(#[doc = $meaning])+ $variant ),+ }

        impl $name {
            /// Every word with its meaning.
            pub const WORDS: &'static [(&'static str, &'static str)] =
                &[$(($word, concat!($($meaning),+))),+];

            /// The word as written in a file.
            pub const fn as_str(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str(self.as_str())
            }
        }

        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.serialize_str(self.as_str())
            }
        }

        impl $crate::file::Value for $name {
            fn shape() -> $crate::file::Shape {
                $crate::file::Shape::Words(Self::WORDS)
            }

            fn stand_in(_: $crate::diagnostic::Span) -> Option<Self> {
                [$(Self::$variant),+].first().copied()
            }

            fn read(
                value: &toml::de::DeValue<'_>,
                span: $crate::diagnostic::Span,
                reader: &mut $crate::file::Reader,
            ) -> Option<Self> {
                match value.as_str() {
                    $( Some($word) => Some(Self::$variant), )+
                    Some(other) => {
                        let words = Self::WORDS.iter().map(|(word, _)| *word);
                        let known: Vec<&str> = words.clone().collect();
                        let problem = $crate::diagnostic::Problem::UnknownWord {
                            word: other.to_owned(),
                            wanted: $wanted,
                            nearest: $crate::diagnostic::nearest(other, words).map(str::to_owned),
                            known: known.join(", "),
                        };
                        reader.report(problem, span);
                        None
                    }
                    None => $crate::file::wrong_type(value, span, reader),
                }
            }
        }
    };
}
pub(crate) use words;
