//! The templates of documents: the embedded ones, and over them those of the workshop's own folder.

use std::collections::BTreeMap;
use std::io::IsTerminal;
use std::path::Path;

use super::error::CommandError;
use crate::diagnostic::{Diagnostic, Problem, SourceId, Sources, Span, Subject, nearest, render};
use crate::documents::template::{Fault, TemplateError, Templates};
use crate::documents::{DocumentError, Stationery};
use crate::shop::{LetterheadFile, ShopFile};

/// Templates, and the texts of those that are the workshop's own.
pub struct DocumentTemplates {
    /// All of them.
    pub all: Templates,
    /// What the workshop has on every page.
    pub stationery: Stationery,
    sources: Sources,
    own: BTreeMap<String, SourceId>,
}

impl DocumentTemplates {
    /// The embedded ones.
    pub fn embedded() -> Result<Self, CommandError> {
        let machine = |error: TemplateError| CommandError::Machine(format!("error: {error}"));
        Ok(Self {
            all: Templates::embedded().map_err(machine)?,
            stationery: Stationery::default(),
            sources: Sources::default(),
            own: BTreeMap::new(),
        })
    }

    /// Those of a workshop: the embedded ones, over them those of its folder if it has one, on its pages.
    pub fn of(shop: &ShopFile, folder: Option<&Path>) -> Result<Self, CommandError> {
        let templates = folder.map_or_else(Self::embedded, Self::with_own)?;
        let stationery = |head: &LetterheadFile| Stationery {
            header: head.header.clone(),
            footer: head.footer.clone(),
        };
        Ok(Self {
            stationery: shop.letterhead.as_ref().map(stationery).unwrap_or_default(),
            ..templates
        })
    }

    /// Whether some are the workshop's own.
    pub fn has_own(&self) -> bool {
        !self.own.is_empty()
    }

    /// The embedded ones with those of a folder over them.
    ///
    /// # Errors
    /// Every template that cannot be read, or that no document uses.
    fn with_own(folder: &Path) -> Result<Self, CommandError> {
        if !folder.is_dir() {
            let told = format!(
                "error: there is no folder `{}` for templates",
                folder.display()
            );
            return Err(CommandError::Usage(told));
        }
        let mut templates = Self::embedded()?;
        let known = templates.all.names();
        let mut mistakes = Vec::new();
        for path in super::input::files_of(folder, "md")? {
            let text = std::fs::read_to_string(&path)
                .map_err(|error| CommandError::reading(&path, &error))?;
            let name = path
                .file_stem()
                .unwrap_or_default()
                .to_string_lossy()
                .into_owned();
            let source = templates.sources.add(path.display().to_string(), text);
            templates.own.insert(name, source);
        }
        for (name, source) in templates.own.clone() {
            if !known.contains(&name) && !templates.included(&name) {
                let names = known.iter().map(String::as_str);
                let problem = Problem::unknown_name(Subject::Document, &name, names);
                mistakes.push(Diagnostic::new(problem, Span::new(source, 0..0)));
            }
            let text = templates.sources.get(source).text.clone();
            if let Err(error) = templates.all.add(&name, &text) {
                mistakes.extend(templates.mistake(&error, &[]));
            }
        }
        match mistakes.is_empty() {
            true => Ok(templates),
            false => Err(templates.shown(&mistakes)),
        }
    }

    /// Whether another template of the folder includes one of this name.
    fn included(&self, name: &str) -> bool {
        let quoted = [format!("\"{name}\""), format!("'{name}'")];
        let texts = self
            .own
            .values()
            .map(|source| &self.sources.get(*source).text);
        texts
            .into_iter()
            .any(|text| quoted.iter().any(|word| text.contains(word)))
    }

    /// What is wrong with a template of the workshop's own; `known` are the names that it may use.
    pub fn mistake(&self, error: &TemplateError, known: &[String]) -> Option<Diagnostic> {
        let fault = error.fault()?;
        let source = *self.own.get(&fault.template)?;
        let text = &self.sources.get(source).text;
        let range = place(text, &fault);
        let problem = match misread(&text[range.clone()], &fault, known) {
            Some((name, Some(near))) => Problem::contradiction_with_help(
                format!("`{name}` means nothing here"),
                format!("did you mean `{near}`?"),
            ),
            Some((name, None)) => Problem::contradiction_with_help(
                format!("`{name}` means nothing here"),
                "`longlead show plan JOB` prints the names that documents are written from",
            ),
            None => Problem::contradiction(format!("this template cannot be used: {}", fault.told)),
        };
        Some(Diagnostic::new(problem, Span::new(source, range)))
    }

    /// Mistakes in templates, shown.
    pub fn shown(&self, mistakes: &[Diagnostic]) -> CommandError {
        let colour = std::io::stderr().is_terminal() && std::env::var_os("NO_COLOR").is_none();
        CommandError::Mistakes(render(mistakes, &self.sources, colour))
    }

    /// A document that could not be written: the workshop's slip, or a fault of the program.
    pub fn failed(&self, error: &DocumentError, known: &[String]) -> CommandError {
        let own = match error {
            DocumentError::Template(error) => self.mistake(error, known),
            DocumentError::Pdf(_) => None,
        };
        match own {
            Some(mistake) => self.shown(&[mistake]),
            None => CommandError::Machine(format!("error: {error}")),
        }
    }
}

/// The stretch at fault: as told, else the line.
fn place(text: &str, fault: &Fault) -> std::ops::Range<usize> {
    let told = fault.range.clone();
    let sound = |range: &std::ops::Range<usize>| {
        text.get(range.clone()).is_some_and(|part| !part.is_empty())
    };
    told.filter(sound).unwrap_or_else(|| {
        let before = text
            .split_inclusive('\n')
            .take(fault.line.saturating_sub(1));
        let start: usize = before.map(str::len).sum();
        let line = text[start..].lines().next().unwrap_or_default();
        start..start + line.len()
    })
}

/// The name in a stretch that means nothing, and the nearest one that does.
fn misread<'a>(
    part: &str,
    fault: &Fault,
    known: &'a [String],
) -> Option<(String, Option<&'a str>)> {
    if !fault.unknown_name {
        return None;
    }
    let mut names = part.split(|letter: char| !letter.is_alphanumeric() && letter != '_');
    let unknown = |name: &&str| {
        !name.is_empty()
            && !name.starts_with(|first: char| first.is_ascii_digit())
            && !known.iter().any(|other| other == name)
    };
    let name = names.rfind(unknown)?;
    let near = nearest(name, known.iter().map(String::as_str));
    Some((name.to_owned(), near))
}

/// Every name within a view, for the nearest right word.
pub fn names_of(view: &impl serde::Serialize) -> Vec<String> {
    let mut names = std::collections::BTreeSet::new();
    collect(&serde_json::to_value(view).unwrap_or_default(), &mut names);
    names.extend(
        [
            "loop",
            "index",
            "first",
            "last",
            "length",
            "fixed",
            "join",
            "millimetres",
        ]
        .map(str::to_owned),
    );
    names.into_iter().collect()
}

fn collect(value: &serde_json::Value, names: &mut std::collections::BTreeSet<String>) {
    match value {
        serde_json::Value::Object(fields) => {
            for (name, inner) in fields {
                names.insert(name.clone());
                collect(inner, names);
            }
        }
        serde_json::Value::Array(items) => items.iter().for_each(|item| collect(item, names)),
        _ => {}
    }
}
