//! Method: the steps of the work, in an order that can be followed.

use serde::Serialize;

use crate::job::PlaceId;

/// Outcome of the method stage.
#[derive(Debug, Clone, Serialize)]
pub struct Method {
    /// The steps, in order.
    pub steps: Vec<Step>,
    /// Cautions that hold for the whole work.
    pub cautions: Vec<String>,
    /// Sum of the minutes.
    pub minutes: f64,
}

/// One step.
#[derive(Debug, Clone, Serialize)]
pub struct Step {
    /// Its number, from one.
    pub number: usize,
    /// Name of the step kind in the library.
    pub kind: String,
    /// What to do, in a line.
    pub title: String,
    /// What to do, at length.
    pub text: String,
    /// Where.
    pub place: Option<PlaceId>,
    /// Name of the place.
    pub place_name: String,
    /// Numbers of the steps that must be done first.
    pub needs: Vec<usize>,
    /// How long it takes, access reckoned in.
    pub minutes: f64,
    /// Tools, in words.
    pub tools: Vec<String>,
    /// Parts, in words with their number.
    pub parts: Vec<String>,
    /// Ids of the parts.
    pub part_ids: Vec<String>,
    /// What to make sure of before going on.
    pub hold_points: Vec<String>,
    /// What can go wrong and hurt.
    pub cautions: Vec<String>,
}
