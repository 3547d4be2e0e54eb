//! What a device asks of every conductor that it guards.

use super::exact::Exact;
use super::outfit::{Outfit, Stock};
use super::problem::Pair;

/// The demands of all devices. `strong` is the job at its thickest, where shorts draw most: a
/// device that lets through too much heat there does so everywhere.
pub fn pairs(stock: &Stock<'_>, options: &[Vec<Outfit>], strong: &Exact<'_>) -> Vec<Pair> {
    let mut pairs = Vec::new();
    for (lead, outfits) in options.iter().enumerate() {
        if outfits.iter().all(|outfit| outfit.device.is_none()) {
            continue;
        }
        let task = strong.task(lead);
        let most = task.rules.protection_most.value.fraction();
        let rating = |outfit: &Outfit| {
            let device = stock.device(outfit);
            device.map_or(0.0, |device| device.rating.a())
        };
        let let_through = |outfit: &Outfit| {
            stock.device(outfit).map_or(0.0, |device| {
                let device = device.in_air(task.demand.cold);
                let time = device.opens_within(task.fault_far);
                time.map_or(f64::INFINITY, |time| task.fault_far.a().powi(2) * time.s())
            })
        };
        for conductor in &task.conductors {
            let other = conductor.lead.0;
            let mut ask = |asked: Vec<f64>, allowed: Vec<f64>| {
                pairs.push(Pair {
                    asks: lead,
                    asked,
                    allows: other,
                    allowed,
                });
            };
            if conductor.ampacity.a().is_finite() && other != lead {
                let allowed =
                    |outfit: &Outfit| stock.candidate(other, outfit).allowed.current.a() * most;
                ask(
                    outfits.iter().map(rating).collect(),
                    options[other].iter().map(allowed).collect(),
                );
            }
            let stands =
                |outfit: &Outfit| stock.withstands(other, outfit) / conductor.share.powi(2);
            ask(
                outfits.iter().map(let_through).collect(),
                options[other].iter().map(stands).collect(),
            );
        }
    }
    pairs
}

/// Leaves out options that break a demand by themselves.
pub fn alone(options: &mut [Vec<Outfit>], pairs: &[Pair]) {
    let own = pairs.iter().filter(|pair| pair.asks == pair.allows);
    let mut keep: Vec<Vec<bool>> = options
        .iter()
        .map(|outfits| vec![true; outfits.len()])
        .collect();
    for pair in own {
        for (option, keep) in keep[pair.asks].iter_mut().enumerate() {
            *keep &= pair.holds(option, option);
        }
    }
    for (outfits, keep) in options.iter_mut().zip(keep) {
        if keep.contains(&true) {
            let mut keep = keep.into_iter();
            outfits.retain(|_| keep.next().unwrap_or(true));
        }
    }
}
