//! Finds everything that a step may be made for, with all that a text may say about it.

mod cables;
mod equipment;
mod joints;
mod panels;
mod whole;

use super::subject::Subject;
use super::work::Work;

/// Every thing, kind by kind, each kind in the order of the job.
pub fn survey(work: &Work) -> Vec<Subject> {
    let mut subjects = vec![whole::job(work)];
    subjects.extend(whole::batteries(work));
    subjects.extend(cables::cables(work));
    subjects.extend(cables::leads(work));
    subjects.extend(cables::sections(work));
    subjects.extend(cables::ends(work));
    subjects.extend(panels::panels(work));
    subjects.extend(panels::passages(work));
    subjects.extend(panels::legs(work));
    subjects.extend(panels::sleevings(work));
    subjects.extend(equipment::buses(work));
    subjects.extend(equipment::protections(work));
    subjects.extend(equipment::devices(work));
    subjects.extend(equipment::converters(work));
    subjects.extend(equipment::enclosures(work));
    subjects.extend(joints::joints(work));
    subjects.extend(whole::states(work));
    subjects
}
