//! How one shops: in which order, what is better borrowed, what is easily forgotten.

use super::{Basis, Catalog, PartKind, ToolUse};
use crate::diagnostic::Spanned;
use crate::file::{table, words};

table! {
    /// A stretch of a shop, or of a supplier's pages, in the order in which one fills a basket.
    pub struct Aisle as "aisle" {
        /// Its place among the aisles; each has one of its own.
        place: Spanned<u32>,
        /// What stands over it on the list.
        name: String,
        /// The kinds of parts found there.
        kinds: Vec<PartKind>,
        /// Publication, or the reasoning.
        citation: String,
        /// How far it can be trusted.
        basis: Basis,
    }
}

words! {
    /// How to come by a tool that is not owned.
    pub enum Lending as "a way to come by a tool" {
        /// Buy it: it is cheap, or needed at every job.
        Buy = "buy",
        /// Borrow or hire it: it is dear, and seldom needed.
        Borrow = "borrow or hire",
    }
}

table! {
    /// Advice on how to come by a tool that is not owned.
    pub struct LendingRow as "lending row" {
        /// What the tool is for; a die goes with its press.
        purpose: ToolUse,
        /// The advice.
        advice: Lending,
        /// Why.
        reason: String,
        /// Publication, or the words `judgement`.
        citation: String,
        /// How far it can be trusted.
        basis: Basis,
    }
}

table! {
    /// Something that is easily forgotten.
    pub struct Reminder as "reminder" {
        /// Its place among the reminders; each has one of its own.
        place: Spanned<u32>,
        /// What to think of; `{part}` is the part of `spare_of` that the job uses most of.
        text: String,
        /// For jobs that use a part of one of these kinds; for all when none is named.
        with_kinds: Vec<PartKind>,
        /// A kind of part of which some should be to spare.
        spare_of: Option<PartKind>,
        /// How many of them; where the packs hold that many more than are needed, nothing is said.
        spares: u32 = "1",
        /// Nothing is said where something on the list, on the shelf or among the tools has one of these words in it.
        already: Vec<String>,
        /// Publication, or the reasoning.
        citation: String,
        /// How far it can be trusted.
        basis: Basis,
    }
}

impl Catalog {
    /// The aisle of a kind of part, where there is one.
    pub fn aisle(&self, kind: PartKind) -> Option<&Aisle> {
        self.aisles.iter().find(|row| row.kinds.contains(&kind))
    }

    /// How to come by a tool, by its id; a die goes with its press.
    pub fn lending(&self, id: &str) -> Option<&LendingRow> {
        let die = self.dies.iter().find(|row| *row.id == id);
        let id = die.map_or(id, |die| die.press.as_str());
        let tool = self.tools.iter().find(|row| *row.id == id)?;
        self.lendings.iter().find(|row| row.purpose == tool.purpose)
    }
}
