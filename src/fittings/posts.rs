//! Battery terminals: clamps with a stud, for tapered posts.

use super::choose::{Lacks, choose, in_words};
use super::ledger::Ledger;
use super::site::Site;
use super::studs::StudsOfLugs;
use super::words::{amps, practice, source_of};
use crate::catalog::{BatteryTerminal, Cited, Polarity, StudMaterial};
use crate::check::{Check, CheckRule};
use crate::job::{Stud, Terminal, TerminalId};

/// The battery terminal of one post.
#[derive(Debug)]
pub(super) struct PostPlan<'a> {
    /// The post.
    pub terminal: TerminalId,
    /// The part, where one fits.
    pub part: Option<&'a BatteryTerminal>,
}

/// Chooses a battery terminal for every tapered post that a lead lands on.
pub(super) fn fit<'a>(site: Site<'a>, ledger: &mut Ledger) -> Vec<PostPlan<'a>> {
    let mut plans = Vec::new();
    for (index, terminal) in site.job.terminals.iter().enumerate() {
        let id = TerminalId(index);
        let (Stud::Post, Some(pole)) = (terminal.stud, terminal.pole) else {
            continue;
        };
        if !site.landings_on(id).is_empty() {
            let part = fit_post(site, id, terminal, pole, ledger);
            plans.push(PostPlan { terminal: id, part });
        }
    }
    plans
}

fn fit_post<'a>(
    site: Site<'a>,
    id: TerminalId,
    terminal: &Terminal,
    pole: Polarity,
    ledger: &mut Ledger,
) -> Option<&'a BatteryTerminal> {
    let (passing, name) = (site.passing_terminal(id), &terminal.name);
    let lead = site.largest_lead_on(id);
    let lugs_for = StudsOfLugs::of(site.catalog, &site.cables_on(id));
    let lacks = |part: &BatteryTerminal| {
        let mut lacks = Lacks::default();
        lacks.unless(part.polarity == pole, || {
            format!("it is for the {} post", part.polarity)
        });
        lacks.at_least(part.rating.a(), passing.continuous.a(), || {
            let (has, needs) = (amps(part.rating), amps(passing.continuous));
            format!("it carries {has} for hours, the battery gives {needs}")
        });
        lacks.at_least(part.intermittent.a(), passing.short.a(), || {
            let (has, needs) = (amps(part.intermittent), amps(passing.short));
            format!("it carries {has} for a short time, the battery gives {needs}")
        });
        let row = site.catalog.stud(part.stud, StudMaterial::Steel);
        lacks.unless(row.is_none_or(|row| row.current >= lead), || {
            format!("its {} stud does not carry {}", part.stud, amps(lead))
        });
        lugs_for.exist(part.stud, &mut lacks);
        lacks
    };
    let rank = |part: &BatteryTerminal| {
        [
            site.foreign(part.stud),
            part.rating.a(),
            part.intermittent.a(),
        ]
    };
    match choose(&site.catalog.battery_terminals, lacks, rank) {
        Ok(part) => {
            ledger.need(part, 1, format!("post `{name}`"));
            let source = source_of(part);
            let (continuous, short) = (passing.continuous.a(), passing.short.a());
            ledger.checks.extend(
                [
                    (continuous, part.rating.a()),
                    (short, part.intermittent.a()),
                ]
                .map(|(value, limit)| at_most(name, value, &source.map(|()| limit))),
            );
            Some(part)
        }
        Err(nearest) => {
            let note = format!(
                "no battery terminal fits; {}. Spread the leads over a bus, or use a battery with studs",
                in_words(&nearest)
            );
            let check = Check::holds(CheckRule::StudCurrent, name, false, &practice());
            ledger.checks.push(check.with_note(note));
            let wanted = format!(
                "a battery terminal for the {pole} post `{name}`, {} for hours and {} for a short time",
                amps(passing.continuous),
                amps(passing.short)
            );
            ledger.misfit(wanted, nearest);
            None
        }
    }
}

fn at_most(name: &str, value: f64, limit: &Cited<f64>) -> Check {
    Check::at_most(CheckRule::StudCurrent, name, value, limit, "A")
        .with_note("current through the battery terminal")
}
