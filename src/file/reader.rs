//! The state of reading: where we are and what was found wrong.

use toml::de::DeTable;

use super::Table;
use crate::diagnostic::{Diagnostic, Problem, SourceId, Sources, Span};

/// Collects the mistakes of one file while it is read.
#[derive(Debug)]
pub struct Reader {
    source: SourceId,
    diagnostics: Vec<Diagnostic>,
}

impl Reader {
    /// Reads a whole file as one table, and gives all mistakes found on the way.
    ///
    /// The table is `None` when it lacks something it cannot do without.
    pub fn read<T: Table>(source: SourceId, sources: &Sources) -> (Option<T>, Vec<Diagnostic>) {
        let text = &sources.get(source).text;
        let mut reader = Self {
            source,
            diagnostics: Vec::new(),
        };
        let (document, errors) = DeTable::parse_recoverable(text);
        for error in errors {
            let range = error.span().unwrap_or(0..0);
            let message = error.message().to_owned();
            reader.report(Problem::Syntax { message }, Span::new(source, range));
        }
        // After a slip of syntax what was read is a guess: judging it further would confuse.
        if !reader.diagnostics.is_empty() {
            return (None, reader.diagnostics);
        }
        let start = Span::new(source, first_line(text));
        let table = T::read_table(document.get_ref(), start, &mut reader);
        (table, reader.diagnostics)
    }

    /// Notes a mistake.
    pub fn report(&mut self, problem: Problem, span: Span) {
        self.diagnostics.push(Diagnostic::new(problem, span));
    }

    /// A place in the file that is being read.
    pub fn span(&self, range: std::ops::Range<usize>) -> Span {
        Span::new(self.source, range)
    }
}

/// The first line that says something; what the whole file lacks is shown there.
fn first_line(text: &str) -> std::ops::Range<usize> {
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        let said = line.trim();
        if !said.is_empty() && !said.starts_with('#') {
            return start..start + line.trim_end().len();
        }
        start += line.len();
    }
    0..text.lines().next().map_or(0, str::len)
}
