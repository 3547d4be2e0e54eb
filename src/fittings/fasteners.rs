//! Bolts, nuts, washers and screws.

use super::choose::{Lacks, choose};
use super::ledger::{Hole, Ledger};
use super::site::Site;
use super::words::mm;
use crate::catalog::{Fastener, FastenerKind, Setting};
use crate::check::{Check, CheckRule};
use crate::quantity::{Length, Thread};

/// Thickness of a lug's palm, of sheet and of a clamp's band, each at its usual most. Common
/// practice.
const LAYER: Length = Length::from_mm(3.0);

/// Nut, two plain washers, a spring washer and two threads beyond the nut, in diameters of the
/// bolt. After ISO 4032 and ISO 7089, rounded up; from memory.
const STACK_DIAMETERS: f64 = 1.75;

/// Length under the head of a bolt through one sheet with so many lugs or bands under its nut.
pub fn bolt_length(thread: Thread, layers: usize) -> Length {
    thread.diameter() * STACK_DIAMETERS + LAYER * (layers as f64 + 1.0)
}

/// The shortest fastener of its kind that is long enough.
pub(super) fn find<'a>(
    site: Site<'a>,
    kind: FastenerKind,
    thread: Thread,
    least: Length,
) -> Result<&'a Fastener, Vec<super::NearMiss>> {
    let judge = |row: &Fastener, lacks: &mut Lacks| {
        lacks.unless(row.kind == kind, || format!("it is a {}", row.kind));
        lacks.unless(row.thread == thread, || {
            format!("its thread is {}, not {thread}", row.thread)
        });
        let length = row.length.unwrap_or(least);
        lacks.at_least(length.mm(), least.mm(), || {
            format!("it is {} long, {} are needed", mm(length), mm(least))
        });
    };
    let rank = |row: &Fastener| [row.length.map_or(0.0, Length::mm), 0.0];
    choose(&site.catalog.fasteners, judge, rank)
}

/// Notes a bolt and the wrench for its head.
pub(super) fn bolt(
    site: Site<'_>,
    thread: Thread,
    least: Length,
    purpose: &str,
    ledger: &mut Ledger,
) {
    match find(site, FastenerKind::Bolt, thread, least) {
        Ok(bolt) => {
            ledger.need(bolt, 1, purpose);
            ledger.threads.push(thread);
            ledger.flats.extend(bolt.across_flats);
        }
        Err(nearest) => missing(FastenerKind::Bolt, thread, purpose, nearest, ledger),
    }
}

/// Notes nuts or washers.
pub(super) fn small(
    site: Site<'_>,
    kind: FastenerKind,
    thread: Thread,
    pieces: u32,
    purpose: &str,
    ledger: &mut Ledger,
) {
    match find(site, kind, thread, Length::ZERO) {
        Ok(row) => ledger.need(row, pieces, purpose),
        Err(nearest) => missing(kind, thread, purpose, nearest, ledger),
    }
}

/// Notes the screws of a bus or holder, or bolts where no such screw is sold.
pub(super) fn mount(
    site: Site<'_>,
    thread: Thread,
    pieces: u32,
    purpose: &str,
    ledger: &mut Ledger,
) {
    if pieces == 0 {
        return;
    }
    let purpose = format!("mounting of {purpose}");
    // A screw holds with two diameters of thread, below a foot of one diameter. Common practice.
    let screw = find(site, FastenerKind::Screw, thread, thread.diameter() * 3.0);
    if let Ok(screw) = screw {
        ledger.need(screw, pieces, purpose);
        ledger.screws = true;
        return;
    }
    for _ in 0..pieces {
        bolt(site, thread, bolt_length(thread, 1), &purpose, ledger);
        drill(site, thread, ledger);
    }
    small(
        site,
        FastenerKind::PlainWasher,
        thread,
        pieces,
        &purpose,
        ledger,
    );
    small(
        site,
        FastenerKind::LockingNut,
        thread,
        pieces,
        &purpose,
        ledger,
    );
}

/// Notes the clearance hole of a bolt through the body, and gives its diameter.
pub(super) fn drill(site: Site<'_>, thread: Thread, ledger: &mut Ledger) -> Option<Length> {
    let diameter = site.catalog.thread(thread)?.hole;
    ledger.holes.push(Hole {
        diameter,
        steel: body_is_steel(site),
    });
    Some(diameter)
}

/// Bodies of vehicles are taken as steel, hulls are not.
pub(super) fn body_is_steel(site: Site<'_>) -> bool {
    site.job.setting != Setting::SmallCraft
}

fn missing(
    kind: FastenerKind,
    thread: Thread,
    purpose: &str,
    nearest: Vec<super::NearMiss>,
    ledger: &mut Ledger,
) {
    let wanted = format!("a {kind} {thread} for {purpose}");
    let note = format!("the catalog holds no {kind} {thread} that is long enough; add one");
    ledger
        .checks
        .push(Check::open(CheckRule::Supply, &wanted, &note));
    ledger.misfit(wanted, nearest);
}
