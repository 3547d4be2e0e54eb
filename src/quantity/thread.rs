//! Threads of studs, bolts and screws.

use std::fmt;

use super::{Length, Quantity, QuantityError};

macro_rules! threads {
    ($( $(#[$doc:meta])* $name:ident $text:literal $diameter:literal ),+ $(,)?) => {
        /// A thread by its nominal size, metric (ISO 261) or inch (ASME B1.1).
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum Thread { $( $(#[$doc])* $name ),+ }

        impl Thread {
            /// Every thread known, smallest first within each system.
            pub const ALL: &'static [Self] = &[$(Self::$name),+];

            /// How it is written.
            pub const fn as_str(self) -> &'static str {
                match self { $(Self::$name => $text),+ }
            }

            /// Nominal outer diameter.
            pub const fn diameter(self) -> Length {
                match self { $(Self::$name => Length::from_mm($diameter)),+ }
            }
        }
    };
}

threads! {
    /// Metric coarse 3.
    M3 "M3" 3.0,
    /// Metric coarse 4.
    M4 "M4" 4.0,
    /// Metric coarse 5.
    M5 "M5" 5.0,
    /// Metric coarse 6.
    M6 "M6" 6.0,
    /// Metric coarse 8.
    M8 "M8" 8.0,
    /// Metric coarse 10.
    M10 "M10" 10.0,
    /// Metric coarse 12.
    M12 "M12" 12.0,
    /// Metric coarse 16.
    M16 "M16" 16.0,
    /// Number 10 inch.
    No10 "No. 10" 4.826,
    /// Quarter inch.
    Inch1Over4 "1/4 in" 6.35,
    /// Five sixteenths of an inch.
    Inch5Over16 "5/16 in" 7.9375,
    /// Three eighths of an inch.
    Inch3Over8 "3/8 in" 9.525,
    /// Half an inch.
    Inch1Over2 "1/2 in" 12.7,
}

impl Quantity for Thread {
    const NAME: &'static str = "a thread";
    const EXAMPLES: &'static str = r#""M8" or "3/8 in""#;

    fn parse(text: &str) -> Result<Self, QuantityError> {
        let written = text.trim().replace('"', " in").replace("  ", " ");
        Self::ALL
            .iter()
            .copied()
            .find(|thread| thread.as_str().eq_ignore_ascii_case(&written))
            .ok_or_else(|| {
                let known: Vec<&str> = Self::ALL.iter().map(|t| t.as_str()).collect();
                QuantityError::NotKnown {
                    text: text.to_owned(),
                    known: known.join(", "),
                }
            })
    }
}

impl fmt::Display for Thread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.as_str())
    }
}

impl serde::Serialize for Thread {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}
