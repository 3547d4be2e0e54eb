//! Alternators and converters of the job file as written.

use super::file::Name;
use super::words::ConverterKind;
use crate::diagnostic::Spanned;
use crate::file::table;
use crate::quantity::{Current, Ratio, Thread, Voltage};

table! {
    /// An alternator. Its terminals are `NAME +` and, unless its case is the return, `NAME -`.
    pub struct AlternatorFile as "alternator" {
        /// Its name.
        name: Name,
        /// Where it sits.
        place: Name,
        /// Voltage it is regulated to.
        regulated: Spanned<Voltage>,
        /// Most current it gives, cold and at full speed.
        limit: Current,
        /// Most current it gives while the engine idles; a part of `limit` by the catalog when absent.
        limit_idle: Option<Current>,
        /// What is left of it on the hottest day, in percent; the catalog's figure when absent.
        hot_output: Option<Ratio>,
        /// Thread of its terminals.
        stud: Thread,
        /// The chassis point that its case is bolted to, when the case is the return.
        case: Option<Name>,
    }
}

table! {
    /// A converter. Its terminals are `NAME in +`, `NAME out +` and, unless its case is the return, `NAME -`; an isolated one has `NAME in -` and `NAME out -` instead.
    pub struct ConverterFile as "converter" {
        /// Its name.
        name: Name,
        /// Where it is mounted.
        place: Name,
        /// What it is for.
        kind: ConverterKind,
        /// Voltage that it gives out.
        output: Voltage,
        /// Most current that it gives out.
        limit: Current,
        /// Part of the power taken in that it gives out, in percent; the catalog's figure when absent.
        efficiency: Option<Ratio>,
        /// Whether input and output have no terminal in common.
        isolated: bool = "false",
        /// Thread of its terminals.
        stud: Thread,
        /// The chassis point that its case is bolted to, when the case is the return.
        case: Option<Name>,
    }
}
