//! Options that no allowed choice can hold are struck out before the search.

use super::bound::Domains;
use super::problem::{Forbidden, Limit, Pair, Problem};

/// All options of all leads.
pub fn all(problem: &Problem) -> Domains {
    let leads = problem.leads.iter();
    leads.map(|options| vec![true; options.len()]).collect()
}

/// The limits that some domains can pass; what smaller domains can pass is among them.
#[derive(Debug, Clone, Default)]
pub struct Passable {
    /// Positions in the problem.
    limits: Vec<usize>,
    /// How many limits of the problem were looked at.
    seen: usize,
}

impl Passable {
    /// The limits, in their order.
    pub fn of<'p>(&'p self, problem: &'p Problem) -> impl Iterator<Item = (usize, &'p Limit)> {
        let limits = self.limits.iter();
        limits.map(|index| (*index, &problem.limits[*index]))
    }

    /// Takes in the limits that the problem was given since.
    fn take_in(&mut self, problem: &Problem) {
        self.limits.extend(self.seen..problem.limits.len());
        self.seen = problem.limits.len();
    }
}

/// Strikes out what cannot be until nothing changes; `false` when a lead is left without options.
/// `changed` tells which leads have lost options since the last time; limits that what is left cannot
/// pass are left out of the passable ones.
pub fn narrow(
    problem: &Problem,
    passable: &mut Passable,
    domains: &mut Domains,
    mut changed: Vec<bool>,
) -> bool {
    passable.take_in(problem);
    while changed.contains(&true) {
        let mut next = vec![false; changed.len()];
        let concerns = |lead: usize| changed[lead];
        passable.limits.retain(|index| {
            let limit = &problem.limits[*index];
            !limit.terms.iter().any(|(lead, _)| concerns(*lead))
                || narrow_limit(limit, domains, &mut next)
        });
        for pair in &problem.pairs {
            if concerns(pair.asks) || concerns(pair.allows) {
                narrow_pair(pair, domains, &mut next);
            }
        }
        for forbidden in &problem.forbidden {
            if forbidden.options.iter().any(|(lead, _)| concerns(*lead))
                && !narrow_forbidden(forbidden, domains, &mut next)
            {
                return false;
            }
        }
        let mut leads = domains.iter().zip(&next);
        if leads.any(|(domain, changed)| *changed && !domain.contains(&true)) {
            return false;
        }
        changed = next;
    }
    true
}

/// The least figure of the options that are still to be had.
pub fn least(adds: &[f64], domain: &[bool]) -> f64 {
    open(adds, domain).fold(f64::INFINITY, f64::min)
}

/// The figures of the options that are still to be had.
fn open<'a>(figures: &'a [f64], domain: &'a [bool]) -> impl Iterator<Item = f64> + 'a {
    let open = figures.iter().zip(domain).filter(|(_, open)| **open);
    open.map(|(figure, _)| *figure)
}

/// Whether options that are still to be had can pass a limit.
pub fn can_pass(limit: &Limit, domains: &Domains) -> bool {
    let largest = |(lead, adds): &(usize, Vec<f64>)| {
        open(adds, &domains[*lead]).fold(f64::NEG_INFINITY, f64::max)
    };
    !limit.keeps(limit.terms.iter().map(largest).sum())
}

/// Strikes out what alone passes a limit; `false` where the domains cannot pass it at all.
fn narrow_limit(limit: &Limit, domains: &mut Domains, changed: &mut [bool]) -> bool {
    if !can_pass(limit, domains) {
        return false;
    }
    let floors: Vec<f64> = limit
        .terms
        .iter()
        .map(|(lead, adds)| least(adds, &domains[*lead]))
        .collect();
    let floor: f64 = floors.iter().sum();
    for ((lead, adds), own) in limit.terms.iter().zip(floors) {
        for (add, open) in adds.iter().zip(&mut domains[*lead]) {
            if *open && !limit.keeps(floor - own + add) {
                *open = false;
                changed[*lead] = true;
            }
        }
    }
    true
}

fn narrow_pair(pair: &Pair, domains: &mut Domains, changed: &mut [bool]) {
    let allowed = open(&pair.allowed, &domains[pair.allows]);
    let most = allowed.fold(f64::NEG_INFINITY, f64::max);
    let least = least(&pair.asked, &domains[pair.asks]);
    for (asked, open) in pair.asked.iter().zip(&mut domains[pair.asks]) {
        if *open && !Pair::goes(*asked, most) {
            *open = false;
            changed[pair.asks] = true;
        }
    }
    for (allowed, open) in pair.allowed.iter().zip(&mut domains[pair.allows]) {
        if *open && !Pair::goes(least, *allowed) {
            *open = false;
            changed[pair.allows] = true;
        }
    }
}

/// Where all leads but one can only take part in what is forbidden, that one may not; `false` where
/// all can only take part.
fn narrow_forbidden(forbidden: &Forbidden, domains: &mut Domains, changed: &mut [bool]) -> bool {
    let escapes = |(lead, part): &&(usize, Vec<bool>)| {
        let mut options = domains[*lead].iter().zip(part);
        options.any(|(open, part)| *open && !part)
    };
    let mut free = forbidden.options.iter().filter(escapes);
    match (free.next(), free.next()) {
        (None, _) => false,
        (Some(_), Some(_)) => true,
        (Some((lead, part)), None) => {
            for (open, part) in domains[*lead].iter_mut().zip(part) {
                changed[*lead] |= *open && *part;
                *open &= !part;
            }
            true
        }
    }
}
