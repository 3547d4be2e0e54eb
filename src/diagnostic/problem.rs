//! Every mistake that a file can hold, and its wording.

use std::fmt;

use super::nearest;
use super::terminals::{TERMINAL_NAMES, of_same_item};
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
    /// A battery, alternator, converter, load, bus, device or chassis point of the job.
    Item,
    /// A load of the job.
    Load,
    /// A battery.
    Battery,
    /// A chassis point of the job.
    ChassisPoint,
    /// A lead of the job.
    Lead,
    /// A state of the job.
    State,
    /// A variant of the job.
    Variant,
    /// A part of the catalog.
    Part,
    /// A supplier of the shop file.
    Supplier,
    /// A cable family of the catalog.
    CableFamily,
    /// An opening-time curve of the catalog.
    Curve,
    /// An ampacity table of the catalog.
    AmpacityTable,
    /// A die of the catalog.
    Die,
    /// A tool of the catalog.
    Tool,
    /// A kind of step of the step library.
    StepKind,
    /// A caution of the step library.
    Caution,
    /// A value that a text of the step library may show.
    Fact,
    /// A way in which parts fail.
    Failure,
    /// A document that is written from a template.
    Document,
    /// A point where a meter is held.
    TestPoint,
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
            Self::Battery => "battery",
            Self::ChassisPoint => "chassis point",
            Self::Lead => "lead",
            Self::State => "state",
            Self::Variant => "variant",
            Self::Part => "part",
            Self::Supplier => "supplier",
            Self::CableFamily => "cable family",
            Self::Curve => "curve",
            Self::AmpacityTable => "ampacity table",
            Self::Die => "die",
            Self::Tool => "tool",
            Self::StepKind => "kind of step",
            Self::Caution => "caution",
            Self::Fact => "value",
            Self::Failure => "failure",
            Self::Document => "document",
            Self::TestPoint => "test point",
        })
    }
}

impl Subject {
    fn plural(self) -> String {
        match self {
            Self::Battery => "batteries".to_owned(),
            Self::CableFamily => "cable families".to_owned(),
            Self::StepKind => "kinds of steps".to_owned(),
            other => format!("{other}s"),
        }
    }
}

/// A noun with `a` or `an` before it.
pub fn with_article(noun: &str) -> String {
    let article = match noun.starts_with(['a', 'e', 'i', 'o', 'u']) {
        true => "an",
        false => "a",
    };
    format!("{article} {noun}")
}

const ITEM_NAMES: &str = "batteries, alternators, converters, loads, buses, devices and chassis points share one set of names";
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
        /// All names, as one phrase, where they are few; of a terminal what its item has.
        known: Option<String>,
    },
    /// An entry that changes nothing which is there and is too little to be new.
    NothingToChange {
        /// What it is.
        table: &'static str,
        /// Its name in quotes, or its two ends in words.
        name: String,
        /// The most similar of those that are there, told likewise.
        nearest: Option<String>,
        /// Keys that it lacks to be a new one, as one phrase.
        missing: String,
    },
    /// Two things of the same kind with one name.
    DuplicateName {
        /// What they are.
        subject: Subject,
        /// The name.
        name: String,
    },
    /// A text in which nothing is written.
    EmptyText,
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
        what: String,
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

    /// A name that nothing bears, with the names that it might have meant.
    pub fn unknown_name<'a>(
        subject: Subject,
        name: &str,
        known: impl IntoIterator<Item = &'a str>,
    ) -> Self {
        const FEW: usize = 12;
        let all: Vec<&str> = known.into_iter().collect();
        let known = match subject {
            Subject::Terminal => of_same_item(name, &all),
            _ => (all.len() <= FEW).then(|| all.join(", ")),
        };
        Self::UnknownName {
            subject,
            name: name.to_owned(),
            nearest: nearest(name, all).map(str::to_owned),
            known,
        }
    }

    /// A figure outside its range.
    pub fn out_of_range(what: impl Into<String>, range: &'static str) -> Self {
        Self::OutOfRange {
            what: what.into(),
            range,
        }
    }

    /// The words under the caret.
    pub fn expected(&self) -> String {
        match self {
            Self::Syntax { .. } => String::new(),
            Self::UnknownKey { table, .. } => format!("not a key of {}", with_article(table)),
            Self::MissingKey { expected, .. } => format!("expected {expected}"),
            Self::WrongType { expected, found } => format!("expected {expected}, not {found}"),
            Self::BadQuantity {
                wanted, examples, ..
            } => format!("expected {wanted} such as {examples}"),
            Self::UnknownWord { wanted, .. } => format!("expected {wanted}"),
            Self::UnknownName { subject, .. } => format!("no {subject} has this name"),
            Self::NothingToChange { table, .. } => format!("no {table} to change or take away"),
            Self::DuplicateName { .. } => "used a second time".to_owned(),
            Self::EmptyText => "expected at least one letter or digit".to_owned(),
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
            Self::UnknownName {
                subject,
                nearest,
                known,
                ..
            } => match (nearest, known.as_deref()) {
                (_, Some(own)) if *subject == Subject::Terminal => Some(own.to_owned()),
                (Some(word), _) => Some(mean(word)),
                (None, _) if *subject == Subject::Terminal => Some(TERMINAL_NAMES.to_owned()),
                (None, Some("")) => Some(format!("no {subject} is given at all")),
                (None, Some(known)) => Some(format!("the {} are: {known}", subject.plural())),
                (None, None) => None,
            },
            Self::NothingToChange {
                table,
                nearest,
                missing,
                ..
            } => {
                let mean = nearest
                    .as_ref()
                    .map(|told| format!("did you mean the {table} {told}?"));
                let new = (!missing.is_empty()).then(|| {
                    format!(
                        "to add {}, give it these keys too: {missing}",
                        with_article(table)
                    )
                });
                let both: Vec<String> = mean.into_iter().chain(new).collect();
                (!both.is_empty()).then(|| both.join(" Or, "))
            }
            Self::DuplicateName { subject, .. } => match subject {
                Subject::Item => Some(ITEM_NAMES.to_owned()),
                Subject::Terminal => Some(TERMINAL_NAMES.to_owned()),
                _ => None,
            },
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
            Self::UnknownKey { key, table, .. } => {
                write!(f, "{} has no key `{key}`", with_article(table))
            }
            Self::MissingKey { key, table, .. } => write!(f, "this {table} lacks the key `{key}`"),
            Self::WrongType { found, .. } => write!(f, "this key does not take {found}"),
            Self::BadQuantity { wanted, error, .. } => write!(f, "not {wanted}: {error}"),
            Self::UnknownWord { word, wanted, .. } => write!(f, "`{word}` is not {wanted}"),
            Self::UnknownName { subject, name, .. } => write!(f, "there is no {subject} `{name}`"),
            Self::NothingToChange { table, name, .. } => {
                write!(f, "there is no {table} {name}")
            }
            Self::DuplicateName { subject, name } => {
                write!(f, "the name `{name}` is given to more than one {subject}")
            }
            Self::EmptyText => write!(f, "nothing is written here"),
            Self::Unreachable { from, to } => write!(f, "no way leads from `{from}` to `{to}`"),
            Self::Contradiction { reason, .. } => f.write_str(reason),
            Self::OutOfRange { what, .. } => write!(f, "{what} is out of range"),
            Self::TooManyDigits { currency } => {
                write!(f, "the amount has more digits than {currency} has")
            }
        }
    }
}
