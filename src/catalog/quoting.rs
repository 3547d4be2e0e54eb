//! How parts and terms stand on a quote.

use super::{Basis, Catalog, PartKind};
use crate::diagnostic::Spanned;
use crate::file::{table, words};

table! {
    /// One line of a quote: parts that a customer reads as one thing.
    pub struct PriceGroup as "price group" {
        /// Its place among the groups; each has one of its own.
        place: Spanned<u32>,
        /// What the customer reads.
        name: String,
        /// The kinds of parts in it.
        kinds: Vec<PartKind>,
        /// Publication, or the reasoning.
        citation: String,
        /// How far it can be trusted.
        basis: Basis,
    }
}

words! {
    /// What a text of a quote is for.
    pub enum QuoteTextUse as "what a text of a quote is for" {
        /// What the price includes.
        Included = "included",
        /// What it does not include.
        NotIncluded = "not included",
        /// Terms of payment.
        Terms = "terms",
        /// What the price rests on.
        Assumption = "assumption",
        /// What the customer should know before saying yes.
        Caution = "caution",
    }
}

table! {
    /// A text of a quote.
    pub struct QuoteText as "quote text" {
        /// What it is for.
        purpose: QuoteTextUse,
        /// Its place among the texts of that purpose; each has one of its own.
        place: Spanned<u32>,
        /// The text.
        text: String,
        /// Publication, or the reasoning.
        citation: String,
        /// How far it can be trusted.
        basis: Basis,
    }
}

impl Catalog {
    /// The group of a kind of part on a quote, where there is one.
    pub fn price_group(&self, kind: PartKind) -> Option<&PriceGroup> {
        self.price_groups
            .iter()
            .find(|row| row.kinds.contains(&kind))
    }

    /// The texts of a quote for a purpose, in their order.
    pub fn quote_texts(&self, purpose: QuoteTextUse) -> Vec<String> {
        let rows = self.quote_texts.iter();
        let mine = rows.filter(|row| row.purpose == purpose);
        mine.map(|row| row.text.clone()).collect()
    }
}
