//! Battery terminals: clamps with a stud, for tapered posts.

use super::NearMiss;
use super::choose::{Lacks, choose, in_words};
use super::currents::Passing;
use super::ledger::Ledger;
use super::site::Site;
use super::studs::StudsOfLugs;
use super::words::{amps, practice, source_of};
use crate::catalog::{BatteryTerminal, Polarity, StudMaterial};
use crate::check::{Check, CheckRule};
use crate::job::{Stud, TerminalId};
use crate::quantity::Current;

/// The battery terminal of one post.
#[derive(Debug)]
pub(super) struct PostPlan<'a> {
    /// The post.
    pub terminal: TerminalId,
    /// The part, where one fits.
    pub part: Option<&'a BatteryTerminal>,
}

/// What a battery terminal must do.
struct Task<'a> {
    site: Site<'a>,
    name: &'a str,
    pole: Polarity,
    passing: Passing,
    largest_lead: Current,
    lugs_for: StudsOfLugs,
}

/// Chooses a battery terminal for every tapered post that a lead lands on.
pub(super) fn fit<'a>(site: Site<'a>, ledger: &mut Ledger) -> Vec<PostPlan<'a>> {
    let mut plans = Vec::new();
    for (index, terminal) in site.job.terminals.iter().enumerate() {
        let id = TerminalId(index);
        let (Stud::Post, Some(pole)) = (terminal.stud, terminal.pole) else {
            continue;
        };
        if site.landings_on(id).is_empty() {
            continue;
        }
        let task = Task {
            site,
            name: &terminal.name,
            pole,
            passing: site.passing_terminal(id),
            largest_lead: site.largest_lead_on(id),
            lugs_for: StudsOfLugs::of(site.catalog, &site.cables_on(id)),
        };
        let part = task.fit(ledger);
        plans.push(PostPlan { terminal: id, part });
    }
    plans
}

impl<'a> Task<'a> {
    fn fit(&self, ledger: &mut Ledger) -> Option<&'a BatteryTerminal> {
        let rank = |part: &BatteryTerminal| {
            let foreign = self.site.foreign(part.stud);
            [foreign, part.rating.a(), part.intermittent.a()]
        };
        let rows = &self.site.catalog.battery_terminals;
        match choose(rows, |part, lacks| self.judge(part, lacks), rank) {
            Ok(part) => {
                ledger.need(part, 1, format!("post `{}`", self.name));
                self.check(part, ledger);
                Some(part)
            }
            Err(nearest) => {
                self.failed(nearest, ledger);
                None
            }
        }
    }

    fn judge(&self, part: &BatteryTerminal, lacks: &mut Lacks) {
        let passing = self.passing;
        lacks.unless(part.polarity == self.pole, || {
            format!("it is for the {} post", part.polarity)
        });
        lacks.at_least(part.rating.a(), passing.continuous.a(), || {
            let (has, needs) = (amps(part.rating), amps(passing.continuous));
            format!("it carries {has} for hours, {needs} pass the post")
        });
        lacks.at_least(part.intermittent.a(), passing.short.a(), || {
            let (has, needs) = (amps(part.intermittent), amps(passing.short));
            format!("it carries {has} for a short time, {needs} pass the post")
        });
        // A stud that no table knows is judged, and left open, at the joint.
        if let Some(row) = self.site.catalog.stud(part.stud, StudMaterial::Steel) {
            lacks.at_least(row.current.a(), self.largest_lead.a(), || {
                let (has, needs) = (amps(row.current), amps(self.largest_lead));
                format!(
                    "its {} stud carries {has}, a lead brings {needs}",
                    part.stud
                )
            });
        }
        self.lugs_for.exist(part.stud, lacks);
    }

    fn check(&self, part: &BatteryTerminal, ledger: &mut Ledger) {
        let source = source_of(part);
        for (value, most, what) in [
            (self.passing.continuous, part.rating, "continuous current"),
            (self.passing.short, part.intermittent, "short-time current"),
        ] {
            let (rule, limit) = (CheckRule::StudCurrent, source.map(|()| most.a()));
            let check = Check::at_most(rule, self.name, value.a(), &limit, "A");
            let note = format!("{what} through the battery terminal");
            ledger.checks.push(check.with_note(note));
        }
    }

    fn failed(&self, nearest: Vec<NearMiss>, ledger: &mut Ledger) {
        let note = format!(
            "no battery terminal fits; {}. Spread the leads over a bus, or use a battery with studs",
            in_words(&nearest)
        );
        let check = Check::holds(CheckRule::StudCurrent, self.name, false, &practice());
        ledger.checks.push(check.with_note(note));
        let wanted = format!(
            "a battery terminal for the {} post `{}`, {} for hours and {} for a short time",
            self.pole,
            self.name,
            amps(self.passing.continuous),
            amps(self.passing.short)
        );
        ledger.misfit(wanted, nearest);
    }
}
