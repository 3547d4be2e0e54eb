//! The search against plain enumeration, on random problems.

use proptest::prelude::*;

use super::problem::{Choice, Forbidden, Limit, Pair, Problem};
use super::search::{Judgement, Work, search};

/// Prices in whole tenths, so that ranks never differ by rounding alone.
fn choice() -> impl Strategy<Value = Choice> {
    (1..400_u32, 1..50_u32).prop_map(|(tenths, mass)| Choice {
        price: f64::from(tenths) / 10.0,
        mass: f64::from(mass),
    })
}

/// A figure for each option of a lead.
fn figures(options: usize) -> impl Strategy<Value = Vec<f64>> {
    prop::collection::vec((0..100_u32).prop_map(f64::from), options)
}

fn limit(sizes: Vec<usize>) -> impl Strategy<Value = Limit> {
    let terms: Vec<_> = sizes.iter().map(|options| figures(*options)).collect();
    let taking_part = prop::collection::vec(any::<bool>(), sizes.len());
    (terms, taking_part, 0.1..0.9).prop_map(|(terms, part, share): (Vec<Vec<f64>>, _, f64)| {
        let numbered = terms.into_iter().enumerate().zip(part);
        let terms: Vec<(usize, Vec<f64>)> = numbered
            .filter(|(_, part)| *part)
            .map(|(term, _)| term)
            .collect();
        let most = |adds: &Vec<f64>| adds.iter().copied().fold(0.0, f64::max);
        let sum: f64 = terms.iter().map(|(_, adds)| most(adds)).sum();
        // Sums are whole numbers and budgets are not, so that none is met to a hair.
        Limit {
            most: (sum * share).floor() + 0.5,
            terms,
        }
    })
}

fn pair(sizes: Vec<usize>) -> impl Strategy<Value = Pair> {
    let leads = (0..sizes.len(), 0..sizes.len());
    leads.prop_flat_map(move |(asks, allows)| {
        (figures(sizes[asks]), figures(sizes[allows])).prop_map(move |(asked, allowed)| Pair {
            asks,
            asked,
            allows,
            allowed,
        })
    })
}

fn forbidden(sizes: Vec<usize>) -> impl Strategy<Value = Forbidden> {
    let parts: Vec<_> = sizes
        .iter()
        .map(|options| prop::option::of(prop::collection::vec(any::<bool>(), *options)))
        .collect();
    parts.prop_map(|parts| Forbidden {
        options: parts
            .into_iter()
            .enumerate()
            .filter_map(|(lead, part)| Some((lead, part?)))
            .collect(),
    })
}

/// A problem, and what only its judge knows of.
fn problem() -> impl Strategy<Value = (Problem, Vec<Forbidden>)> {
    prop::collection::vec(1..=5_usize, 1..=6).prop_flat_map(|sizes| {
        let leads: Vec<_> = sizes
            .iter()
            .map(|options| prop::collection::vec(choice(), *options))
            .collect();
        (
            leads,
            prop::collection::vec(limit(sizes.clone()), 0..4),
            prop::collection::vec(pair(sizes.clone()), 0..3),
            prop::collection::vec(forbidden(sizes.clone()), 0..3),
            prop::collection::vec(forbidden(sizes), 0..6),
        )
            .prop_map(|(leads, limits, pairs, forbidden, hidden)| {
                let problem = Problem {
                    order: (0..leads.len()).collect(),
                    leads,
                    limits,
                    pairs,
                    forbidden,
                };
                (problem, hidden)
            })
    })
}

/// Every choice there is.
fn every(problem: &Problem) -> Vec<Vec<usize>> {
    problem.leads.iter().fold(vec![Vec::new()], |all, options| {
        let longer = all.iter().flat_map(|at| {
            (0..options.len()).map(|option| {
                let mut longer: Vec<usize> = at.clone();
                longer.push(option);
                longer
            })
        });
        longer.collect()
    })
}

const ENOUGH: Work = Work {
    nodes: 1_000_000,
    judged: 1_000_000,
};

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn the_search_finds_what_enumeration_finds((problem, hidden) in problem()) {
        let good = |at: &[usize]| !hidden.iter().any(|forbidden| forbidden.forbids(at));
        let allowed = every(&problem).into_iter().filter(|at| problem.allows(at) && good(at));
        let best = allowed.map(|at| problem.rank(&at)).reduce(f64::min);
        let found = search(problem.clone(), None, ENOUGH, &mut |at| {
            let reasons: Vec<Forbidden> =
                hidden.iter().filter(|forbidden| forbidden.forbids(at)).cloned().collect();
            if reasons.is_empty() { Judgement::Good } else { Judgement::Bad(reasons, Vec::new()) }
        });
        prop_assert_eq!(found.at.is_some(), best.is_some());
        prop_assert!(found.proved);
        if let (Some(at), Some(best)) = (found.at, best) {
            prop_assert!(problem.allows(&at) && good(&at));
            prop_assert!((problem.rank(&at) - best).abs() < 1e-8);
        }
    }

    #[test]
    fn the_bound_of_a_search_cut_short_is_never_above_the_best((problem, _) in problem()) {
        let allowed = every(&problem).into_iter().filter(|at| problem.allows(at));
        let best = allowed.map(|at| problem.rank(&at)).fold(f64::INFINITY, f64::min);
        let work = Work { nodes: 2, judged: 2 };
        let found = search(problem.clone(), None, work, &mut |_| Judgement::Good);
        prop_assert!(found.bound <= best + 1e-8);
        if found.proved {
            let rank = found.at.map_or(f64::INFINITY, |at| problem.rank(&at));
            prop_assert!(rank <= best + 1e-8);
        }
    }
}
