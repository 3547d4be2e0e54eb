//! Which way a lead takes, and which it would take instead.

use super::graph::{Graph, Toll};
use super::limits::Insulation;
use super::{RunnerUp, Way, reasons};
use crate::job::{Job, Lead, LegId, PlaceId};
use crate::quantity::Length;

/// Everything that the choice of one lead's way rests on.
pub struct Choice<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its graph.
    pub graph: &'a Graph,
    /// The lead.
    pub lead: &'a Lead,
    /// The best insulation that it may have.
    pub insulation: Option<&'a Insulation>,
    /// What each leg costs this lead.
    pub tolls: &'a [Toll],
}

/// Whether hard limits are heeded.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Limits {
    Heeded,
    Ignored,
}

impl Choice<'_> {
    /// The way of least cost through as few closed legs as can be, which is none where possible.
    /// `None` where no chain of legs joins the places that the lead must pass.
    pub fn way(&self) -> Option<Way> {
        self.search(Limits::Heeded, None)
    }

    /// The best other way: the one that would have been taken if the hard limits did not close it;
    /// else the best of those that do without one leg of the way taken.
    pub fn runner_up(&self, taken: &Way) -> Option<RunnerUp> {
        let shortcut = self
            .search(Limits::Ignored, None)
            .filter(|way| way.legs != taken.legs);
        let way = shortcut.or_else(|| {
            let others = taken
                .legs
                .iter()
                .filter_map(|leg| self.search(Limits::Heeded, Some(*leg)));
            others.min_by(|a, b| {
                let closed = self.closed(a).cmp(&self.closed(b));
                closed
                    .then(a.cost_m.total_cmp(&b.cost_m))
                    .then(a.places.cmp(&b.places))
            })
        })?;
        let reasons = reasons::against(self, &way, taken);
        Some(RunnerUp { way, reasons })
    }

    fn closed(&self, way: &Way) -> usize {
        let closed = |leg: &&LegId| self.tolls[leg.0].closed;
        way.legs.iter().filter(closed).count()
    }

    fn search(&self, limits: Limits, without: Option<LegId>) -> Option<Way> {
        let toll = |leg: LegId, next: PlaceId| {
            let barred = Some(leg) == without || self.lead.avoid.contains(&next);
            let toll = self.tolls[leg.0];
            (!barred).then_some(Toll {
                closed: toll.closed && limits == Limits::Heeded,
                ..toll
            })
        };
        let stops = self.job.stops(self.lead);
        let mut places: Vec<PlaceId> = stops.first().copied().into_iter().collect();
        let mut legs = Vec::new();
        for pair in stops.windows(2) {
            for (leg, place) in self.graph.cheapest(pair[0], pair[1], &toll)? {
                legs.push(leg);
                places.push(place);
            }
        }
        Some(self.measured(places, legs))
    }

    fn measured(&self, places: Vec<PlaceId>, legs: Vec<LegId>) -> Way {
        let length: Length = legs.iter().map(|leg| self.job.leg(*leg).length).sum();
        let cost_m = legs.iter().map(|leg| self.tolls[leg.0].cost_m).sum();
        Way {
            places,
            legs,
            length,
            cost_m,
        }
    }

    /// The way of a lead whose places no chain of legs joins.
    pub fn no_way(&self) -> Way {
        let ends = [self.lead.from, self.lead.to];
        let place = |terminal| self.job.terminal(terminal).place;
        self.measured(ends.map(place).to_vec(), Vec::new())
    }
}
