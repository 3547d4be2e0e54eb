//! One table laid over another: what the upper one says holds, the rest stays as it was.
//!
//! Works on tables as written, before they are read, so that whatever is wrong is pointed out at the
//! place where it stands, by the reader that serves every table. In lists of tables an entry with
//! the name, or the two ends, of one that is there changes it; any other entry is added. Every
//! other value takes the place of the one before. The key `unset` in any upper table takes keys of
//! the lower one away, and `remove = true` takes away a whole entry.

use std::collections::BTreeMap;

use toml::Spanned;
use toml::de::{DeArray, DeTable, DeValue};

use super::entry::{Identity, required};
use super::{Field, Shape};
use crate::diagnostic::{Diagnostic, Problem, SourceId, Span, nearest};

/// Keys that only upper tables have.
const UNSET: &str = "unset";
const REMOVE: &str = "remove";

/// Lays tables of one file over others of it.
#[derive(Debug)]
pub struct Overlay {
    source: SourceId,
    /// What is wrong with the upper tables themselves.
    pub mistakes: Vec<Diagnostic>,
    /// The place of each upper table, and that of the one it was laid over.
    pub moved: BTreeMap<Span, Span>,
}

/// Two tables, one over the other.
struct Pair<'t, 'a> {
    lower: &'t Spanned<DeValue<'a>>,
    upper: &'t Spanned<DeValue<'a>>,
}

impl Overlay {
    /// An overlay of tables in one file.
    pub fn new(source: SourceId) -> Self {
        Self {
            source,
            mistakes: Vec::new(),
            moved: BTreeMap::new(),
        }
    }

    /// The lower table with the upper one laid over it.
    pub fn table<'a>(
        &mut self,
        lower: &DeTable<'a>,
        upper: &DeTable<'a>,
        fields: &[Field],
    ) -> DeTable<'a> {
        let mut laid = lower.clone();
        if let Some(keys) = upper.get(UNSET) {
            self.unset(&mut laid, keys, fields);
        }
        let changes = upper.iter().filter(|(key, _)| key.get_ref() != UNSET);
        for (key, value) in changes {
            let below = lower.get(key.get_ref().as_ref());
            let shape = fields.iter().find(|field| field.key == key.get_ref());
            let value = match shape.map(|field| &field.shape) {
                Some(Shape::Table(_, fields)) => self.nested(below, value, &fields()),
                Some(Shape::List(item)) => self.list(below, value, item),
                _ => value.clone(),
            };
            // The key too is the upper one, for its place.
            laid.remove(key.get_ref().as_ref());
            laid.insert(key.clone(), value);
        }
        laid
    }

    fn nested<'a>(
        &mut self,
        lower: Option<&Spanned<DeValue<'a>>>,
        upper: &Spanned<DeValue<'a>>,
        fields: &[Field],
    ) -> Spanned<DeValue<'a>> {
        let empty = Spanned::new(upper.span(), DeValue::Table(DeTable::new()));
        let lower = lower.unwrap_or(&empty);
        self.over(&Pair { lower, upper }, fields)
    }

    fn over<'a>(&mut self, pair: &Pair<'_, 'a>, fields: &[Field]) -> Spanned<DeValue<'a>> {
        let Pair { lower, upper } = pair;
        let tables = lower.get_ref().as_table().zip(upper.get_ref().as_table());
        // Where no table stands, the reader says so.
        let Some((below, above)) = tables else {
            return (*upper).clone();
        };
        self.moved
            .insert(self.span(upper.span()), self.span(lower.span()));
        let laid = self.table(below, above, fields);
        Spanned::new(upper.span(), DeValue::Table(laid))
    }

    fn list<'a>(
        &mut self,
        lower: Option<&Spanned<DeValue<'a>>>,
        upper: &Spanned<DeValue<'a>>,
        item: &Shape,
    ) -> Spanned<DeValue<'a>> {
        let Shape::Table(name, fields) = item else {
            return upper.clone();
        };
        let fields = fields();
        let (Some(identity), Some(entries)) = (Identity::of(&fields), upper.get_ref().as_array())
        else {
            return upper.clone();
        };
        let below = lower.and_then(|lower| lower.get_ref().as_array());
        let list = List {
            name,
            fields: &fields,
            identity,
            lower: below.map_or(&[], |array| array),
        };
        let entries = self.entries(&list, entries);
        let array: DeArray<'_> = entries.into_iter().collect();
        Spanned::new(upper.span(), DeValue::Array(array))
    }

    fn entries<'a>(
        &mut self,
        list: &List<'_, 'a>,
        upper: &DeArray<'a>,
    ) -> Vec<Spanned<DeValue<'a>>> {
        let mut kept: Vec<Option<Spanned<DeValue<'a>>>> =
            list.lower.iter().cloned().map(Some).collect();
        let mut added = Vec::new();
        let mut told: BTreeMap<usize, Span> = BTreeMap::new();
        for entry in upper {
            let span = self.span(entry.span());
            match self.place(list, entry) {
                Place::Nowhere => {}
                Place::New => added.push(without(entry, &[REMOVE, UNSET])),
                Place::At(position) => {
                    if let Some(first) = told.insert(position, span) {
                        let reason = format!("this {} is changed a second time", list.name);
                        let help = "put all its changes under one header";
                        let problem = Problem::contradiction_with_help(reason, help);
                        let mistake = Diagnostic::new(problem, span);
                        self.mistakes
                            .push(mistake.with_related(first, "first changed here"));
                        continue;
                    }
                    let lower = list.lower.get(position);
                    let changed = lower.and_then(|lower| self.changed(list, lower, entry));
                    if let Some(kept) = kept.get_mut(position) {
                        *kept = changed;
                    }
                }
            }
        }
        kept.into_iter().flatten().chain(added).collect()
    }

    /// Which entry of the lower list is meant.
    fn place(&mut self, list: &List<'_, '_>, entry: &Spanned<DeValue<'_>>) -> Place {
        let Some(table) = entry.get_ref().as_table() else {
            return Place::New;
        };
        let span = self.span(entry.span());
        let Some(wanted) = list.identity.read(table) else {
            return match list.identity.lacking(table) {
                Some(key) => {
                    let problem = Problem::MissingKey {
                        key,
                        table: list.name,
                        expected: format!("that of the {} to change or to add", list.name),
                    };
                    self.mistakes.push(Diagnostic::new(problem, span));
                    Place::Nowhere
                }
                // What stands there is no text; the reader says so.
                None => Place::New,
            };
        };
        let lower = list.lower.iter().map(|entry| {
            let table = entry.get_ref().as_table();
            table.and_then(|table| list.identity.read(table))
        });
        let known: Vec<Option<String>> = lower.collect();
        let mut alike = known.iter().enumerate();
        let found = alike.find(|(_, name)| name.as_ref() == Some(&wanted));
        if let Some((position, _)) = found {
            let twice = alike.any(|(_, name)| name.as_ref() == Some(&wanted));
            if twice && list.identity == Identity::Ends {
                let reason = format!("the job has more than one {} {wanted}", list.name);
                let help =
                    "part them with a place of their own, so that it is clear which one changes";
                let problem = Problem::contradiction_with_help(reason, help);
                self.mistakes.push(Diagnostic::new(problem, span));
                return Place::Nowhere;
            }
            return Place::At(position);
        }
        let missing = required(list.fields, table);
        if missing.is_empty() && !is_removed(table) {
            return Place::New;
        }
        let known = known.iter().flatten().map(String::as_str);
        let problem = Problem::NothingToChange {
            table: list.name,
            nearest: nearest(&wanted, known).map(|name| list.identity.told(name)),
            name: list.identity.told(&wanted),
            missing: match is_removed(table) {
                true => String::new(),
                false => missing.join(", "),
            },
        };
        let place = list.identity.span(table).unwrap_or(entry.span());
        let place = self.span(place);
        self.mistakes.push(Diagnostic::new(problem, place));
        Place::Nowhere
    }

    /// The entry with its changes; `None` when it is taken away.
    fn changed<'a>(
        &mut self,
        list: &List<'_, 'a>,
        lower: &Spanned<DeValue<'a>>,
        upper: &Spanned<DeValue<'a>>,
    ) -> Option<Spanned<DeValue<'a>>> {
        if upper.get_ref().as_table().is_some_and(is_removed) {
            return None;
        }
        let mut own = vec![REMOVE];
        own.extend(list.identity.keys());
        let upper = &without(upper, &own);
        Some(self.over(&Pair { lower, upper }, list.fields))
    }

    fn unset(&mut self, laid: &mut DeTable<'_>, keys: &Spanned<DeValue<'_>>, fields: &[Field]) {
        let Some(list) = keys.get_ref().as_array() else {
            self.wrong_list(keys);
            return;
        };
        for key in list {
            let Some(name) = key.get_ref().as_str() else {
                self.wrong_list(key);
                continue;
            };
            let known: Vec<&str> = fields.iter().map(|field| field.key).collect();
            if !known.contains(&name) {
                let problem = Problem::UnknownWord {
                    word: name.to_owned(),
                    wanted: "a key of this table",
                    nearest: nearest(name, known.iter().copied()).map(str::to_owned),
                    known: known.join(", "),
                };
                let span = self.span(key.span());
                self.mistakes.push(Diagnostic::new(problem, span));
            }
            laid.remove(name);
        }
    }

    fn wrong_list(&mut self, value: &Spanned<DeValue<'_>>) {
        let problem = Problem::WrongType {
            expected: "a list of keys such as [\"panel\", \"panel_at\"]".to_owned(),
            found: super::value::plain_type(value.get_ref()),
        };
        let span = self.span(value.span());
        self.mistakes.push(Diagnostic::new(problem, span));
    }

    fn span(&self, range: std::ops::Range<usize>) -> Span {
        Span::new(self.source, range)
    }
}

/// A list of tables that are told apart.
struct List<'t, 'a> {
    name: &'static str,
    fields: &'t [Field],
    identity: Identity,
    lower: &'t [Spanned<DeValue<'a>>],
}

/// Where an upper entry belongs.
enum Place {
    /// It changes the lower entry at this position.
    At(usize),
    /// It is added.
    New,
    /// It is wrong, which was told.
    Nowhere,
}

fn is_removed(table: &DeTable<'_>) -> bool {
    let remove = table
        .get(REMOVE)
        .and_then(|value| value.get_ref().as_bool());
    remove == Some(true)
}

/// An entry without keys that are not to be laid over.
fn without<'a>(entry: &Spanned<DeValue<'a>>, keys: &[&str]) -> Spanned<DeValue<'a>> {
    let mut entry = entry.clone();
    if let DeValue::Table(table) = entry.get_mut() {
        for key in keys {
            table.remove(*key);
        }
    }
    entry
}
