//! Every mistake that a file can hold, and its wording.

use std::fmt;

use crate::quantity::{Currency, QuantityError};

/// What a name in a file stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Subject {
    /// A space of the job.
    Space,
    /// A place of the job.
    Place,
    /// A panel of the job.
    Panel,
    /// A terminal of the job.
    Terminal,
    /// A load, source or lead name where any item of the job is meant.
    Item,
    /// A load of the job.
    Load,
    /// A source of the job.
    Supply,
    /// A lead of the job.
    Lead,
    /// A state of the job.
    State,
    /// A part of the catalog.
    Part,
    /// A supplier of the shop file.
    Supplier,
    /// A cable family of the catalog.
    CableFamily,
    /// An opening-time curve of the catalog.
    Curve,
    /// A tool of the catalog.
    Tool,
    /// A rule of a setting.
    Rule,
}

impl fmt::Display for Subject {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Space => "space",
            Self::Place => "place",
            Self::Panel => "panel",
            Self::Terminal => "terminal",
            Self::Item => "item",
            Self::Load => "load",
            Self::Supply => "source",
            Self::Lead => "lead",
            Self::State => "state",
            Self::Part => "part",
            Self::Supplier => "supplier",
            Self::CableFamily => "cable family",
            Self::Curve => "curve",
            Self::Tool => "tool",
            Self::Rule => "rule",
        })
    }
}

/// One kind of mistake. [`fmt::Display`] gives the headline, [`Problem::expected`] the words under
/// the caret and [`Problem::help`] the way out.
#[derive(Debug, Clone, PartialEq)]
pub enum Problem {
    /// The text is not TOML.
    Syntax {
        /// What the TOML reader said.
        message: String,
    },
    /// A key that the table does not have.
    UnknownKey {
        /// The key as written.
        key: String,
        /// The table's name.
        table: &'static str,
        /// The most similar key.
        nearest: Option<String>,
        /// All keys, as one phrase.
        known: String,
    },
    /// A key that must be there and is not.
    MissingKey {
        /// The key.
        key: &'static str,
        /// The table's name.
        table: &'static str,
        /// What should stand there.
        expected: String,
    },
    /// A value of another type.
    WrongType {
        /// What should stand there.
        expected: String,
        /// The type that stands there.
        found: &'static str,
    },
    /// A quantity that cannot be read.
    BadQuantity {
        /// The quantity with its article.
        wanted: &'static str,
        /// What is wrong.
        error: QuantityError,
        /// How it may be written.
        examples: &'static str,
    },
    /// A word that is none of those allowed.
    UnknownWord {
        /// The word as written.
        word: String,
        /// What the words are for.
        wanted: &'static str,
        /// The most similar word.
        nearest: Option<String>,
        /// All words, as one phrase.
        known: String,
    },
    /// A name that nothing bears.
    UnknownName {
        /// What the name should stand for.
        subject: Subject,
        /// The name as written.
        name: String,
        /// The most similar name.
        nearest: Option<String>,
    },
    /// Two things of the same kind with one name.
    DuplicateName {
        /// What they are.
        subject: Subject,
        /// The name.
        name: String,
    },
    /// A name without any letter.
    EmptyName,
    /// No way of legs leads from one place to the other.
    Unreachable {
        /// Where the lead starts.
        from: String,
        /// Where it should end.
        to: String,
    },
    /// Figures that cannot both be true.
    Contradiction {
        /// Why, as a full sentence without the stop.
        reason: String,
        /// The way out.
        help: Option<String>,
    },
    /// A figure outside what the program can treat.
    OutOfRange {
        /// What the figure is.
        what: &'static str,
        /// The range, in words.
        range: &'static str,
    },
    /// An amount of money finer than the smallest unit of its currency.
    TooManyDigits {
        /// The currency.
        currency: Currency,
    },
}

impl Problem {
    /// A contradiction with no advice.
    pub fn contradiction(reason: impl Into<String>) -> Self {
        Self::Contradiction {
            reason: reason.into(),
            help: None,
        }
    }

    /// A contradiction with advice.
    pub fn contradiction_with_help(reason: impl Into<String>, help: impl Into<String>) -> Self {
        Self::Contradiction {
            reason: reason.into(),
            help: Some(help.into()),
        }
    }

    /// The words under the caret.
    pub fn expected(&self) -> String {
        match self {
            Self::Syntax { .. } => String::new(),
            Self::UnknownKey { table, .. } => format!("not a key of a {table}"),
            Self::MissingKey { expected, .. } => format!("expected {expected}"),
            Self::WrongType { expected, found } => format!("expected {expected}, found {found}"),
            Self::BadQuantity {
                wanted, examples, ..
            } => format!("expected {wanted} such as {examples}"),
            Self::UnknownWord { wanted, .. } => format!("expected {wanted}"),
            Self::UnknownName { subject, .. } => format!("no {subject} has this name"),
            Self::DuplicateName { .. } => "used a second time".to_owned(),
            Self::EmptyName => "expected a name with at least one letter or digit".to_owned(),
            Self::Unreachable { .. } => "no chain of legs joins the two places".to_owned(),
            Self::Contradiction { .. } => String::new(),
            Self::OutOfRange { range, .. } => format!("expected {range}"),
            Self::TooManyDigits { currency } => match currency.minor_digits() {
                0 => "expected a whole amount".to_owned(),
                digits => format!("expected at most {digits} digits after the point"),
            },
        }
    }

    /// The way out.
    pub fn help(&self) -> Option<String> {
        let mean = |word: &String| format!("did you mean `{word}`?");
        match self {
            Self::UnknownKey { nearest, known, .. } => Some(match nearest {
                Some(word) => mean(word),
                None => format!("the keys are: {known}"),
            }),
            Self::UnknownWord { nearest, known, .. } => Some(match nearest {
                Some(word) => format!("{} The words are: {known}", mean(word)),
                None => format!("the words are: {known}"),
            }),
            Self::UnknownName { nearest, .. } => nearest.as_ref().map(mean),
            Self::Unreachable { .. } => {
                Some("add the missing leg, or take away the limit that closes it".to_owned())
            }
            Self::Contradiction { help, .. } => help.clone(),
            _ => None,
        }
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Syntax { message } => write!(f, "this is not TOML: {message}"),
            Self::UnknownKey { key, table, .. } => write!(f, "a {table} has no key `{key}`"),
            Self::MissingKey { key, table, .. } => write!(f, "this {table} lacks the key `{key}`"),
            Self::WrongType { .. } => write!(f, "the value has the wrong type"),
            Self::BadQuantity { wanted, error, .. } => write!(f, "not {wanted}: {error}"),
            Self::UnknownWord { word, wanted, .. } => write!(f, "`{word}` is not {wanted}"),
            Self::UnknownName { subject, name, .. } => write!(f, "there is no {subject} `{name}`"),
            Self::DuplicateName { subject, name } => {
                write!(f, "the name `{name}` is given to more than one {subject}")
            }
            Self::EmptyName => write!(f, "a name may not be empty"),
            Self::Unreachable { from, to } => write!(f, "no way leads from `{from}` to `{to}`"),
            Self::Contradiction { reason, .. } => f.write_str(reason),
            Self::OutOfRange { what, .. } => write!(f, "{what} is out of range"),
            Self::TooManyDigits { currency } => {
                write!(f, "the amount has more digits than {currency} has")
            }
        }
    }
}
