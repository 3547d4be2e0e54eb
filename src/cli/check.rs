//! `check`: reads a job, judges the plan, writes nothing.

use super::Outcome;
use super::arguments::{CheckOptions, DocumentName};
use super::error::CommandError;
use super::pack::Pack;
use super::{input, output};
use crate::check::Verdict;
use crate::documents::Form;
use crate::plan::{Extras, Status};

/// Runs the command.
pub fn run(options: &CheckOptions) -> Result<Outcome, CommandError> {
    let loaded = input::load(&options.files)?;
    let plan = loaded.plan(Extras::NONE);
    let mut pack = Pack::of(&loaded, &plan);
    if !options.all {
        pack.view
            .checks
            .retain(|check| check.check.verdict != Verdict::Pass);
        pack.view.check_groups.clear();
    }
    let form = Form::Text {
        width: output::width(None),
        colour: output::colour(),
    };
    output::print(&pack.written(DocumentName::Checks, form)?)?;
    Ok(outcome(plan.status()))
}

/// The way a command ends for a plan.
pub fn outcome(status: Status) -> Outcome {
    match status {
        Status::Ready => Outcome::Done,
        Status::NotReady => Outcome::NotReady,
    }
}
