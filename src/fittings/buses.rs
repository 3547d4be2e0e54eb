//! Buses: the block, and which lead goes on which stud.

use super::choose::{Lacks, choose, in_words};
use super::fasteners;
use super::ledger::Ledger;
use super::site::{Landing, Site};
use super::studs::StudsOfLugs;
use super::words::{amps, practice, source_of, told};
use super::{FittedBus, currents::Passing};
use crate::catalog::Bus;
use crate::check::{Check, CheckRule};
use crate::job::{Bus as JobBus, TerminalId};
use crate::quantity::Current;

/// A bus with its part and its studs.
#[derive(Debug)]
pub(super) struct BusPlan<'a> {
    /// Its terminal in the job.
    pub terminal: TerminalId,
    /// The part, where one fits or the user fixed one.
    pub part: Option<&'a Bus>,
    /// The ends on each stud.
    studs: Vec<Vec<Landing>>,
}

impl BusPlan<'_> {
    /// Position of the stud that an end goes on.
    pub fn stud_of(&self, landing: &Landing) -> usize {
        let stud = self.studs.iter().position(|stud| stud.contains(landing));
        stud.unwrap_or(0)
    }

    /// As it is told to later stages.
    pub fn fitted(&self, site: Site<'_>) -> FittedBus {
        let terminal = site.job.terminal(self.terminal);
        let names = |stud: &Vec<Landing>| {
            let leads = stud.iter().map(|landing| site.name(landing.lead));
            leads.map(str::to_owned).collect()
        };
        FittedBus {
            name: terminal.name.clone(),
            place: terminal.place,
            part: self.part.map(|part| part.id.value.clone()),
            stud: self.part.map(|part| part.stud),
            studs: self.studs.iter().map(names).collect(),
        }
    }
}

/// What a bus must do.
struct Duty {
    lugs: usize,
    passing: Passing,
    largest_lead: Current,
    lugs_for: StudsOfLugs,
}

/// Chooses every bus and spreads the leads over its studs.
pub(super) fn fit<'a>(site: Site<'a>, ledger: &mut Ledger) -> Vec<BusPlan<'a>> {
    let buses = site.job.buses.iter();
    buses.map(|bus| fit_bus(site, bus, ledger)).collect()
}

fn fit_bus<'a>(site: Site<'a>, bus: &JobBus, ledger: &mut Ledger) -> BusPlan<'a> {
    let landings = site.landings_on(bus.terminal);
    let duty = Duty {
        lugs: landings.len(),
        passing: site.passing_terminal(bus.terminal),
        largest_lead: site.largest_lead_on(bus.terminal),
        lugs_for: StudsOfLugs::of(site.catalog, &site.cables_on(bus.terminal)),
    };
    let name = &bus.given.name.value;
    let part = match bus.given.part.fixed() {
        Some(id) => site.catalog.buses.iter().find(|row| *row.id == id.value),
        None => choose_bus(site, name, &duty, ledger),
    };
    if let Some(part) = part {
        ledger.need(part, 1, format!("bus `{name}`"));
        fasteners::mount(
            site,
            part.mount,
            part.mounts,
            &format!("bus `{name}`"),
            ledger,
        );
        check(site, name, part, &duty, ledger);
    }
    BusPlan {
        terminal: bus.terminal,
        part,
        studs: spread(site, landings, part),
    }
}

/// The smallest bus with a stud for every lug; one with shared studs only where there is none.
fn choose_bus<'a>(site: Site<'a>, name: &str, duty: &Duty, ledger: &mut Ledger) -> Option<&'a Bus> {
    let rank = |bus: &Bus| [site.foreign(bus.stud), bus.rating.a(), f64::from(bus.studs)];
    let rows = &site.catalog.buses;
    let single = choose(
        rows,
        |bus, lacks| judge(site, bus, duty, duty.lugs, lacks),
        rank,
    );
    let chosen = single.or_else(|_| {
        let studs = duty.lugs.div_ceil(lugs_allowed(site));
        choose(
            rows,
            |bus, lacks| judge(site, bus, duty, studs, lacks),
            rank,
        )
    });
    match chosen {
        Ok(bus) => Some(bus),
        Err(nearest) => {
            let note = format!(
                "no bus fits; {}. Split the leads over two buses",
                in_words(&nearest)
            );
            let check = Check::holds(CheckRule::Bus, name, false, &practice());
            ledger.checks.push(check.with_note(note));
            let wanted = format!(
                "a bus for {} lugs, {} for hours and {} for a short time, for `{name}`",
                duty.lugs,
                amps(duty.passing.continuous),
                amps(duty.passing.short)
            );
            ledger.misfit(wanted, nearest);
            None
        }
    }
}

fn lugs_allowed(site: Site<'_>) -> usize {
    (site.job.rules.lugs_per_stud.value as usize).max(1)
}

fn spare(site: Site<'_>) -> usize {
    site.job.rules.spare_studs.value as usize
}

fn judge(site: Site<'_>, bus: &Bus, duty: &Duty, studs: usize, lacks: &mut Lacks) {
    let studs = studs + spare(site);
    lacks.at_least(f64::from(bus.studs), studs as f64, || {
        format!("it has {} studs, {studs} are needed", bus.studs)
    });
    let passing = duty.passing;
    lacks.at_least(bus.rating.a(), passing.continuous.a(), || {
        let (has, needs) = (amps(bus.rating), amps(passing.continuous));
        format!("it carries {has} for hours, {needs} pass through it")
    });
    lacks.at_least(bus.intermittent.a(), passing.short.a(), || {
        let (has, needs) = (amps(bus.intermittent), amps(passing.short));
        format!("it carries {has} for a short time, {needs} pass through it")
    });
    match site.catalog.stud(bus.stud, bus.material) {
        Some(row) => lacks.at_least(row.current.a(), duty.largest_lead.a(), || {
            let (has, needs) = (amps(row.current), amps(duty.largest_lead));
            format!(
                "a {} stud {} carries {has}, the largest lead brings {needs}",
                bus.material, bus.stud
            )
        }),
        None => lacks.unless(false, || {
            format!(
                "no current is known for a {} stud {}",
                bus.material, bus.stud
            )
        }),
    }
    duty.lugs_for.exist(bus.stud, lacks);
}

fn check(site: Site<'_>, name: &str, bus: &Bus, duty: &Duty, ledger: &mut Ledger) {
    let rules = &site.job.rules;
    let least = duty.lugs.div_ceil(lugs_allowed(site)) + spare(site);
    let needed = rules.spare_studs.map(|_| least as f64);
    let studs = Check::at_least(CheckRule::Bus, name, f64::from(bus.studs), &needed, "");
    let lugs = duty.lugs;
    let about = format!("studs for {lugs} lugs, with {} kept free", spare(site));
    let cure = "take a bus with more studs, or split the leads over two";
    ledger.checks.push(told(studs, &about, cure));
    let source = source_of(bus);
    let currents = [
        (duty.passing.continuous, bus.rating, "continuous current"),
        (duty.passing.short, bus.intermittent, "short-time current"),
    ];
    for (value, limit, what) in currents {
        let limit = source.map(|()| limit.a());
        let check = Check::at_most(CheckRule::Bus, name, value.a(), &limit, "A");
        let cure = "take a larger bus, or feed part of its leads from elsewhere";
        let about = format!("{what} through the block");
        ledger.checks.push(told(check, &about, cure));
    }
}

/// Thickest cables first, one to a stud; what is left over joins the thinnest.
fn spread(site: Site<'_>, mut landings: Vec<Landing>, part: Option<&Bus>) -> Vec<Vec<Landing>> {
    let area = |landing: &Landing| site.sized(landing.lead).map_or(0.0, |sized| sized.area_mm2);
    landings.sort_by(|a, b| area(b).total_cmp(&area(a)));
    let Some(part) = part else {
        return landings.into_iter().map(|landing| vec![landing]).collect();
    };
    let all = (part.studs as usize).max(1);
    let least = landings.len().div_ceil(lugs_allowed(site));
    let kept_free = all.saturating_sub(spare(site));
    // A bus that is too small for the rule uses the studs that it should keep free.
    let usable = if kept_free >= least.max(1) {
        kept_free
    } else {
        all
    };
    let mut studs = vec![Vec::new(); all];
    for (index, landing) in landings.into_iter().enumerate() {
        let (round, position) = (index / usable, index % usable);
        let stud = if round == 0 {
            position
        } else {
            usable - 1 - position
        };
        if let Some(stud) = studs.get_mut(stud) {
            stud.push(landing);
        }
    }
    studs
}
