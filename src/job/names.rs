//! Names given in a file, and the references to them.

use std::collections::BTreeMap;

use super::file::Name;
use crate::diagnostic::{Diagnostic, Problem, Span, Subject};

/// The names of one kind of thing.
pub struct Names {
    subject: Subject,
    known: BTreeMap<String, (usize, Span)>,
}

impl Names {
    /// Registers names in order; a name given twice is a mistake.
    pub fn collect<'a>(
        subject: Subject,
        names: impl IntoIterator<Item = &'a Name>,
        mistakes: &mut Vec<Diagnostic>,
    ) -> Self {
        let mut registry = Self {
            subject,
            known: BTreeMap::new(),
        };
        for (index, name) in names.into_iter().enumerate() {
            registry.insert(&name.value, index, name.span, mistakes);
        }
        registry
    }

    /// Registers one name.
    pub fn insert(&mut self, name: &str, index: usize, span: Span, mistakes: &mut Vec<Diagnostic>) {
        if is_stand_in(name) {
            return;
        }
        if let Some((_, first)) = self.known.get(name) {
            let problem = Problem::DuplicateName {
                subject: self.subject,
                name: name.to_owned(),
            };
            let mistake = Diagnostic::new(problem, span);
            mistakes.push(mistake.with_related(*first, "first used here"));
            return;
        }
        self.known.insert(name.to_owned(), (index, span));
    }

    /// Whether this place in the file is where the name was given first.
    pub fn is_first(&self, name: &Name) -> bool {
        let first = self.known.get(&name.value);
        first.is_some_and(|(_, span)| *span == name.span)
    }

    /// The position of a name, or a mistake.
    pub fn find(&self, name: &Name, mistakes: &mut Vec<Diagnostic>) -> Option<usize> {
        if let Some((index, _)) = self.known.get(&name.value) {
            return Some(*index);
        }
        if is_stand_in(&name.value) {
            return None;
        }
        let known = self.known.keys().map(String::as_str);
        let problem = Problem::unknown_name(self.subject, &name.value, known);
        mistakes.push(Diagnostic::new(problem, name.span));
        None
    }
}

/// Whether a name takes the place of one that could not be read and was reported.
fn is_stand_in(name: &str) -> bool {
    name.is_empty()
}
