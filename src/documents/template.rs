//! Turns a view into Markdown by way of a template.
//!
//! The templates are the files under `templates/documents`, built into the
//! program. A template says how a document reads; the view it is given holds
//! every figure ready for print.

use super::escape;
use include_dir::{Dir, include_dir};
use minijinja::syntax::SyntaxConfig;
use minijinja::value::{Serde, ValueKind};
use minijinja::{
    AutoEscape, Environment, Error, ErrorKind, Output, State, UndefinedBehavior, Value,
};
use serde::Serialize;
use std::fmt;
use std::ops::Range;

static EMBEDDED: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/templates");

/// Printed where a view holds nothing, so that a gap does not look forgotten.
const NOTHING: &str = "–";

/// A template could not be turned into a document.
#[derive(Debug)]
pub enum TemplateError {
    /// There is no template of that name.
    Unknown {
        /// The name asked for.
        name: String,
    },
    /// The template is at fault, or asks for something the view lacks.
    Faulty {
        /// The template's name.
        name: String,
        /// What went wrong and where.
        cause: Error,
    },
}

impl fmt::Display for TemplateError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unknown { name } => write!(formatter, "there is no document named `{name}`"),
            Self::Faulty { name, cause } => {
                write!(
                    formatter,
                    "the template `{name}` cannot be filled in: {cause}"
                )
            }
        }
    }
}

/// Where a template is at fault, and how.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Name of the template; the one that is included, where it is at fault.
    pub template: String,
    /// The line, from 1.
    pub line: usize,
    /// The bytes, where they are known.
    pub range: Option<Range<usize>>,
    /// Whether a name stands there that means nothing.
    pub unknown_name: bool,
    /// What is wrong.
    pub told: String,
}

impl TemplateError {
    /// Where the template is at fault, where there is such a place.
    pub fn fault(&self) -> Option<Fault> {
        let Self::Faulty { name, cause } = self else {
            return None;
        };
        let mut deepest = cause;
        while let Some(inner) = std::error::Error::source(deepest).and_then(|e| e.downcast_ref()) {
            deepest = inner;
        }
        let kind = deepest.kind();
        Some(Fault {
            template: deepest.name().unwrap_or(name).to_owned(),
            line: deepest.line().unwrap_or(1),
            range: deepest.range(),
            unknown_name: kind == ErrorKind::UndefinedError || kind == ErrorKind::UnknownFilter,
            told: match deepest.detail() {
                Some(detail) => format!("{kind}: {detail}"),
                None => kind.to_string(),
            },
        })
    }
}

impl std::error::Error for TemplateError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Unknown { .. } => None,
            Self::Faulty { cause, .. } => Some(cause),
        }
    }
}

/// Fills in the built-in template `name`, such as `"cut_list"`, with a view.
pub fn render(name: &str, view: &impl Serialize) -> Result<String, TemplateError> {
    Templates::embedded()?.render(name, view)
}

/// A view made ready for templates once, where many are filled in with it.
pub fn made_ready(view: &impl Serialize) -> minijinja::Value {
    Serde(view).into()
}

/// A set of templates that can include one another by name.
pub struct Templates {
    environment: Environment<'static>,
}

impl Templates {
    /// The templates built into the program.
    pub fn embedded() -> Result<Self, TemplateError> {
        let mut templates = Self::none();
        let files = EMBEDDED
            .get_dir("documents")
            .into_iter()
            .flat_map(Dir::files);
        for file in files {
            let file_name = file.path().file_name().and_then(|name| name.to_str());
            let name = file_name.and_then(|name| name.strip_suffix(".md"));
            if let (Some(name), Some(source)) = (name, file.contents_utf8()) {
                templates.add(name, source)?;
            }
        }
        Ok(templates)
    }

    /// The names of all templates.
    pub fn names(&self) -> Vec<String> {
        let templates = self.environment.templates();
        templates.map(|(name, _)| name.to_owned()).collect()
    }

    /// A set without any template, for templates that are not built in.
    pub fn none() -> Self {
        let mut environment = Environment::new();
        environment.set_syntax(tag_lines_vanish());
        environment.set_undefined_behavior(UndefinedBehavior::Strict);
        environment.set_auto_escape_callback(|_| AutoEscape::Custom("markdown".into()));
        environment.set_formatter(print_value);
        environment.add_filter("fixed", fixed);
        environment.add_filter("millimetres", millimetres);
        environment.add_filter("join", join);
        Self { environment }
    }

    /// Adds a template, or replaces the one of that name.
    pub fn add(&mut self, name: &str, source: &str) -> Result<(), TemplateError> {
        self.environment
            .add_template_owned(name.to_string(), source.to_string())
            .map_err(|cause| faulty(name, cause))
    }

    /// Fills in the template `name` with a view.
    pub fn render(&self, name: &str, view: &impl Serialize) -> Result<String, TemplateError> {
        let template = self
            .environment
            .get_template(name)
            .map_err(|cause| match cause.kind() {
                ErrorKind::TemplateNotFound => TemplateError::Unknown { name: name.into() },
                _ => faulty(name, cause),
            })?;
        template
            .render(Serde(view))
            .map_err(|cause| faulty(name, cause))
    }
}

/// Lines that hold nothing but a tag leave no blank line behind: one would end
/// the table or list around it.
fn tag_lines_vanish() -> SyntaxConfig {
    let mut syntax = SyntaxConfig::builder();
    syntax.trim_blocks(true).lstrip_blocks(true);
    // Only delimiters can be refused, and these are the usual ones.
    syntax.build().unwrap_or_default()
}

fn faulty(name: &str, cause: Error) -> TemplateError {
    TemplateError::Faulty {
        name: name.to_string(),
        cause,
    }
}

/// Prints a value into the Markdown, so that no text from a view acts as markup.
fn print_value(out: &mut Output, state: &mut State, value: &Value) -> Result<(), Error> {
    let printed = match value.kind() {
        ValueKind::Undefined => return minijinja::escape_formatter(out, state, value),
        ValueKind::None => out.write_str(NOTHING),
        _ if value.is_safe() => out.write_str(&value.to_string()),
        _ => out.write_str(&escape::markdown(&quoted(&value.to_string()))),
    };
    printed.map_err(Error::from)
}

/// The stages put names between backticks, as a terminal shows them; on paper they stand between
/// quotation marks. A backtick without its fellow stays.
fn quoted(text: &str) -> String {
    let mut printed = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, name, after)) = first_quoted(rest) {
        printed.push_str(before);
        printed.push('“');
        printed.push_str(name);
        printed.push('”');
        rest = after;
    }
    printed + rest
}

fn first_quoted(text: &str) -> Option<(&str, &str, &str)> {
    let (before, rest) = text.split_once('`')?;
    let (name, after) = rest.split_once('`')?;
    Some((before, name, after))
}

/// `{{ price | fixed(2) }}`: a number with that many decimals.
fn fixed(value: &Value, places: usize) -> Result<Value, Error> {
    number(value).map(|number| with_decimals(number, places))
}

/// `{{ length | millimetres }}`: a length in metres as millimetres, without
/// decimals unless some are asked for.
fn millimetres(value: &Value, places: Option<usize>) -> Result<Value, Error> {
    number(value).map(|metres| with_decimals(metres.map(|m| m * 1000.0), places.unwrap_or(0)))
}

/// A missing number stays missing; text counts where it reads as a number,
/// because exact decimals are handed over as text.
fn number(value: &Value) -> Result<Option<f64>, Error> {
    if value.is_none() {
        return Ok(None);
    }
    let number = match value.as_str() {
        Some(text) => text.parse().ok(),
        None => f64::try_from(value.clone()).ok(),
    };
    let not_a_number = || Error::new(ErrorKind::InvalidOperation, format!("{value} is no number"));
    number.map(Some).ok_or_else(not_a_number)
}

fn with_decimals(number: Option<f64>, places: usize) -> Value {
    let Some(number) = number.filter(|number| number.is_finite()) else {
        return Value::from(());
    };
    let printed = format!("{number:.places$}");
    let is_zero = !printed.contains(|digit| matches!(digit, '1'..='9'));
    // Rounding leaves the sign on a number too small to show, as in "-0.00".
    let printed = match printed.strip_prefix('-') {
        Some(unsigned) if is_zero => unsigned.to_string(),
        _ => printed,
    };
    Value::from(printed)
}

/// `{{ names | join(", ") }}`: the parts of a list in one line.
fn join(value: &Value, separator: Option<&str>) -> Result<String, Error> {
    let parts = value.try_iter()?.map(|part| part.to_string());
    Ok(parts.collect::<Vec<_>>().join(separator.unwrap_or(", ")))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use super::*;
    use serde_json::json;

    fn filled(source: &str, view: serde_json::Value) -> Result<String, TemplateError> {
        let mut templates = Templates::none();
        templates.add("sample", source)?;
        templates.render("sample", &view)
    }

    #[test]
    fn names_between_backticks_are_quoted() {
        let view = json!({ "name": "`a` to `b c`, one ` alone" });
        let printed = filled("{{ name }}", view).unwrap();
        assert_eq!(printed, "“a” to “b c”, one \\` alone");
    }

    #[test]
    fn text_is_escaped_and_numbers_are_not() {
        let view = json!({ "name": "a|b *c*", "count": -3, "gap": null });
        let printed = filled("{{ name }} {{ count }} {{ gap }}", view).unwrap();
        assert_eq!(printed, "a\\|b \\*c\\* -3 –");
    }

    #[test]
    fn filters_print_figures() {
        let view = json!({ "m": 1.2345, "exact": "19.9", "tiny": -0.001, "names": ["a", "b_c"], "gap": null });
        let source = "{{ m | fixed(2) }} {{ m | millimetres }} {{ m | millimetres(1) }} \
                      {{ exact | fixed(2) }} {{ tiny | fixed(2) }} {{ names | join('; ') }} {{ gap | fixed(1) }}";
        let printed = filled(source, view).unwrap();
        assert_eq!(printed, "1.23 1234 1234.5 19.90 0.00 a; b\\_c –");
    }

    #[test]
    fn a_misspelt_name_is_an_error() {
        let error = filled("{{ lenght }}", json!({ "length": 1 })).unwrap_err();
        assert!(error.to_string().contains("`sample`"), "{error}");
        let error = render("no_such_document", &()).unwrap_err();
        assert_eq!(
            error.to_string(),
            "there is no document named `no_such_document`"
        );
    }

    #[test]
    fn a_figure_that_is_text_is_an_error() {
        assert!(filled("{{ a | fixed(1) }}", json!({ "a": "wide" })).is_err());
    }

    #[test]
    fn loops_leave_no_blank_lines_in_tables() {
        let source = "|a|\n|-|\n{% for row in rows %}\n| {{ row }} |\n{% endfor %}\n";
        let printed = filled(source, json!({ "rows": [1, 2] })).unwrap();
        assert_eq!(printed, "|a|\n|-|\n| 1 |\n| 2 |\n");
    }

    #[test]
    fn every_embedded_template_is_well_formed() {
        assert!(Templates::embedded().is_ok());
    }
}
