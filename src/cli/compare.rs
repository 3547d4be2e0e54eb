//! `compare`: sets a job and its variants, or several jobs, side by side.

use std::path::{Path, PathBuf};

use super::arguments::{CompareOptions, FormName, Printing};
use super::check::outcome;
use super::error::CommandError;
use super::input::{self, Loaded};
use super::several::{self, DocumentTitle};
use super::templates::DocumentTemplates;
use super::{Outcome, output};
use crate::compare::{Column, Comparison};
use crate::documents;
use crate::job::Job;
use crate::plan::Status;

/// What the job itself is called among its variants.
const AS_WRITTEN: &str = "as written";

/// Runs the command.
pub fn run(options: &CompareOptions) -> Result<Outcome, CommandError> {
    let (comparison, templates) = match options.jobs.as_slice() {
        [] => return Err(input::no_job()),
        [job] => of_variants(options, job)?,
        jobs => of_jobs(options, jobs)?,
    };
    output::print(&written(&comparison, &templates, &options.printing)?)?;
    Ok(outcome(match comparison.any_ready() {
        true => Status::Ready,
        false => Status::NotReady,
    }))
}

/// The job as written and its variants: those that are named, or all.
fn of_variants(
    options: &CompareOptions,
    job: &Path,
) -> Result<(Comparison, DocumentTemplates), CommandError> {
    let loaded = input::load_job(job, &options.workshop)?;
    let job = &loaded.job;
    for name in &options.variant {
        if job.variant(name).is_none() {
            return Err(input::no_such_variant(job, name));
        }
    }
    let wanted = |name: &String| options.variant.is_empty() || options.variant.contains(name);
    let variants = job.variants.iter().filter(|row| wanted(&row.name));
    let mut columns = vec![column(AS_WRITTEN, None, job, &loaded)];
    for variant in variants {
        let note = variant.note.as_deref();
        columns.push(column(&variant.name, note, &variant.job, &loaded));
    }
    if columns.len() == 1 {
        return Err(CommandError::Usage(
            "error: the job has no variants, so there is nothing to compare\n\
             help: write them in the job file under [[variant]] (`longlead reference job`), or name \
             a second job file"
                .to_owned(),
        ));
    }
    Ok((Comparison::of(&job.title, columns), loaded.documents))
}

/// Several jobs, each under the name of its file.
fn of_jobs(
    options: &CompareOptions,
    jobs: &[PathBuf],
) -> Result<(Comparison, DocumentTemplates), CommandError> {
    if !options.variant.is_empty() {
        return Err(CommandError::Usage(
            "error: --variant goes with one job file alone".to_owned(),
        ));
    }
    let mut columns = Vec::new();
    let mut title = String::new();
    let mut templates = None;
    for path in jobs {
        let loaded = input::load_job(path, &options.workshop)?;
        let name = path.file_stem().unwrap_or_default().to_string_lossy();
        if title.is_empty() {
            title = loaded.job.title.clone();
        }
        let note = Some(loaded.job.title.as_str());
        columns.push(column(&name, note, &loaded.job, &loaded));
        templates = templates.or(Some(loaded.documents));
    }
    let templates = templates.map_or_else(DocumentTemplates::embedded, Ok)?;
    Ok((Comparison::of(&title, columns), templates))
}

fn column(name: &str, note: Option<&str>, job: &Job, loaded: &Loaded) -> Column {
    Column::of(name, note, job, &loaded.plan_of(job), &loaded.catalog)
}

fn written(
    comparison: &Comparison,
    templates: &DocumentTemplates,
    printing: &Printing,
) -> Result<Vec<u8>, CommandError> {
    if printing.form == FormName::Csv {
        return csv(comparison);
    }
    let title = DocumentTitle {
        template: "comparison",
        title: "Comparison",
        job: &comparison.title,
        standing: several::SEVERAL_PLANS,
    };
    several::written(
        &title,
        templates,
        comparison,
        printing,
        "text, md, html, pdf, csv, json",
    )
}

fn csv(comparison: &Comparison) -> Result<Vec<u8>, CommandError> {
    let table = documents::rows::comparison(comparison);
    documents::csv::write(&table.headers, &table.rows)
        .map(String::into_bytes)
        .map_err(|error| CommandError::Machine(format!("error: {error}")))
}
