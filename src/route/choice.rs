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

    /// The way of a lead whose places no chain of legs joins: none, at its first place.
    pub fn no_way(&self) -> Way {
        let start = self.job.terminal(self.lead.from).place;
        self.measured(vec![start], Vec::new())
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use proptest::prelude::*;

    use super::super::testing::{checks, lead, leg, leg_with, places_of, traced};
    use crate::check::{CheckRule, Verdict};

    fn square(lead: String) -> Vec<String> {
        vec![
            leg("a", "b", 1.0),
            leg("d", "b", 1.0),
            leg("a", "c", 1.5),
            leg("c", "d", 1.5),
            lead,
        ]
    }

    fn way(keys: &str) -> Vec<String> {
        let (job, route) = traced(&["a", "b", "c", "d"], &square(lead("a", "d", keys)));
        places_of(&job, &route.leads[0])
    }

    #[test]
    fn a_lead_takes_the_shortest_way_whichever_way_round_the_legs_were_measured() {
        assert_eq!(way(""), ["a", "b", "d"]);
    }

    #[test]
    fn via_and_avoid_bend_the_way() {
        assert_eq!(way("via = ['c']"), ["a", "c", "d"]);
        assert_eq!(way("avoid = ['b']"), ["a", "c", "d"]);
        assert_eq!(way("via = ['c', 'b']"), ["a", "c", "a", "b", "d"]);
    }

    #[test]
    fn protection_lies_on_the_way_before_the_other_stops() {
        let keys = "protect = '100 A'\nprotect_at = 'c'";
        assert_eq!(way(keys), ["a", "c", "d"]);
        assert_eq!(
            way(&format!("{keys}\nvia = ['b']")),
            ["a", "c", "a", "b", "d"]
        );
        assert_eq!(
            way(&format!("{keys}\nvia = ['b', 'c']")),
            ["a", "b", "a", "c", "d"]
        );
        // Without protection its place is of no account.
        assert_eq!(way("protect = 'none'\nprotect_at = 'c'"), ["a", "b", "d"]);
    }

    #[test]
    fn a_cool_detour_beats_a_hot_short_cut_until_it_is_too_long() {
        let taken = |metres| {
            let legs = [
                leg_with("a", "b", 1.0, "space = 'engine bay'"),
                leg("a", "c", metres),
                leg("c", "b", metres),
                lead("a", "b", ""),
            ];
            let (_, route) = traced(&["a", "b", "c"], &legs);
            route.leads[0].way.legs.len()
        };
        // 90 C of 105 C is 70 of 85 degrees above 20 C: 1 m costs 1 + 2 * 70/85 = 2.65, a metre at
        // 30 C 1 + 2 * 10/85 = 1.24.
        assert_eq!(taken(1.0), 2);
        assert_eq!(taken(1.1), 1);
    }

    #[test]
    fn the_runner_up_says_how_much_longer_it_is() {
        let (job, route) = traced(&["a", "b", "c", "d"], &square(lead("a", "d", "")));
        let runner_up = route.leads[0].runner_up.as_ref().unwrap();
        let place = |id: &crate::job::PlaceId| job.place(*id).name.as_str();
        let places: Vec<&str> = runner_up.way.places.iter().map(place).collect();
        assert_eq!(places, ["a", "c", "d"]);
        assert_eq!(runner_up.reasons, ["1.00 m longer"]);
        assert!(runner_up.way.cost_m > route.leads[0].way.cost_m);
    }

    #[test]
    fn the_only_way_has_no_runner_up() {
        let (_, route) = traced(&["a", "b"], &[leg("a", "b", 1.0), lead("a", "b", "")]);
        assert!(route.leads[0].runner_up.is_none());
    }

    #[test]
    fn a_parallel_leg_that_is_exposed_and_hard_to_reach_loses_for_those_reasons() {
        let keys = "access = 'hard'\nhazard = [{ kind = 'hot surface', gap = '160 mm' }]";
        let legs = [
            leg_with("a", "b", 0.8, keys),
            leg("a", "b", 1.0),
            lead("a", "b", ""),
        ];
        let (_, route) = traced(&["a", "b"], &legs);
        assert_eq!(route.leads[0].way.length.m(), 1.0);
        assert_eq!(
            route.leads[0].runner_up.as_ref().unwrap().reasons,
            ["passes a hot surface at 160 mm", "hard to reach"]
        );
    }

    #[test]
    fn a_short_cut_too_near_the_propshaft_is_closed_and_said_to_be() {
        let keys = "hazard = [{ kind = 'moving part', gap = '20 mm' }]";
        let legs = [
            leg_with("a", "b", 1.0, keys),
            leg("a", "c", 9.0),
            leg("c", "b", 9.0),
            lead("a", "b", ""),
        ];
        let (job, route) = traced(&["a", "b", "c"], &legs);
        assert_eq!(places_of(&job, &route.leads[0]), ["a", "c", "b"]);
        assert_eq!(
            route.leads[0].runner_up.as_ref().unwrap().reasons,
            ["closed: 20 mm from a moving part, 50 mm needed"]
        );
        assert!(checks(&route, CheckRule::Clearance, Verdict::Fail).is_empty());
    }

    #[test]
    fn insulation_closes_a_space_as_hot_as_its_rating_and_a_better_family_opens_it() {
        let taken = |keys: &str| {
            let legs = [
                leg_with("a", "b", 1.0, "space = 'furnace'"),
                leg("a", "b", 9.0),
                lead("a", "b", keys),
            ];
            let (_, route) = traced(&["a", "b"], &legs);
            let lead = &route.leads[0];
            (lead.way.length.m(), lead.runner_up.clone().unwrap().reasons)
        };
        let (metres, reasons) = taken("");
        assert_eq!(metres, 9.0);
        assert_eq!(
            reasons,
            ["closed: 105 °C in `furnace`, the insulation is rated 105 °C"]
        );
        assert_eq!(taken("cable = 'hot'").0, 1.0);
    }

    #[test]
    fn where_every_way_is_closed_the_one_with_fewest_closed_legs_is_taken_and_fails() {
        let keys = "hazard = [{ kind = 'hot surface', gap = '60 mm' }]";
        let legs = [
            leg_with("a", "b", 1.0, keys),
            leg_with("b", "c", 1.0, keys),
            leg_with("a", "c", 4.0, keys),
            lead("a", "c", ""),
        ];
        let (job, route) = traced(&["a", "b", "c"], &legs);
        assert_eq!(places_of(&job, &route.leads[0]), ["a", "c"]);
        let failed = checks(&route, CheckRule::Clearance, Verdict::Fail);
        assert_eq!(failed.len(), 1);
        assert_eq!(
            (failed[0].value, failed[0].limit),
            (Some(60.0), Some(100.0))
        );
        assert!(
            failed[0]
                .note
                .starts_with("a to c passes a hot surface at 60 mm")
        );
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(40))]
        #[test]
        fn the_way_does_not_depend_on_the_order_of_the_legs(
            lengths in proptest::collection::vec(1_u32..4, 9),
            turn in 1_usize..9,
        ) {
            let names = ["a", "b", "c", "d", "e"];
            let pairs = [(0, 1), (0, 2), (1, 2), (1, 3), (2, 3), (1, 4), (2, 4), (3, 4), (0, 3)];
            let legs: Vec<String> = pairs
                .iter()
                .zip(&lengths)
                .map(|((from, to), m)| leg(names[*from], names[*to], f64::from(*m)))
                .collect();
            let places = |mut legs: Vec<String>| {
                legs.push(lead("a", "e", ""));
                let (job, route) = traced(&names, &legs);
                let lead = &route.leads[0];
                let runner_up = lead.runner_up.as_ref().unwrap();
                (places_of(&job, lead), runner_up.way.places.clone())
            };
            let mut turned = legs.clone();
            turned.rotate_left(turn);
            prop_assert_eq!(places(legs), places(turned));
        }
    }
}
