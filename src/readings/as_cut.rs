//! Lengths as they were really cut.

use crate::diagnostic::{Diagnostic, Problem};
use crate::job::Job;
use crate::record::RecordFile;
use crate::route::Route;

/// The route with the lengths of a record in the place of the planned ones.
///
/// # Errors
/// Cables that a lead does not have. Leads were found when the record was read.
pub fn as_cut(job: &Job, route: &Route, record: &RecordFile) -> Result<Route, Vec<Diagnostic>> {
    let mut route = route.clone();
    let mut mistakes = Vec::new();
    for cut in &record.cut {
        let mut leads = job.leads().zip(&mut route.leads);
        let found = leads.find(|((_, lead), _)| lead.name == cut.lead.value);
        let Some((_, way)) = found else { continue };
        let count = way.sections.len();
        let number = cut.cable.value as usize;
        let section = number
            .checked_sub(1)
            .and_then(|at| way.sections.get_mut(at));
        match section {
            Some(section) => section.cut = cut.length.value,
            None => {
                let reason = format!(
                    "`{}` has no cable {number}: it is made of {count}",
                    cut.lead.value
                );
                let problem = Problem::contradiction(reason);
                mistakes.push(Diagnostic::new(problem, cut.cable.span));
            }
        }
    }
    if mistakes.is_empty() {
        Ok(route)
    } else {
        Err(mistakes)
    }
}
