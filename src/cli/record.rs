//! `record`: starts the record of a vehicle, or prints it on one page.

use std::path::Path;

use super::arguments::RecordOptions;
use super::check::outcome;
use super::error::CommandError;
use super::several::{self, DocumentTitle};
use super::verify::{Known, no_record};
use super::{Outcome, input, output};
use crate::documents::record_form;
use crate::documents::view::{AsBuiltView, PlanView, VerdictView};
use crate::plan::Extras;
use crate::record;

/// Runs the command.
pub fn run(options: &RecordOptions) -> Result<Outcome, CommandError> {
    match (&options.record, options.start) {
        (None, _) => Err(no_record()),
        (Some(path), true) => start(options, path),
        (Some(path), false) => print(options, path),
    }
}

/// Writes a record file with every reading to take.
fn start(options: &RecordOptions, path: &Path) -> Result<Outcome, CommandError> {
    let loaded = input::load(&options.files)?;
    if path.exists() {
        return Err(CommandError::Usage(format!(
            "error: `{}` is there already; nothing was written",
            path.display()
        )));
    }
    let plan = loaded.plan(Extras::READINGS);
    let view = PlanView::of(&plan, &loaded.job, &loaded.catalog);
    let text = record_form::blank(&view);
    output::write_new(path, text.as_bytes(), false)?;
    let told = format!(
        "{} is written, with every reading to take.\n\
         Put in what the meter shows, then:  longlead verify JOB {}\n",
        path.display(),
        path.display()
    );
    output::print(told.as_bytes())?;
    Ok(outcome(plan.status()))
}

/// The record on one page, for the next owner.
fn print(options: &RecordOptions, path: &Path) -> Result<Outcome, CommandError> {
    let known = Known::of(&options.files, Some(path))?;
    let Known {
        loaded,
        plan,
        record,
    } = &known;
    let unplanned = record::unplanned(record, &plan.parts());
    if !unplanned.is_empty() {
        return Err(loaded.mistakes(&unplanned));
    }
    let verdict = known.verdict()?;
    let job = &loaded.job;
    let title = job.headline();
    let vehicle = record.vehicle.as_deref();
    let readings = VerdictView::of(&verdict, &title, vehicle, job.units);
    let view = PlanView::of(plan, job, &loaded.catalog);
    let view = AsBuiltView::of(&view, job, &loaded.catalog, record, readings);
    let document = DocumentTitle {
        template: "as_built_record",
        title: "As-built record",
        job: &title,
        standing: plan.status().as_str(),
    };
    let forms = "text, md, html, pdf, json";
    let bytes = several::written(
        &document,
        &loaded.documents,
        &view,
        &options.printing,
        forms,
    )?;
    output::print(&bytes)?;
    Ok(outcome(plan.status()))
}
