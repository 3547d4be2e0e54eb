//! `changes`: tells what parts that are not to be had change, or a variant, line by line.

use super::arguments::{ChangesOptions, Workshop};
use super::check::outcome;
use super::error::CommandError;
use super::input::{self, Loaded};
use super::several::{self, DocumentTitle};
use super::{Outcome, output, supply};
use crate::compare::{Changes, Planned};
use crate::diagnostic::Spanned;
use crate::plan::{self, Extras, Inputs};
use crate::shop::ShopFile;

/// Runs the command.
pub fn run(options: &ChangesOptions) -> Result<Outcome, CommandError> {
    let files = &options.files;
    let Some(path) = &files.job else {
        return Err(input::no_job());
    };
    let loaded = input::load_job(path, &files.workshop)?;
    let job = &loaded.job;
    let changed = match &files.variant {
        Some(name) => match job.variant(name) {
            Some(variant) => variant,
            None => return Err(input::no_such_variant(job, name)),
        },
        None => job,
    };
    let before = before(&loaded, options)?;
    let plan = |job, shop| {
        let inputs = Inputs {
            job,
            shop,
            catalog: &loaded.catalog,
            library: &loaded.library,
        };
        plan::make(inputs, Extras::NONE)
    };
    let (first, second) = (plan(job, &before), plan(changed, &loaded.shop));
    let changes = Changes::between(
        &job.title,
        &what(options, &loaded.shop),
        [
            Planned { job, plan: &first },
            Planned {
                job: changed,
                plan: &second,
            },
        ],
        &loaded.catalog,
    );
    let title = DocumentTitle {
        template: "changes",
        title: "Changes",
        job: &job.title,
        standing: several::SEVERAL_PLANS,
    };
    let forms = "text, md, html, pdf, json";
    output::print(&several::written(
        &title,
        &loaded.documents,
        &changes,
        &options.printing,
        forms,
    )?)?;
    Ok(outcome(second.status()))
}

/// The shop before the changes: without the marks of the command line or, where there are none,
/// without those of the shop file.
fn before(loaded: &Loaded, options: &ChangesOptions) -> Result<ShopFile, CommandError> {
    let workshop = &options.files.workshop;
    if !workshop.without.is_empty() || !workshop.prefer.is_empty() {
        return Ok(supply::unmarked(loaded.shop.clone(), workshop));
    }
    if options.files.variant.is_some() {
        return Ok(loaded.shop.clone());
    }
    if loaded.shop.unavailable.is_empty() && loaded.shop.preferred.is_empty() {
        return Err(CommandError::Usage(
            "error: nothing is changed\n\
             help: say what did not arrive (--without PART), what to take instead (--prefer PART), or \
             which variant to look at (--variant NAME)"
                .to_owned(),
        ));
    }
    Ok(ShopFile {
        unavailable: Vec::new(),
        preferred: Vec::new(),
        ..loaded.shop.clone()
    })
}

/// What the changes come from, in words.
fn what(options: &ChangesOptions, shop: &ShopFile) -> String {
    let Workshop {
        without, prefer, ..
    } = &options.files.workshop;
    let variant = options.files.variant.as_ref();
    let mut said: Vec<String> = variant
        .map(|name| format!("variant “{name}”"))
        .into_iter()
        .collect();
    let by_shop = without.is_empty() && prefer.is_empty() && variant.is_none();
    let ids = |own: &[String], shop: &[Spanned<String>]| -> Vec<String> {
        match by_shop {
            true => shop.iter().map(|part| part.value.clone()).collect(),
            false => own.to_vec(),
        }
    };
    for (word, ids) in [
        ("without", ids(without, &shop.unavailable)),
        ("preferring", ids(prefer, &shop.preferred)),
    ] {
        if !ids.is_empty() {
            said.push(format!("{word} {}", ids.join(", ")));
        }
    }
    said.join(", ")
}
