//! The job file: the vehicle as measured, its sources and loads, and the leads wanted.
//!
//! [`JobFile`] is the file as written. [`load`] resolves every name in it, rules out
//! contradictions, and yields a [`Job`] that the stages can trust.

mod file;
mod id;
mod model;
mod names;
mod polarity;
mod protect;
mod resolve;
mod rules;
mod states;
mod stops;
mod validate;
mod words;

pub use file::{
    AlternatorFile, BatteryFile, BondFile, BusFile, ChassisFile, DeviceFile, HazardFile, JobFile,
    LoadFile, Name,
};
pub use id::{LeadId, LegId, LoadId, PanelId, PlaceId, SpaceId, TerminalId};
pub use model::{
    Alternator, Battery, Bond, Bus, Chassis, Demand, Device, Job, Lead, Leg, Load, Owner, Panel,
    Place, Protected, Space, State, Stud, Terminal, Unprotected,
};
pub use protect::Protect;
pub use rules::Loosened;
pub use words::{
    Access, Chemistry, CrankStandard, Duty, Engine, HazardKind, Importance, LoadKind, MovingEnd,
    PanelMaterial, Passage, Season, Units,
};

use crate::catalog::Catalog;
use crate::diagnostic::{Diagnostic, SourceId, Sources};
use crate::file::Reader;

/// Reads and checks a job file.
///
/// # Errors
/// Every mistake in the file.
pub fn load(
    source: SourceId,
    sources: &Sources,
    catalog: &Catalog,
) -> Result<Job, Vec<Diagnostic>> {
    let (file, mut mistakes) = Reader::read::<JobFile>(source, sources);
    let Some(file) = file else {
        return Err(mistakes);
    };
    let job = match resolve::resolve(file, catalog) {
        Ok(job) => job,
        Err(found) => {
            mistakes.extend(found);
            return Err(mistakes);
        }
    };
    mistakes.extend(validate::validate(&job));
    if mistakes.is_empty() {
        Ok(job)
    } else {
        Err(mistakes)
    }
}
