//! How far it is from place to place, walking along the legs.

use crate::job::{Job, PlaceId};
use crate::quantity::Length;

/// Shortest ways between all places, in metres.
#[derive(Debug)]
pub struct Walk(Vec<Vec<f64>>);

impl Walk {
    /// Of a job. Places that no chain of legs joins are endlessly far apart.
    pub fn new(job: &Job) -> Self {
        let count = job.places.len();
        let from = |start: usize| distances(job, start, count);
        Self((0..count).map(from).collect())
    }

    /// From one place to another; nothing where either is the bench, or no place at all.
    pub fn between(&self, from: Option<PlaceId>, to: Option<PlaceId>) -> f64 {
        match (from, to) {
            (Some(from), Some(to)) => self.0[from.0][to.0],
            _ => 0.0,
        }
    }
}

/// Shortest ways from one place, by taking the nearest place that is not done yet.
fn distances(job: &Job, start: usize, count: usize) -> Vec<f64> {
    let mut far = vec![f64::INFINITY; count];
    far[start] = 0.0;
    let mut open: Vec<usize> = (0..count).collect();
    while let Some(at) = nearest(&open, &far) {
        open.retain(|place| *place != at);
        for leg in &job.legs {
            let ends = [(leg.from.0, leg.to.0), (leg.to.0, leg.from.0)];
            for (_, to) in ends.into_iter().filter(|(from, _)| *from == at) {
                far[to] = far[to].min(far[at] + leg.length.max(Length::ZERO).m());
            }
        }
    }
    far
}

fn nearest(open: &[usize], far: &[f64]) -> Option<usize> {
    let mut order = open.to_vec();
    order.sort_by(|a, b| far[*a].total_cmp(&far[*b]).then(a.cmp(b)));
    order.first().copied()
}
