//! Sources, notes and figures in words.

use crate::catalog::{Basis, Cited, Part};
use crate::check::{Check, Verdict};
use crate::quantity::{Current, Length, Temperature};

/// The source of a part's own figures. They are the maker's.
pub(super) fn source_of(part: &dyn Part) -> Cited<()> {
    Cited {
        value: (),
        citation: part.source().to_owned(),
        basis: Basis::User,
    }
}

/// What the trade does, with no single source.
pub(super) fn practice() -> Cited<()> {
    Cited {
        value: (),
        citation: "common practice".to_owned(),
        basis: Basis::CommonPractice,
    }
}

/// A demand of the setting; one that the setting is silent on is kept as common practice.
pub(super) fn demand(rule: Option<&Cited<bool>>) -> Cited<bool> {
    rule.cloned().unwrap_or_else(|| practice().map(|()| true))
}

/// Says what a check is about and, where it fails, what would cure it.
pub(super) fn told(check: Check, about: &str, cure: &str) -> Check {
    let note = match check.verdict {
        Verdict::Fail => format!("{about}; {cure}"),
        Verdict::Pass | Verdict::Open => about.to_owned(),
    };
    check.with_note(note)
}

/// In millimetres, to a tenth.
pub(super) fn mm(length: Length) -> String {
    format!("{} mm", tenths(length.mm()))
}

/// In amperes, to a tenth.
pub(super) fn amps(current: Current) -> String {
    format!("{} A", tenths(current.a()))
}

/// In degrees Celsius, to a tenth.
pub(super) fn celsius(temperature: Temperature) -> String {
    format!("{} °C", tenths(temperature.c()))
}

fn tenths(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}
