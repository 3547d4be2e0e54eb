//! Boxes of batteries: size, hold-down and vent.

use super::choose::{Lacks, choose, in_words};
use super::ledger::Ledger;
use super::site::Site;
use super::words::{demand, mm, practice, source_of, told};
use super::{Amount, FittedEnclosure, NearMiss};
use crate::catalog::{Enclosure, Part, Vent};
use crate::check::{Check, CheckRule};
use crate::job::{Battery, Chemistry};
use crate::quantity::Length;

/// Fits the box of every battery that is to have one.
pub(super) fn fit(site: Site<'_>, ledger: &mut Ledger) -> Vec<FittedEnclosure> {
    let batteries = site.job.batteries.iter();
    let boxed = batteries.filter(|battery| battery.given.enclosure != "none");
    boxed
        .map(|battery| fit_box(site, battery, ledger))
        .collect()
}

/// Outer size of a battery.
#[derive(Clone, Copy)]
struct Case {
    length: Length,
    width: Length,
    height: Length,
}

fn fit_box(site: Site<'_>, battery: &Battery, ledger: &mut Ledger) -> FittedEnclosure {
    let given = &battery.given;
    let name = &given.name.value;
    let mut fitted = FittedEnclosure {
        battery: name.clone(),
        place: battery.place,
        part: None,
        vent: None,
    };
    let (Some(length), Some(width), Some(height)) = (given.length, given.width, given.height)
    else {
        let why = "measure the battery: give its `length`, `width` and `height` with terminals";
        ledger
            .checks
            .push(Check::open(CheckRule::Enclosure, name, why));
        return fitted;
    };
    let case = Case {
        length,
        width,
        height,
    };
    let vented = needs_vent(site, battery);
    let part = match given.enclosure.as_str() {
        "auto" => choose_box(site, name, case, vented, ledger),
        id => fixed_box(site, name, id, ledger),
    };
    if let Some(part) = part {
        fitted.part = Some(part.id.value.clone());
        ledger.need(part, 1, format!("box of `{name}`"));
        check_box(site, name, part, case, vented, ledger);
        if vented || given.vent_hose.is_some() {
            fitted.vent = hose(site, battery, part, ledger);
        }
    }
    fitted
}

/// Whether the box must lead gas outside: charging lead-acid gives off hydrogen, and the box stands
/// where people are, where vapour may gather, or in a closed dry space.
fn needs_vent(site: Site<'_>, battery: &Battery) -> bool {
    let rule = demand(site.job.rules.battery_vented.as_ref());
    let space = site.job.space(site.job.place(battery.place).space);
    let outside = space.engine_space || space.wet;
    rule.value
        && battery.given.chemistry != Chemistry::LithiumIronPhosphate
        && (space.occupied || space.vapour || !outside)
}

fn headroom(site: Site<'_>) -> Length {
    site.job.rules.terminal_headroom.value
}

/// Whether the battery stands on the box's floor, either way round.
fn fits_in_plan(part: &Enclosure, case: Case) -> bool {
    let along = part.inner_length >= case.length && part.inner_width >= case.width;
    let across = part.inner_length >= case.width && part.inner_width >= case.length;
    along || across
}

fn choose_box<'a>(
    site: Site<'a>,
    name: &str,
    case: Case,
    vented: bool,
    ledger: &mut Ledger,
) -> Option<&'a Enclosure> {
    let judge = |part: &Enclosure, lacks: &mut Lacks| judge(site, part, case, vented, lacks);
    let volume =
        |part: &Enclosure| part.inner_length.m() * part.inner_width.m() * part.inner_height.m();
    match choose(&site.catalog.enclosures, judge, |part| [volume(part), 0.0]) {
        Ok(part) => Some(part),
        Err(nearest) => {
            no_box(name, case, nearest, ledger);
            None
        }
    }
}

fn no_box(name: &str, case: Case, nearest: Vec<NearMiss>, ledger: &mut Ledger) {
    let note = format!(
        "no box fits the battery; {}. Add a box to the catalog, or take a lower battery",
        in_words(&nearest)
    );
    let check = Check::holds(CheckRule::Enclosure, name, false, &practice());
    ledger.checks.push(check.with_note(note));
    let wanted = format!(
        "a box for `{name}`, {} x {} x {}",
        mm(case.length),
        mm(case.width),
        mm(case.height)
    );
    ledger.misfit(wanted, nearest);
}

fn fixed_box<'a>(
    site: Site<'a>,
    name: &str,
    id: &str,
    ledger: &mut Ledger,
) -> Option<&'a Enclosure> {
    let part = site.catalog.enclosures.iter().find(|part| *part.id == id);
    if part.is_none() {
        let note = format!("the catalog holds no box `{id}`; write `auto` or the id of a box");
        let check = Check::holds(CheckRule::Enclosure, name, false, &practice());
        ledger.checks.push(check.with_note(note));
    }
    part
}

fn judge(site: Site<'_>, part: &Enclosure, case: Case, vented: bool, lacks: &mut Lacks) {
    lacks.unless(fits_in_plan(part, case), || {
        let (length, width) = (mm(part.inner_length), mm(part.inner_width));
        let (long, wide) = (mm(case.length), mm(case.width));
        format!("its floor is {length} x {width}, the battery {long} x {wide}")
    });
    let needed = case.height + headroom(site);
    lacks.at_least(part.inner_height.mm(), needed.mm(), || {
        let (has, needs) = (mm(part.inner_height), mm(needed));
        format!("it is {has} high inside, the battery with terminals and their cover needs {needs}")
    });
    lacks.unless(part.hold_down, || "it has no hold-down".to_owned());
    lacks.unless(part.vented || !vented, || "it has no vent".to_owned());
}

fn check_box(
    site: Site<'_>,
    name: &str,
    part: &Enclosure,
    case: Case,
    vented: bool,
    ledger: &mut Ledger,
) {
    let rules = &site.job.rules;
    let rule = CheckRule::Enclosure;
    let plan = Check::holds(rule, name, fits_in_plan(part, case), &source_of(part));
    let about = format!(
        "floor {} x {}, battery {} x {}, either way round",
        mm(part.inner_length),
        mm(part.inner_width),
        mm(case.length),
        mm(case.width)
    );
    let limit = rules.terminal_headroom.map(|room| room.mm());
    let room = (part.inner_height - case.height).mm();
    let height = Check::at_least(rule, name, room, &limit, "mm");
    let held = demand(rules.battery_held.as_ref());
    let kept = part.hold_down || !held.value;
    let hold_down = Check::holds(rule, name, kept, &held.map(|_| ()));
    ledger.checks.extend([
        told(plan, &about, "take a larger box"),
        told(
            height,
            "free height over the battery with its terminals on",
            "take a higher box or a lower battery",
        ),
        told(hold_down, "hold-down of the battery", "take a box with one"),
    ]);
    if vented {
        let source = demand(rules.battery_vented.as_ref()).map(|_| ());
        let vent = Check::holds(rule, name, part.vented, &source);
        let about = "vent of the box to the open air";
        ledger
            .checks
            .push(told(vent, about, "take a box with a vent"));
    }
}

fn hose(
    site: Site<'_>,
    battery: &Battery,
    part: &Enclosure,
    ledger: &mut Ledger,
) -> Option<String> {
    /// Bores are named to the millimetre; a hose of the same name goes on.
    const SAME: f64 = 0.05;
    let name = &battery.given.name.value;
    let mut open = |why: &str| {
        let check = Check::open(CheckRule::Enclosure, name, why);
        ledger.checks.push(check);
    };
    let Some(bore) = part.vent_bore.filter(|_| part.vented) else {
        if part.vented {
            open("the catalog does not give the bore of the box's vent");
        }
        return None;
    };
    let same = |vent: &&Vent| (vent.bore.mm() - bore.mm()).abs() < SAME;
    let Some(vent) = site.catalog.vents.iter().find(same) else {
        open(&format!(
            "the catalog holds no vent hose of {} bore",
            mm(bore)
        ));
        return None;
    };
    match battery.given.vent_hose {
        Some(length) => {
            let purpose = format!("vent of the box of `{name}`");
            ledger.need_in(vent, None, Amount::Length(length), purpose);
        }
        None => open("measure the way of the vent hose to the open air: give `vent_hose`"),
    }
    Some(vent.id().to_owned())
}
