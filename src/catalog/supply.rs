//! A catalog in which some parts are not to be had, or are taken before others.

use super::{Catalog, Part};

/// Runs over the rows of every kind of part.
macro_rules! each_kind {
    ($catalog:ident, |$rows:ident| $do:expr) => {
        each_kind!(@ $catalog, $rows, $do, cables lugs sleeves boots battery_terminals buses
            feed_throughs grommets clamps fasteners breakers fuses holders switches contactors
            connectors enclosures vents sleevings labels consumables dies tools)
    };
    (@ $catalog:ident, $rows:ident, $do:expr, $($kind:ident)+) => {
        $( { let $rows = &mut $catalog.$kind; $do } )+
    };
}

impl Catalog {
    /// The catalog without the parts that `lacks` names.
    #[must_use]
    pub fn without(mut self, lacks: impl Fn(&str) -> bool) -> Self {
        each_kind!(self, |rows| rows.retain(|row| !lacks(row.id())));
        self
    }

    /// The catalog with the parts that `preferred` names taken before others that fit as well.
    #[must_use]
    pub fn preferring(mut self, preferred: impl Fn(&str) -> bool) -> Self {
        each_kind!(self, |rows| rows
            .iter_mut()
            .for_each(|row| row.preferred |= preferred(row.id())));
        self
    }
}
