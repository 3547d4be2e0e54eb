//! Dead shorts as networks of their own, for a general circuit simulator.

use std::collections::BTreeSet;

use serde::Serialize;

use super::TerminalVolts;
use super::deck::deck;
use super::fault::Faults;
use super::operate::terminal_volts;
use super::shorts::{Short, Shorts};
use super::wiring::Wiring;
use crate::job::{Job, LeadId};
use crate::quantity::Length;

/// A dead short with its network written for a general circuit simulator.
#[derive(Debug, Clone)]
pub struct ShortDeck {
    /// The short, solved.
    pub short: ShortResult,
    /// The deck.
    pub text: String,
}

/// A dead short, solved.
#[derive(Debug, Clone, Serialize)]
pub struct ShortResult {
    /// Its name.
    pub name: String,
    /// Amperes through it that batteries drive.
    pub amps: f64,
    /// Volts at every terminal while it lasts.
    pub terminals: Vec<TerminalVolts>,
}

/// The shorts that decide the largest and the smallest current at points of leads.
pub fn short_decks(wiring: &Wiring<'_>, points: &[(LeadId, Length)]) -> Vec<ShortDeck> {
    let faults = Faults::of(wiring);
    let mut known = BTreeSet::new();
    let mut decks = Vec::new();
    for (lead, at) in points {
        let spot = faults.at(wiring, *lead, *at);
        let place = format!(
            "short of {} at {:.3} m",
            wiring.job.lead(*lead).name,
            at.m()
        );
        for (size, shorts, short) in faults.deciding(&spot) {
            let name = format!("{place}, {size} current");
            if known.insert(name.clone()) {
                decks.push(short_deck(wiring.job, name, shorts, short));
            }
        }
    }
    decks
}

fn short_deck(job: &Job, name: String, shorts: &Shorts, short: &Short) -> ShortDeck {
    let network = shorts.network_under(short);
    let volts = shorts.volts_under(short);
    ShortDeck {
        text: deck(job, &name, &network, &volts, shorts.references()),
        short: ShortResult {
            name,
            amps: short.amps,
            terminals: terminal_volts(job, &volts),
        },
    }
}
