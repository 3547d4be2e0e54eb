//! `verify`: what the readings in a record say.

use std::path::Path;

use super::arguments::{Files, VerifyOptions};
use super::check::outcome;
use super::error::CommandError;
use super::input::Loaded;
use super::several::{self, DocumentTitle};
use super::{Outcome, input, output};
use crate::documents::view::VerdictView;
use crate::plan::{Extras, Plan, Status, wiring};
use crate::readings::{self, Verdict};
use crate::record::RecordFile;

/// Runs the command.
pub fn run(options: &VerifyOptions) -> Result<Outcome, CommandError> {
    let known = Known::of(&options.files, options.record.as_deref())?;
    let verdict = known.verdict()?;
    let job = &known.loaded.job;
    let title = job.headline();
    let vehicle = known.record.vehicle.as_deref();
    let view = VerdictView::of(&verdict, &title, vehicle, job.units);
    let sound = verdict.is_sound();
    let document = DocumentTitle {
        template: "verdict_on_readings",
        title: "Verdict on readings",
        job: &title,
        standing: match sound {
            true => "Nothing is at fault",
            false => "Something is at fault",
        },
    };
    let templates = &known.loaded.documents;
    let forms = "text, md, html, pdf, json";
    let bytes = several::written(&document, templates, &view, &options.printing, forms)?;
    output::print(&bytes)?;
    Ok(outcome(match sound {
        true => Status::Ready,
        false => Status::NotReady,
    }))
}

/// A plan and the record of the vehicle that was built by it.
pub struct Known {
    /// What the plan was made from.
    pub loaded: Loaded,
    /// The plan.
    pub plan: Plan,
    /// The record.
    pub record: RecordFile,
}

impl Known {
    /// Reads a job and a record, and makes the plan.
    pub fn of(files: &Files, record: Option<&Path>) -> Result<Self, CommandError> {
        let mut loaded = input::load(files)?;
        let path = record.ok_or_else(no_record)?;
        let record = loaded.record(path)?;
        let plan = loaded.plan(Extras::READINGS);
        Ok(Self {
            loaded,
            plan,
            record,
        })
    }

    /// What the readings of the record say.
    pub fn verdict(&self) -> Result<Verdict, CommandError> {
        let Loaded { job, catalog, .. } = &self.loaded;
        let mistaken = |found: Vec<_>| self.loaded.mistakes(&found);
        let route = readings::as_cut(job, &self.plan.route, &self.record).map_err(mistaken)?;
        let protection = Some(&self.plan.protection);
        let wired = wiring(job, &route, &self.plan.sizing, protection, catalog);
        readings::verify(&wired, &self.record).map_err(mistaken)
    }
}

/// That a record file must be named.
pub fn no_record() -> CommandError {
    CommandError::Usage(
        "error: no record file is named\n\
         help: start one with every reading to take:  longlead record JOB RECORD --start"
            .to_owned(),
    )
}
