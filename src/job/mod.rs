//! The job file: the vehicle as measured, its sources and loads, and the leads wanted.
//!
//! [`JobFile`] is the file as written. [`load`] resolves every name in it, rules out
//! contradictions, and yields a [`Job`] that the stages can trust.

mod charger_file;
mod file;
mod id;
mod joined;
mod model;
mod names;
mod polarity;
mod protect;
mod resolve;
mod rules;
mod rules_file;
mod sorted;
mod spares_file;
mod states;
mod stops;
mod strings;
mod units;
mod validate;
mod variant_file;
mod variants;
mod words;

pub use charger_file::{AlternatorFile, ConverterFile};
pub use file::{
    BatteryFile, BondFile, BusFile, ChassisFile, DeviceFile, HazardFile, JobFile, LoadFile, Name,
};
pub use id::{BatteryId, LeadId, LegId, LoadId, PanelId, PlaceId, SpaceId, TerminalId};
pub use joined::joined;
pub use model::{
    Alternator, Battery, Bond, Bus, Chassis, Converter, Demand, Device, Job, Lead, Leg, Load,
    Owner, Panel, Place, Position, Protected, Space, State, Stud, Terminal, Unprotected, Variant,
};
pub use protect::Protect;
pub use rules::Loosened;
pub use sorted::SortedJob;
pub use spares_file::{SparesFile, WeightFile};
pub use strings::BatteryString;
pub use units::Units;
pub use words::{
    Access, Chemistry, ConverterKind, CrankStandard, Duty, Engine, HazardKind, Importance,
    LoadKind, MovingEnd, PanelMaterial, Passage, Season, Speed,
};

use crate::catalog::Catalog;
use crate::diagnostic::{Diagnostic, Problem, SourceId, Sources};
use crate::file::{Document, Reading};

/// Reads and checks a job file with all its variants.
///
/// # Errors
/// Every mistake in the file.
pub fn load(
    source: SourceId,
    sources: &Sources,
    catalog: &Catalog,
) -> Result<Job, Vec<Diagnostic>> {
    let document = Document::parse(source, sources)?;
    let reading = document.read::<JobFile>();
    let given = reading.table.as_ref().map(|file| file.variant.clone());
    let (job, mut mistakes) = judged(reading, catalog);
    let variants = variants::all(
        &document,
        &given.unwrap_or_default(),
        catalog,
        &mut mistakes,
    );
    match job {
        Some(job) if mistakes.is_empty() => Ok(Job { variants, ..job }),
        _ => Err(mistakes),
    }
}

/// The job that was read, unless its rules are not known, and every mistake in it.
fn judged(mut reading: Reading<JobFile>, catalog: &Catalog) -> (Option<Job>, Vec<Diagnostic>) {
    let Some(file) = reading.table.take() else {
        return (None, reading.mistakes);
    };
    let mut resolved = resolve::resolve(file, catalog);
    // What is missing changes which place is reached and which load is fed.
    let nameless = reading.lacks_any(NAMES);
    resolved.ground_is_sound &= !nameless && !reading.lacks_any(GROUND);
    resolved.circuit_is_sound &= !nameless && !reading.lacks_any(CIRCUIT);
    let mut found = resolved.mistakes;
    if let Some(job) = &resolved.job {
        let sound = validate::Sound {
            ground: resolved.ground_is_sound,
            circuit: resolved.circuit_is_sound,
        };
        found.extend(validate::validate(job, sound));
    }
    let mut found = reading.not_caused_by_stand_ins(found);
    // Who bears a name that could not be read cannot be told from who bears none.
    if reading.lacks_any(&["name"]) || reading.lacks_any(LISTS) {
        found.retain(|mistake| !matches!(mistake.problem, Problem::UnknownName { .. }));
    }
    reading.mistakes.extend(found);
    (resolved.job, reading.mistakes)
}

/// Keys that name things and join them.
const NAMES: &[&str] = &["name", "from", "to", "place", "space", "part"];

/// Lists of things with names.
const LISTS: &[&str] = &[
    "space",
    "place",
    "panel",
    "battery",
    "alternator",
    "converter",
    "load",
    "bus",
    "device",
    "chassis",
];

/// Lists that the ways of leads depend on.
const GROUND: &[&str] = &["place", "leg", "panel", "via", "avoid"];

/// Lists that the circuits depend on.
const CIRCUIT: &[&str] = &[
    "battery",
    "alternator",
    "converter",
    "load",
    "bus",
    "device",
    "chassis",
    "bond",
    "lead",
    "case",
];
