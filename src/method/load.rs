//! From files to one checked step library.

use super::library::{StepFile, StepLibrary, StepLibraryFile};
use super::lint;
use crate::diagnostic::{Diagnostic, Problem, SourceId, Sources, Span, Spanned, Subject};
use crate::file::Reader;

/// Reads layers of the step library, the later overriding the earlier by name, and checks the whole.
///
/// # Errors
/// Every mistake in every file.
pub fn load(layers: &[Vec<SourceId>], sources: &Sources) -> Result<StepLibrary, Vec<Diagnostic>> {
    let mut library = StepLibrary::default();
    let mut mistakes = Vec::new();
    for layer in layers {
        let mut rows = StepLibrary::default();
        for reading in Reader::read_all::<StepLibraryFile>(layer, sources) {
            mistakes.extend(reading.mistakes);
            if let Some(file) = reading.table {
                rows.append(file, &mut mistakes);
            }
        }
        let kinds = rows.steps.iter().map(|step| &step.name);
        mistakes.extend(duplicates(Subject::StepKind, kinds));
        let cautions = rows.cautions.iter().map(|caution| &caution.name);
        mistakes.extend(duplicates(Subject::Caution, cautions));
        library.override_with(rows);
    }
    // A file that cannot be read would make every reference to it look wrong.
    if !mistakes.is_empty() {
        return Err(mistakes);
    }
    if let Some(source) = layers.iter().flatten().next() {
        mistakes.extend(lint::gaps(&library, Span::new(*source, 0..0)));
    }
    mistakes.extend(lint::dangling(&library));
    mistakes.extend(lint::templates(&library));
    if mistakes.is_empty() {
        Ok(library)
    } else {
        Err(mistakes)
    }
}

fn duplicates<'a>(
    subject: Subject,
    names: impl Iterator<Item = &'a Spanned<String>>,
) -> Vec<Diagnostic> {
    let mut first: Vec<&Spanned<String>> = Vec::new();
    let mut mistakes = Vec::new();
    for name in names {
        match first.iter().find(|earlier| earlier.value == name.value) {
            Some(earlier) => {
                let problem = Problem::DuplicateName {
                    subject,
                    name: name.value.clone(),
                };
                let mistake = Diagnostic::new(problem, name.span);
                mistakes.push(mistake.with_related(earlier.span, "first used here"));
            }
            None => first.push(name),
        }
    }
    mistakes
}

impl StepLibrary {
    fn append(&mut self, file: StepLibraryFile, mistakes: &mut Vec<Diagnostic>) {
        self.steps.extend(file.step);
        self.cautions.extend(file.caution);
        self.phases.extend(file.phase);
        match (&self.access, file.access) {
            (Some(earlier), Some(again)) => {
                let reason = "the access factors are given more than once";
                let mistake = Diagnostic::new(Problem::contradiction(reason), again.span);
                mistakes.push(mistake.with_related(earlier.span, "first given here"));
            }
            (None, Some(access)) => self.access = Some(access),
            (_, None) => {}
        }
    }

    /// A row that overrides another keeps the other's position, which decides the order of steps.
    fn override_with(&mut self, layer: Self) {
        for step in layer.steps {
            put(&mut self.steps, step, |row: &StepFile| &row.name.value);
        }
        for caution in layer.cautions {
            put(&mut self.cautions, caution, |row| &row.name.value);
        }
        if layer.access.is_some() {
            self.access = layer.access;
        }
        for phase in layer.phases {
            match self
                .phases
                .iter_mut()
                .find(|row| *row.stage == *phase.stage)
            {
                Some(earlier) => *earlier = phase,
                None => self.phases.push(phase),
            }
        }
    }
}

fn put<T>(rows: &mut Vec<T>, row: T, name: impl Fn(&T) -> &String) {
    match rows.iter_mut().find(|earlier| name(earlier) == name(&row)) {
        Some(earlier) => *earlier = row,
        None => rows.push(row),
    }
}
