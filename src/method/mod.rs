//! Method: the steps of the work, in an order that can be followed.
//!
//! The step library says which kinds of steps there are, for what each is made, what must be done
//! first, and how it reads. This stage makes the steps for the real leads, ends, holes and joints of
//! a job, and puts them in order.

mod draft;
mod embedded;
mod facts;
mod library;
mod lint;
mod load;
mod parts;
mod sequence;
mod straight;
mod subject;
mod survey;
mod template;
#[cfg(test)]
mod tests;
mod tools;
mod walk;
mod wording;
mod work;
mod write;

pub use embedded::embedded_step_files;
pub use library::{
    AccessFile, CautionFile, Per, PhaseFile, Stage, StepFile, StepLibrary, StepLibraryFile,
};
pub use load::load;
pub use walk::Walk;

use serde::Serialize;

use crate::catalog::Catalog;
use crate::fittings::Fittings;
use crate::job::{Job, PlaceId};
use crate::protection::Protection;
use crate::route::Route;
use crate::sizing::Sizing;
pub use wording::listed;
pub use work::Work;

/// Outcome of the method stage.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Method {
    /// The steps, in order.
    pub steps: Vec<Step>,
    /// Ids of all tools and dies: those that the fittings chose, then further ones of the steps.
    pub tools: Vec<String>,
    /// Cautions that hold for the whole work.
    pub cautions: Vec<String>,
    /// Sum of the minutes.
    pub minutes: f64,
}

/// One step.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Step {
    /// Its number, from one.
    pub number: usize,
    /// Name of the step kind in the library.
    pub kind: String,
    /// The phase of the work.
    pub stage: Stage,
    /// What to do, in a line. Names of the job stand in backticks.
    pub title: String,
    /// What holds of this one thing alone; may be empty.
    pub particulars: String,
    /// How such a step is done, at length.
    pub text: String,
    /// Where; nothing at the bench, and for steps that have no place of their own.
    pub place: Option<PlaceId>,
    /// Name of the place, `workbench`, or nothing.
    pub place_name: String,
    /// Numbers of the steps that must be done first, all smaller than the step's own; what they
    /// need in turn is not repeated.
    pub needs: Vec<usize>,
    /// Whether it is done at the bench.
    pub at_bench: bool,
    /// How long it takes, access reckoned in.
    pub minutes: f64,
    /// Tools, in words.
    pub tools: Vec<String>,
    /// Parts, in words with their number. Every need of the fittings is in exactly one step.
    pub parts: Vec<String>,
    /// Ids of the parts, each once.
    pub part_ids: Vec<String>,
    /// What to make sure of before going on.
    pub hold_points: Vec<String>,
    /// Readings to write down, each with its unit.
    pub readings: Vec<String>,
    /// What a second person does, where one is needed.
    pub second_person: Option<String>,
    /// What can go wrong and hurt, in a few words.
    pub cautions: Vec<String>,
    /// Publication behind the step, or the words `common practice`.
    pub source: String,
}

/// Makes the steps of a job and puts them in order.
pub fn order(
    job: &Job,
    route: &Route,
    sizing: &Sizing,
    protection: &Protection,
    fittings: &Fittings,
    catalog: &Catalog,
    library: &StepLibrary,
) -> Method {
    let work = Work {
        job,
        route,
        sizing,
        protection,
        fittings,
        catalog,
    };
    let texts = template::Texts::of(library);
    let subjects = survey::survey(&work);
    let drafts = draft::drafts(library, &subjects, &texts);
    let waits = draft::waits(library, &subjects, &drafts);
    let walk = walk::Walk::new(job);
    let order = sequence::sequence(library, &subjects, &drafts, &waits, &walk);
    write::write(&write::Manuscript {
        work,
        library,
        texts: &texts,
        subjects: &subjects,
        drafts: &drafts,
        waits: &straight::straight(&waits, &order),
        order: &order,
    })
}
