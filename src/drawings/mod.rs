//! Drawings: pictures for people who would rather look than read.
//!
//! A drawing is a list of shapes in millimetres, worked out here from a plan. Writers (`svg` here,
//! the one for print beside the documents) put the shapes down as they are and decide nothing.

mod along_lead;
mod drill;
mod layout;
mod lettering;
mod one_line;
mod shape;
mod spread;
mod strip_map;
pub mod svg;
mod time_current;
mod volt_ledger;

pub use drill::{DRILL_TEMPLATES, drill_templates};
pub use layout::{LAYOUT, layout, placed};
pub use one_line::{one_line, one_line_names};
pub use shape::{Anchor, Dash, Drawing, Ink, Point, Shape};
pub use strip_map::{strip_map, strip_map_name};
pub use time_current::{time_current, time_current_name};
pub use volt_ledger::{volt_ledger, volt_ledger_name};

use crate::catalog::Catalog;
use crate::job::Job;
use crate::plan::Plan;

/// What a drawing is made from.
#[derive(Debug, Clone, Copy)]
pub struct Scene<'a> {
    /// The job.
    pub job: &'a Job,
    /// The plan.
    pub plan: &'a Plan,
    /// The catalog, for curves and descriptions.
    pub catalog: &'a Catalog,
}

/// Every drawing of a plan, in the order of the leads.
pub fn all(scene: Scene<'_>) -> Vec<Drawing> {
    let ways = scene.plan.route.leads.iter();
    let mut drawings: Vec<Drawing> = ways.filter_map(|way| strip_map(scene, way)).collect();
    let guards = scene.plan.protection.guards.iter();
    let devices = scene.catalog.protective();
    drawings.extend(guards.filter_map(|guard| time_current(scene, &devices, guard)));
    let states = 0..scene.plan.operation.states.len();
    drawings.extend(states.filter_map(|state| volt_ledger(scene, state)));
    drawings.extend(drill_templates(scene));
    drawings.extend(one_line(scene));
    drawings.extend(layout(scene));
    drawings
}

/// A name for files: small letters, digits and dashes alone.
///
/// Names that differ only in other signs get the same; whoever needs them apart adds a number.
pub fn file_name(words: &str) -> String {
    let plain = |letter: char| {
        let letter = letter.to_ascii_lowercase();
        if letter.is_ascii_alphanumeric() {
            letter
        } else {
            '-'
        }
    };
    let dashed: String = words.chars().map(plain).collect();
    let parts = dashed.split('-').filter(|part| !part.is_empty());
    parts.collect::<Vec<_>>().join("-")
}

#[cfg(test)]
mod tests {
    use super::file_name;

    #[test]
    fn a_file_name_holds_nothing_that_a_file_system_minds() {
        assert_eq!(file_name("Main + (rear) / №2"), "main-rear-2");
        assert_eq!(file_name("../../x"), "x");
    }
}
