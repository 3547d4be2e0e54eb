//! What a quote is given on the command line: number, date, and variants beside the job.

use super::arguments::QuoteOptions;
use super::error::CommandError;
use super::input::{Loaded, no_such_variant};
use crate::job::Job;
use crate::plan::Plan;
use crate::quote::{NumberError, Offered, Request, number};

/// What the job itself is called among its options.
const AS_PLANNED: &str = "as planned";

/// Options beside the job; a quote of more than three columns is not read.
const MOST_BESIDE: usize = 2;

/// A variant that is offered beside the job.
pub struct Beside<'a> {
    /// Its name.
    name: &'a str,
    /// What it tries.
    note: Option<&'a str>,
    /// Its job.
    job: &'a Job,
    /// Its plan.
    pub plan: Plan,
}

impl QuoteOptions {
    /// Whether any of them is given.
    pub fn is_given(&self) -> bool {
        self.number.is_some() || self.date.is_some() || !self.beside.is_empty()
    }

    /// Number and date.
    pub fn request(&self) -> Result<Request, CommandError> {
        let pattern = self.number.as_deref();
        let number = pattern
            .map(|pattern| number(pattern, self.date))
            .transpose();
        let number = number.map_err(|error| {
            let why = match error {
                NumberError::NoDate => "it asks for parts of a date; add --date YEAR-MONTH-DAY",
                NumberError::UnknownPart => "in braces it takes {year}, {month} and {day}",
            };
            CommandError::Usage(format!(
                "error: the number of the quote cannot be made: {why}"
            ))
        })?;
        Ok(Request {
            number,
            date: self.date,
        })
    }

    /// The plans of the variants that are named.
    pub fn planned_beside<'a>(&self, loaded: &'a Loaded) -> Result<Vec<Beside<'a>>, CommandError> {
        if self.beside.len() > MOST_BESIDE {
            let text = "error: a quote holds the job and two of its variants at most";
            return Err(CommandError::Usage(text.to_owned()));
        }
        let planned = |name: &String| {
            let mut variants = loaded.job.variants.iter();
            let variant = variants.find(|row| row.name == *name);
            let variant = variant.ok_or_else(|| no_such_variant(&loaded.job, name))?;
            Ok(Beside {
                name: &variant.name,
                note: variant.note.as_deref(),
                job: &variant.job,
                plan: loaded.plan_of(&variant.job),
            })
        };
        self.beside.iter().map(planned).collect()
    }
}

/// The job and what is beside it.
pub fn offered<'a>(job: &'a Job, plan: &'a Plan, beside: &'a [Beside<'a>]) -> Vec<Offered<'a>> {
    let own = Offered {
        name: AS_PLANNED,
        note: None,
        job,
        plan,
    };
    let beside = beside.iter().map(|row| Offered {
        name: row.name,
        note: row.note,
        job: row.job,
        plan: &row.plan,
    });
    std::iter::once(own).chain(beside).collect()
}
