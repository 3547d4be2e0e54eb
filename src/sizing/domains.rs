//! Options that no allowed choice can hold are struck out before the search.

use super::bound::Domains;
use super::problem::{Forbidden, Limit, Pair, Problem};

/// All options of all leads.
pub fn all(problem: &Problem) -> Domains {
    let leads = problem.leads.iter();
    leads.map(|options| vec![true; options.len()]).collect()
}

/// Strikes out what cannot be until nothing changes; `false` when a lead is left without options.
pub fn narrow(problem: &Problem, domains: &mut Domains) -> bool {
    loop {
        let mut changed = false;
        for limit in &problem.limits {
            changed |= narrow_limit(limit, domains);
        }
        for pair in &problem.pairs {
            changed |= narrow_pair(pair, domains);
        }
        for forbidden in &problem.forbidden {
            changed |= narrow_forbidden(forbidden, domains);
        }
        if domains.iter().any(|domain| !domain.contains(&true)) {
            return false;
        }
        if !changed {
            return true;
        }
    }
}

fn least(adds: &[f64], domain: &[bool]) -> f64 {
    let open = adds.iter().zip(domain).filter(|(_, open)| **open);
    open.map(|(add, _)| *add).fold(f64::INFINITY, f64::min)
}

fn narrow_limit(limit: &Limit, domains: &mut Domains) -> bool {
    let floor: f64 = limit
        .terms
        .iter()
        .map(|(lead, adds)| least(adds, &domains[*lead]))
        .sum();
    let mut changed = false;
    for (lead, adds) in &limit.terms {
        let others = floor - least(adds, &domains[*lead]);
        for (add, open) in adds.iter().zip(&mut domains[*lead]) {
            if *open && !limit.keeps(others + add) {
                *open = false;
                changed = true;
            }
        }
    }
    changed
}

fn narrow_pair(pair: &Pair, domains: &mut Domains) -> bool {
    let mut changed = false;
    for asking in 0..pair.asked.len() {
        let met = (0..pair.allowed.len())
            .any(|allowing| domains[pair.allows][allowing] && pair.holds(asking, allowing));
        if domains[pair.asks][asking] && !met {
            domains[pair.asks][asking] = false;
            changed = true;
        }
    }
    for allowing in 0..pair.allowed.len() {
        let enough = (0..pair.asked.len())
            .any(|asking| domains[pair.asks][asking] && pair.holds(asking, allowing));
        if domains[pair.allows][allowing] && !enough {
            domains[pair.allows][allowing] = false;
            changed = true;
        }
    }
    changed
}

/// Where all leads but one can only take part in what is forbidden, that one may not.
fn narrow_forbidden(forbidden: &Forbidden, domains: &mut Domains) -> bool {
    let escapes = |(lead, part): &&(usize, Vec<bool>)| {
        let mut options = domains[*lead].iter().zip(part);
        options.any(|(open, part)| *open && !part)
    };
    let mut free = forbidden.options.iter().filter(escapes);
    let (last, more) = (free.next(), free.next());
    let (Some((lead, part)), None) = (last, more) else {
        // Where none escapes, nothing of the domains is left.
        if last.is_none() {
            for domain in domains.iter_mut().take(1) {
                domain.fill(false);
            }
        }
        return false;
    };
    let mut changed = false;
    for (open, part) in domains[*lead].iter_mut().zip(part) {
        if *open && *part {
            *open = false;
            changed = true;
        }
    }
    changed
}
