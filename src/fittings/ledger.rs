//! What the work takes, gathered while it is found out.

use super::choose::in_words;
use super::{Amount, Misfit, NearMiss, Need};
use crate::catalog::{Colour, Part};
use crate::check::{Check, CheckRule};
use crate::quantity::{Length, Thread};

/// What the work takes, as it is found out.
#[derive(Debug, Default)]
pub(super) struct Ledger {
    /// Parts, one row a use.
    pub needs: Vec<Need>,
    /// What could not be fitted.
    pub misfits: Vec<Misfit>,
    /// Verdicts.
    pub checks: Vec<Check>,
    /// Holes to drill.
    pub holes: Vec<Hole>,
    /// Threads whose nuts are turned.
    pub threads: Vec<Thread>,
    /// Widths across the flats of bolt heads that are turned.
    pub flats: Vec<Length>,
    /// Ids of the dies used.
    pub dies: Vec<String>,
    /// Whether a screw is driven.
    pub screws: bool,
    /// Whether a rivet nut is set.
    pub rivet_nuts: bool,
}

/// A hole to drill.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Hole {
    /// Its diameter.
    pub diameter: Length,
    /// Whether it is in steel, which rusts.
    pub steel: bool,
}

impl Ledger {
    /// Notes pieces of a part.
    pub fn need(&mut self, part: &dyn Part, pieces: u32, purpose: impl Into<String>) {
        self.need_in(part, None, Amount::Pieces(pieces), purpose);
    }

    /// Notes an amount of a part in a colour.
    pub fn need_in(
        &mut self,
        part: &dyn Part,
        colour: Option<Colour>,
        amount: Amount,
        purpose: impl Into<String>,
    ) {
        self.needs.push(Need {
            part: part.id().to_owned(),
            kind: part.kind(),
            colour,
            amount,
            purpose: purpose.into(),
        });
    }

    /// Notes something that nothing fits and that no other check asks for, once.
    pub fn lack(&mut self, wanted: impl Into<String>, nearest: Vec<NearMiss>) {
        let wanted = wanted.into();
        if !self.misfits.iter().any(|misfit| misfit.wanted == wanted) {
            let check = Check::open(CheckRule::Supply, &wanted, &in_words(&nearest));
            self.checks.push(check);
        }
        self.misfit(wanted, nearest);
    }

    /// Notes something that nothing fits, once.
    pub fn misfit(&mut self, wanted: impl Into<String>, nearest: Vec<NearMiss>) {
        let wanted = wanted.into();
        if !self.misfits.iter().any(|misfit| misfit.wanted == wanted) {
            self.misfits.push(Misfit { wanted, nearest });
        }
    }
}
