//! The record: what was really cut, bought and measured on a vehicle, day after day.

mod check;
mod reads;

pub use check::unplanned;
pub use reads::Reads;

use crate::diagnostic::{Diagnostic, SourceId, Sources, Spanned};
use crate::file::{Reader, table};
use crate::job::Job;
use crate::quantity::{Date, Length, Money, Ratio, Temperature, Voltage};

table! {
    /// What was really built and measured on one vehicle.
    pub struct RecordFile as "record" {
        /// What tells the vehicle from others: a plate, a hull number.
        vehicle: Option<String>,
        /// Who did the work.
        built_by: Option<String>,
        /// The day on which it was done.
        built_on: Option<Date>,
        /// Cables that were cut to another length than planned.
        cut: Vec<CutFile>,
        /// Parts that were bought in the place of planned ones.
        bought: Vec<BoughtFile>,
        /// What else was done otherwise than planned, or the next owner should know.
        note: Vec<String>,
        /// How far the meter may be off, as a part of what it shows.
        meter_error: Spanned<Ratio> = "0.5 %",
        /// The smallest step that the meter shows in its finest range.
        meter_step: Spanned<Voltage> = "0.1 mV",
        /// Days on which somebody measured.
        day: Vec<DayFile>,
    }
}

table! {
    /// A cable as it was cut.
    pub struct CutFile as "cut" {
        /// The lead.
        lead: Spanned<String>,
        /// Which of its cables, from one.
        cable: Spanned<u32> = "1",
        /// Its length as cut.
        length: Spanned<Length>,
    }
}

table! {
    /// A part that was bought in the place of a planned one.
    pub struct BoughtFile as "bought part" {
        /// Id of the planned part.
        planned: Spanned<String>,
        /// What was bought.
        bought: String,
        /// From whom.
        supplier: Option<String>,
        /// What all of it cost.
        paid: Option<Spanned<Money>>,
        /// Why, or what to look out for.
        note: Option<String>,
    }
}

table! {
    /// A day on which somebody measured.
    pub struct DayFile as "day" {
        /// The day.
        date: Spanned<Date>,
        /// Temperature of the air, and so of battery and cables.
        air: Temperature,
        /// Whose meter, or what else matters.
        note: Option<String>,
        /// What was measured, state by state.
        state: Vec<StateReadingsFile>,
    }
}

table! {
    /// What was measured in one state.
    pub struct StateReadingsFile as "state" {
        /// The state of the job.
        name: Spanned<String>,
        /// The readings.
        reading: Vec<ReadingFile>,
    }
}

table! {
    /// One reading of the meter.
    pub struct ReadingFile as "reading" {
        /// The test point, as on the readings sheet.
        point: Spanned<String>,
        /// What the meter shows; nothing between the quotes while it is not taken.
        reads: Spanned<Reads>,
    }
}

/// Reads a record file of a job.
///
/// # Errors
/// Every mistake in it.
pub fn load(source: SourceId, sources: &Sources, job: &Job) -> Result<RecordFile, Vec<Diagnostic>> {
    let mut reading = Reader::read::<RecordFile>(source, sources);
    let Some(record) = reading.table.take() else {
        return Err(reading.mistakes);
    };
    let found = reading.not_caused_by_stand_ins(check::check(&record, job));
    reading.mistakes.extend(found);
    if reading.mistakes.is_empty() {
        Ok(record)
    } else {
        Err(reading.mistakes)
    }
}
