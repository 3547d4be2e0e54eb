//! The texts of the step library as MiniJinja templates.

use minijinja::{Environment, Error, UndefinedBehavior, Value};

use super::facts::Facts;
use super::library::StepLibrary;

/// Fills in templates and works out expressions.
#[derive(Debug)]
pub struct Texts<'l>(Environment<'l>);

impl<'l> Texts<'l> {
    /// With the ordinary filters; a value that is not there is an error.
    pub fn new() -> Self {
        let mut environment = Environment::new();
        environment.set_undefined_behavior(UndefinedBehavior::Strict);
        Self(environment)
    }

    /// The same for the steps of a library, whose templates are read once for all steps made of them.
    pub fn of(library: &'l StepLibrary) -> Self {
        let mut texts = Self::new();
        for step in &library.steps {
            for text in step.paragraphs().chain(&step.hold_points) {
                // What cannot be read is told when it is filled in.
                let _ = texts.0.add_template(text, text);
            }
        }
        texts
    }

    /// Fills in a template, as one paragraph.
    ///
    /// # Errors
    /// A slip of syntax, an unknown filter, a value that is not there.
    pub fn fill(&self, template: &str, facts: &Facts) -> Result<String, Error> {
        let filled = match self.0.get_template(template) {
            Ok(known) => known.render(facts.context())?,
            Err(_) => self.0.render_str(template, facts.context())?,
        };
        let lines = filled
            .lines()
            .map(str::trim)
            .filter(|line| !line.is_empty());
        Ok(lines.collect::<Vec<_>>().join(" "))
    }

    /// Fills in a template that was checked when it was read; what fails all the same is shown in
    /// the text itself, so that nobody works from half a sentence.
    pub fn show(&self, template: &str, facts: &Facts) -> String {
        let filled = self.fill(template, facts);
        filled.unwrap_or_else(|error| format!("(this text cannot be shown: {error}) {template}"))
    }

    /// Whether an expression holds; no expression always holds.
    ///
    /// # Errors
    /// As [`Texts::fill`].
    pub fn judge(&self, expression: Option<&str>, facts: &Facts) -> Result<bool, Error> {
        match expression {
            None => Ok(true),
            Some(text) => {
                let compiled = self.0.compile_expression(text)?;
                compiled
                    .eval(facts.context())
                    .map(|value: Value| value.is_true())
            }
        }
    }

    /// Names in a template that are not among the known ones.
    ///
    /// # Errors
    /// A slip of syntax.
    pub fn unknown_in_template(&self, text: &str, known: &[String]) -> Result<Vec<String>, Error> {
        let template = self.0.template_from_str(text)?;
        Ok(unknown(template.undeclared_variables(true), known))
    }

    /// Names in an expression that are not among the known ones.
    ///
    /// # Errors
    /// A slip of syntax.
    pub fn unknown_in_expression(
        &self,
        text: &str,
        known: &[String],
    ) -> Result<Vec<String>, Error> {
        let expression = self.0.compile_expression(text)?;
        Ok(unknown(expression.undeclared_variables(true), known))
    }
}

fn unknown(used: impl IntoIterator<Item = String>, known: &[String]) -> Vec<String> {
    let mut names: Vec<String> = used
        .into_iter()
        .filter(|name| !known.contains(name))
        .collect();
    // A set of the template engine has no order of its own.
    names.sort();
    names
}
