//! What a shop file says about prices for customers.

use crate::catalog::PartKind;
use crate::diagnostic::Spanned;
use crate::file::table;
use crate::quantity::{Markup, Money};

use super::words::Workplace;

table! {
    /// A rate for labour of its own.
    pub struct RateFile as "rate" {
        /// Its name, for the costing: "workshop", "mobile".
        name: Spanned<String>,
        /// Price of one hour, before tax.
        hour: Spanned<Money>,
        /// What the hour costs the workshop; `labour_cost` when absent.
        cost: Option<Spanned<Money>>,
        /// The work that it is for.
        work: Vec<Workplace>,
    }
}

table! {
    /// A markup for some kinds of parts.
    pub struct MarkupFile as "markup" {
        /// The kinds.
        kinds: Vec<PartKind>,
        /// What is added to their cost.
        markup: Markup,
    }
}

table! {
    /// The head of a quote, and the head and foot of all documents.
    pub struct LetterheadFile as "letterhead" {
        /// Street, town and the like, each a line.
        address: Vec<String>,
        /// Telephone, electronic mail and the like, each a line.
        contact: Vec<String>,
        /// Number under which the workshop pays its taxes.
        tax_number: Option<String>,
        /// What stands at the head of every page of every document.
        header: Option<String>,
        /// What stands at the foot of every page of every document.
        footer: Option<String>,
    }
}
