//! `plan`: writes the whole pack into a folder.

use std::path::Path;

use rayon::prelude::*;

use super::arguments::{DocumentName, PlanOptions};
use super::check::outcome;
use super::error::CommandError;
use super::pack::{Pack, ReadDocument};
use super::{Outcome, circuit, input, output};
use crate::documents::pdf;
use crate::drawings::svg;
use crate::job::Job;
use crate::plan::{Extras, Status};

/// Runs the command.
pub fn run(options: &PlanOptions) -> Result<Outcome, CommandError> {
    let request = options.quote.request()?;
    let loaded = input::load(&options.files)?;
    let Some(folder) = &options.out else {
        return Err(CommandError::Usage(
            "error: say where the documents go: --out FOLDER\n\
             (`longlead check JOB` judges a job and writes nothing)"
                .to_owned(),
        ));
    };
    let plan = loaded.plan(Extras::ALL);
    let beside = options.quote.planned_beside(&loaded)?;
    let pack = Pack::of(&loaded, &plan).quoting(request, beside);
    let files = files(&pack, options)?;
    write(folder, &files, options.replace)?;
    output::print(summary(&pack, folder, &files, plan.status()).as_bytes())?;
    Ok(outcome(plan.status()))
}

/// Name and content of every file, all made before the first is written.
fn files(pack: &Pack<'_>, options: &PlanOptions) -> Result<Vec<(String, Vec<u8>)>, CommandError> {
    let documents = pack.read()?;
    let print = |read: &ReadDocument| {
        let pdf = pdf::write(&read.document, &read.label, options.paper.into())
            .map_err(|error| CommandError::Machine(format!("error: {error}")))?;
        Ok((format!("{}.pdf", read.name.file_stem()), pdf))
    };
    let printed = || {
        documents
            .par_iter()
            .map(print)
            .collect::<Result<Vec<_>, _>>()
    };
    let (printed, others) = rayon::join(printed, || unprinted(pack, &documents));
    let mut files = printed?;
    files.extend(others?);
    Ok(files)
}

/// The files that are not for print.
fn unprinted(
    pack: &Pack<'_>,
    documents: &[ReadDocument],
) -> Result<Vec<(String, Vec<u8>)>, CommandError> {
    let mut files = Vec::new();
    files.push(("pack.html".to_owned(), pack.page(documents).into_bytes()));
    for name in DocumentName::ROWS {
        let csv = pack.csv(name)?;
        files.push((format!("{}.csv", name.file_stem()), csv.into_bytes()));
    }
    for drawing in &pack.drawings {
        let text = svg::file(drawing);
        files.push((format!("drawings/{}.svg", drawing.name), text.into_bytes()));
    }
    let plan = pack.json(DocumentName::Plan)?;
    files.push(("plan.json".to_owned(), plan.into_bytes()));
    files.push((
        "circuit.spice".to_owned(),
        circuit::states(pack, None)?.into_bytes(),
    ));
    Ok(files)
}

fn write(folder: &Path, files: &[(String, Vec<u8>)], replace: bool) -> Result<(), CommandError> {
    let there: Vec<String> = files
        .iter()
        .map(|(name, _)| name.clone())
        .filter(|name| folder.join(name).exists())
        .collect();
    if !replace && !there.is_empty() {
        return Err(CommandError::Usage(format!(
            "error: `{}` holds documents already ({}); nothing was written\n\
             help: name another folder, or add --replace",
            folder.display(),
            there.join(", ")
        )));
    }
    for (name, bytes) in files {
        let path = folder.join(name);
        let within = path.parent().unwrap_or(folder);
        std::fs::create_dir_all(within).map_err(|error| CommandError::writing(within, &error))?;
        output::write_new(&path, bytes, replace)?;
    }
    Ok(())
}

fn summary(pack: &Pack<'_>, folder: &Path, files: &[(String, Vec<u8>)], status: Status) -> String {
    let view = &pack.view;
    let mut text = format!("{}\n{}\n\n", view.title, view.status);
    text.push_str(&format!(
        "{} leads, {:.1} m of cable; {} steps, {:.1} h; {} {}\n",
        view.leads.len(),
        view.leads.iter().map(|lead| lead.cut_length_m).sum::<f64>(),
        view.steps.len(),
        view.minutes / 60.0,
        view.bill.total,
        view.bill.currency
    ));
    text.push_str(&format!(
        "{} checks pass, {} fail, {} are open\n",
        view.tally.pass, view.tally.fail, view.tally.open
    ));
    if status == Status::NotReady {
        let bad = view.checks.iter().map(|view| &view.check);
        for check in bad.filter(|check| check.verdict != crate::check::Verdict::Pass) {
            let state = check
                .state
                .as_deref()
                .map_or(String::new(), |state| format!(" in `{state}`"));
            text.push_str(&format!(
                "  {} {}: {}{state}: {}\n",
                check.verdict, check.rule, check.subject, check.note
            ));
        }
    }
    text.push_str(&format!(
        "\n{} files are in {}\n",
        files.len(),
        folder.display()
    ));
    text.push_str(&others(&pack.loaded.job));
    text
}

/// How to get the variants of a job that has any.
fn others(job: &Job) -> String {
    let names = job.variants.iter().map(|row| format!("“{}”", row.name));
    let names: Vec<String> = names.collect();
    if names.is_empty() {
        return String::new();
    }
    format!(
        "\nThe job has variants: {}.\n\
         Plan one with --variant NAME; `longlead compare JOB` sets them side by side.\n",
        names.join(", ")
    )
}
