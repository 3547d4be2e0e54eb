//! The graph of places and legs, and the cheapest chain of legs through it.

use std::cmp::{Ordering, Reverse};
use std::collections::BinaryHeap;

use crate::job::{Job, LegId, PlaceId};
use crate::quantity::Length;

/// What it costs to lay one lead along one leg.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Toll {
    /// Whether a hard limit closes the leg to the lead.
    pub closed: bool,
    /// Weighted length, in metres.
    pub cost_m: f64,
}

/// Legs by the places that they touch.
pub struct Graph {
    legs_at: Vec<Vec<(LegId, PlaceId)>>,
    lengths: Vec<Length>,
}

/// What a chain of legs costs. Fewer closed legs win over any cost, then less cost; the last two
/// settle ties, so that the choice never rests on the order of the file while they differ.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Sum {
    closed: u32,
    cost_m: f64,
    length: Length,
    legs: u32,
}

impl Sum {
    const NOTHING: Self = Self {
        closed: 0,
        cost_m: 0.0,
        length: Length::ZERO,
        legs: 0,
    };

    fn and(self, toll: Toll, length: Length) -> Self {
        Self {
            closed: self.closed + u32::from(toll.closed),
            cost_m: self.cost_m + toll.cost_m,
            length: self.length + length,
            legs: self.legs + 1,
        }
    }
}

impl Eq for Sum {}

impl PartialOrd for Sum {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Sum {
    fn cmp(&self, other: &Self) -> Ordering {
        self.closed
            .cmp(&other.closed)
            .then(self.cost_m.total_cmp(&other.cost_m))
            .then(self.length.total_cmp(&other.length))
            .then(self.legs.cmp(&other.legs))
    }
}

/// The best known chain to a place, and the last step of it.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Reached {
    sum: Sum,
    from: Option<(PlaceId, LegId)>,
}

impl Graph {
    /// The graph of a job.
    pub fn of(job: &Job) -> Self {
        let mut legs_at = vec![Vec::new(); job.places.len()];
        for (id, leg) in job.legs() {
            legs_at[leg.from.0].push((id, leg.to));
            legs_at[leg.to.0].push((id, leg.from));
        }
        Self {
            legs_at,
            lengths: job.legs.iter().map(|leg| leg.length).collect(),
        }
    }

    /// The cheapest chain of legs between two places, each leg with the place that it leads to;
    /// `None` where there is no chain. `toll` gives `None` for a leg that must not be used.
    pub fn cheapest(
        &self,
        from: PlaceId,
        to: PlaceId,
        toll: &impl Fn(LegId, PlaceId) -> Option<Toll>,
    ) -> Option<Vec<(LegId, PlaceId)>> {
        let mut reached: Vec<Option<Reached>> = vec![None; self.legs_at.len()];
        let start = Sum::NOTHING;
        reached[from.0] = Some(Reached {
            sum: start,
            from: None,
        });
        let mut waiting = BinaryHeap::from([Reverse((start, from))]);
        while let Some(Reverse((sum, place))) = waiting.pop() {
            if place == to {
                break;
            }
            if reached[place.0].is_some_and(|known| known.sum < sum) {
                continue;
            }
            for (leg, next) in &self.legs_at[place.0] {
                let Some(toll) = toll(*leg, *next) else {
                    continue;
                };
                let step = Reached {
                    sum: sum.and(toll, self.lengths[leg.0]),
                    from: Some((place, *leg)),
                };
                if wins(step, reached[next.0]) {
                    reached[next.0] = Some(step);
                    waiting.push(Reverse((step.sum, *next)));
                }
            }
        }
        walk_back(&reached, to)
    }
}

/// Chains that are equal in all else are told apart by the place and the leg that they come by.
fn wins(step: Reached, known: Option<Reached>) -> bool {
    known.is_none_or(|known| (step.sum, step.from) < (known.sum, known.from))
}

fn walk_back(reached: &[Option<Reached>], to: PlaceId) -> Option<Vec<(LegId, PlaceId)>> {
    let mut chain = Vec::new();
    let mut place = to;
    while let Some((previous, leg)) = reached[place.0]?.from {
        chain.push((leg, place));
        place = previous;
    }
    chain.reverse();
    Some(chain)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    /// A graph of `places` places and legs `(from, to, metres)`.
    fn graph(places: usize, legs: &[(usize, usize, f64)]) -> Graph {
        let mut legs_at = vec![Vec::new(); places];
        for (index, (from, to, _)) in legs.iter().enumerate() {
            legs_at[*from].push((LegId(index), PlaceId(*to)));
            legs_at[*to].push((LegId(index), PlaceId(*from)));
        }
        let lengths = legs.iter().map(|(_, _, m)| Length::from_m(*m)).collect();
        Graph { legs_at, lengths }
    }

    fn legs(graph: &Graph, to: usize, closed: &[usize]) -> Option<Vec<usize>> {
        let toll = |leg: LegId, _| {
            Some(Toll {
                closed: closed.contains(&leg.0),
                cost_m: graph.lengths[leg.0].m(),
            })
        };
        let chain = graph.cheapest(PlaceId(0), PlaceId(to), &toll)?;
        Some(chain.into_iter().map(|(leg, _)| leg.0).collect())
    }

    #[test]
    fn the_shorter_chain_wins_even_with_more_legs() {
        let graph = graph(4, &[(0, 3, 5.0), (0, 1, 1.0), (2, 1, 1.0), (2, 3, 1.0)]);
        assert_eq!(legs(&graph, 3, &[]), Some(vec![1, 2, 3]));
    }

    #[test]
    fn one_closed_leg_loses_to_any_length_and_wins_over_two() {
        let graph = graph(3, &[(0, 2, 1.0), (0, 1, 40.0), (1, 2, 40.0)]);
        assert_eq!(legs(&graph, 2, &[0]), Some(vec![1, 2]));
        assert_eq!(legs(&graph, 2, &[0, 1]), Some(vec![0]));
    }

    #[test]
    fn equal_chains_are_told_apart_by_the_number_of_legs_then_by_place() {
        let fewer = graph(3, &[(0, 1, 1.0), (1, 2, 1.0), (0, 2, 2.0)]);
        assert_eq!(legs(&fewer, 2, &[]), Some(vec![2]));
        let one = graph(4, &[(0, 2, 1.0), (2, 3, 1.0), (0, 1, 1.0), (1, 3, 1.0)]);
        assert_eq!(legs(&one, 3, &[]), Some(vec![2, 3]));
        let other = graph(4, &[(0, 1, 1.0), (1, 3, 1.0), (0, 2, 1.0), (2, 3, 1.0)]);
        assert_eq!(legs(&other, 3, &[]), Some(vec![0, 1]));
    }

    #[test]
    fn a_place_that_no_leg_reaches_has_no_chain() {
        let graph = graph(3, &[(0, 1, 1.0), (2, 2, 1.0)]);
        assert_eq!(legs(&graph, 2, &[]), None);
        assert_eq!(legs(&graph, 0, &[]), Some(vec![]));
    }
}
