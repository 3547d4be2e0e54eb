//! Joints: the lugs under one nut, its torque and its wrench.

use super::ends::MadeEnd;
use super::fasteners;
use super::ledger::Ledger;
use super::site::Site;
use super::studs::{Hold, Maker, StudSeat};
use super::words::told;
use super::{Joint, JointTorque, TorqueStanding};
use crate::catalog::{Cited, FastenerKind, StudRow};
use crate::check::{Check, CheckRule};
use crate::quantity::{Current, Length, Thread};

/// Gathers the ends stud by stud, in the order in which the studs are first met.
pub(super) fn fit(site: Site<'_>, ends: &[MadeEnd<'_>], ledger: &mut Ledger) -> Vec<Joint> {
    let mut stacks: Vec<(StudSeat, Vec<&MadeEnd<'_>>)> = Vec::new();
    for end in ends {
        let Hold::Stud(stud) = &end.seat.hold else {
            continue;
        };
        let shares = |stack: &&mut (StudSeat, Vec<&MadeEnd<'_>>)| {
            let first = stack.1.first();
            end.seat.shared.is_some() && first.is_some_and(|one| one.seat.shared == end.seat.shared)
        };
        match stacks.iter_mut().find(shares) {
            Some((_, stack)) => stack.push(end),
            None => stacks.push((*stud, vec![end])),
        }
    }
    let joints = stacks.into_iter().filter_map(|(stud, mut stack)| {
        // The widest palm lies at the foot, so that each lug bears on its whole face.
        stack.sort_by(|a, b| palm(b).total_cmp(&palm(a)));
        joint(site, stud, &stack, ledger)
    });
    joints.collect()
}

fn palm(end: &MadeEnd<'_>) -> Length {
    end.lug.map_or(Length::ZERO, |lug| lug.palm_width)
}

fn joint(
    site: Site<'_>,
    stud: StudSeat,
    stack: &[&MadeEnd<'_>],
    ledger: &mut Ledger,
) -> Option<Joint> {
    let seat = &stack.first()?.seat;
    check_lugs(site, &seat.name, stack, ledger);
    check_current(site, &seat.name, stud, stack, ledger);
    if stud.maker == Maker::Bolt {
        bolt(site, &seat.name, stud.thread, stack.len(), ledger);
    }
    ledger.threads.push(stud.thread);
    let names = stack.iter().map(|end| site.name(end.end.lead).to_owned());
    Some(Joint {
        name: seat.name.clone(),
        place: seat.place,
        thread: stud.thread,
        leads: names.collect(),
        torque: torque(site, stud),
        wrench: site
            .catalog
            .thread(stud.thread)
            .map(|row| row.wrench.clone()),
    })
}

fn check_lugs(site: Site<'_>, name: &str, stack: &[&MadeEnd<'_>], ledger: &mut Ledger) {
    let limit = site.job.rules.lugs_per_stud.map(|most| f64::from(*most));
    let lugs = stack.len() as f64;
    let check = Check::at_most(CheckRule::LugsPerStud, name, lugs, &limit, "");
    let cure = "bring the leads together on a bus";
    ledger.checks.push(told(check, "lugs under one nut", cure));
}

fn check_current(
    site: Site<'_>,
    name: &str,
    stud: StudSeat,
    stack: &[&MadeEnd<'_>],
    ledger: &mut Ledger,
) {
    let Some(material) = stud.maker.material() else {
        return;
    };
    let Some(row) = site.catalog.stud(stud.thread, material) else {
        let why = format!(
            "no table gives the current of a {material} stud {}",
            stud.thread
        );
        ledger
            .checks
            .push(Check::open(CheckRule::StudCurrent, name, &why));
        return;
    };
    let currents = stack.iter().map(|end| site.continuous(end.end.lead));
    let largest = currents.fold(Current::ZERO, Current::max);
    let limit = cited(row).map(|()| row.current.a());
    let check = Check::at_most(CheckRule::StudCurrent, name, largest.a(), &limit, "A");
    let about = format!(
        "largest continuous current of a lead on the {material} stud {}",
        stud.thread
    );
    let cure = "take a larger stud, or share the current between two";
    ledger.checks.push(told(check, &about, cure));
}

fn cited(row: &StudRow) -> Cited<()> {
    Cited {
        value: (),
        citation: row.citation.clone(),
        basis: row.basis,
    }
}

fn torque(site: Site<'_>, stud: StudSeat) -> JointTorque {
    let thread = stud.thread;
    let (row, material) = match stud.maker.material() {
        Some(material) => (
            site.catalog.stud(thread, material),
            format!("{material} stud"),
        ),
        None => (gentlest(site, thread), "stud".to_owned()),
    };
    let Some(row) = row else {
        let source = format!("no torque is published for a {material} {thread}");
        return JointTorque {
            value: None,
            standing: TorqueStanding::Open,
            source,
        };
    };
    let source = format!("{} stud: {} ({})", row.material, row.citation, row.basis);
    let standing = match stud.maker.material() {
        Some(_) => TorqueStanding::Table,
        None => TorqueStanding::Guidance,
    };
    JointTorque {
        value: Some(row.torque),
        standing,
        source,
    }
}

/// The metal of another maker's stud is not known: the least torque of any is safe for it.
fn gentlest<'a>(site: Site<'a>, thread: Thread) -> Option<&'a StudRow> {
    let rows = site.catalog.studs.iter().filter(|row| row.thread == thread);
    rows.min_by(|a, b| a.torque.total_cmp(&b.torque))
}

/// A bolt through the body or engine comes with nothing.
fn bolt(site: Site<'_>, name: &str, thread: Thread, lugs: usize, ledger: &mut Ledger) {
    let purpose = format!("`{name}`");
    let length = fasteners::bolt_length(thread, lugs);
    fasteners::bolt(site, thread, length, &purpose, ledger);
    for (kind, pieces) in [
        (FastenerKind::PlainWasher, 2),
        (FastenerKind::SpringWasher, 1),
        (FastenerKind::Nut, 1),
    ] {
        fasteners::small(site, kind, thread, pieces, &purpose, ledger);
    }
}
