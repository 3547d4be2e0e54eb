//! The state of reading: where we are and what was found wrong.

use rayon::prelude::*;
use toml::de::DeTable;

use super::Table;
use crate::diagnostic::{Diagnostic, Problem, SourceId, Sources, Span};

/// Collects the mistakes of one file while it is read.
#[derive(Debug)]
pub struct Reader {
    source: SourceId,
    diagnostics: Vec<Diagnostic>,
    flaws: Vec<Flaw>,
}

/// A key whose value is a stand-in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Flaw {
    table: Span,
    key: &'static str,
}

/// A file that was read.
#[derive(Debug)]
pub struct Reading<T> {
    /// What it says, with stand-ins for what could not be read; `None` when it is no TOML.
    pub table: Option<T>,
    /// What is wrong with it.
    pub mistakes: Vec<Diagnostic>,
    flaws: Vec<Flaw>,
}

impl<T> Reading<T> {
    /// What of later findings stands, though some values are stand-ins: a contradiction in a table
    /// that holds one may come from it. A stand-in bears the span of its table, so what relates to one
    /// is known by that.
    pub fn not_caused_by_stand_ins(&self, found: Vec<Diagnostic>) -> Vec<Diagnostic> {
        let doubtful = |span: Span| self.flaws.iter().any(|flaw| flaw.table == span);
        let stands = |mistake: &Diagnostic| {
            let mut related = mistake.related.iter();
            !doubtful(mistake.span) && !related.any(|(span, _)| doubtful(*span))
        };
        found.into_iter().filter(stands).collect()
    }

    /// Whether the text is TOML at all.
    pub fn is_toml(&self) -> bool {
        let slip = |mistake: &Diagnostic| matches!(mistake.problem, Problem::Syntax { .. });
        !self.mistakes.iter().any(slip)
    }

    /// Whether any of these keys, wherever they are, holds a stand-in.
    pub fn lacks_any(&self, keys: &[&str]) -> bool {
        self.flaws.iter().any(|flaw| keys.contains(&flaw.key))
    }
}

/// A file that is TOML, before it is read into typed tables.
#[derive(Debug)]
pub struct Document<'a> {
    /// The whole file as one table.
    pub table: DeTable<'a>,
    /// The first line that says something.
    pub start: Span,
}

impl<'a> Document<'a> {
    /// Parses a file.
    ///
    /// # Errors
    /// Every slip of syntax. What was read beside them is a guess: judging it further would
    /// confuse.
    pub fn parse(source: SourceId, sources: &'a Sources) -> Result<Self, Vec<Diagnostic>> {
        let text = &sources.get(source).text;
        let (document, errors) = DeTable::parse_recoverable(text);
        if errors.is_empty() {
            return Ok(Self {
                table: document.into_inner(),
                start: Span::new(source, first_line(text)),
            });
        }
        let slips = errors.iter().map(|error| {
            let message = error.message().to_owned();
            let span = Span::new(source, error.span().unwrap_or(0..0));
            Diagnostic::new(Problem::Syntax { message }, span)
        });
        Err(slips.collect())
    }

    /// Reads the file as one table.
    pub fn read<T: Table>(&self) -> Reading<T> {
        Reader::table(&self.table, self.start)
    }
}

impl Reader {
    /// Reads a whole file as one table, and gives all mistakes found on the way.
    pub fn read<T: Table>(source: SourceId, sources: &Sources) -> Reading<T> {
        match Document::parse(source, sources) {
            Ok(document) => document.read(),
            Err(mistakes) => Reading {
                table: None,
                mistakes,
                flaws: Vec::new(),
            },
        }
    }

    /// Reads files side by side, in their order: together they are most of what the program reads,
    /// and reading them one by one would be most of its start.
    pub fn read_all<T: Table + Send>(sources: &[SourceId], all: &Sources) -> Vec<Reading<T>> {
        let files = sources.par_iter().with_max_len(1);
        files.map(|source| Self::read(*source, all)).collect()
    }

    /// Reads a table; what it lacks is shown at `span`.
    pub fn table<T: Table>(table: &DeTable<'_>, span: Span) -> Reading<T> {
        let mut reader = Self {
            source: span.source,
            diagnostics: Vec::new(),
            flaws: Vec::new(),
        };
        let table = T::read_table(table, span, &mut reader);
        Reading {
            table,
            mistakes: reader.diagnostics,
            flaws: reader.flaws,
        }
    }

    /// Remembers that a key of a table holds a stand-in.
    pub fn flaw(&mut self, table: Span, key: &'static str) {
        self.flaws.push(Flaw { table, key });
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
