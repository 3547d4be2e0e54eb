//! The options that sizes are chosen from.

use super::exact::Exact;
use super::least::LeastDuties;
use super::outfit::{Outfit, Stock, Tasks};

/// Cables that carry what each lead carries with the thickest everywhere, with devices that suit.
/// They hold a good choice, though on rings not always the best.
pub fn usual_options(stock: &Stock<'_>, exact: &Exact<'_>) -> Vec<Vec<Outfit>> {
    (0..stock.ladders.len())
        .map(|lead| {
            let duty = &exact.duties[lead];
            let rungs = 0..stock.ladders[lead].len();
            let carrying = rungs.filter(|rung| stock.carries(lead, *rung, duty));
            let protected = stock.job.leads[lead].is_protected();
            let tasks = protected.then(|| Tasks {
                least: exact.task(lead),
                thickest: exact.task(lead),
            });
            stock.outfits(lead, carrying.collect(), tasks.as_ref())
        })
        .collect()
}

/// Cables that carry what each lead carries whatever the sizes, with devices that suit.
pub fn all_options<'a>(stock: &Stock<'a>, exact: &mut Exact<'a>) -> Vec<Vec<Outfit>> {
    let least = LeastDuties::of(stock, exact);
    (0..stock.ladders.len())
        .map(|lead| {
            let protected = stock.job.leads[lead].is_protected();
            let tasks = protected.then(|| Tasks {
                least: exact.task_of(lead, &least.duties[lead]),
                thickest: exact.task(lead),
            });
            stock.outfits(lead, least.carrying[lead].clone(), tasks.as_ref())
        })
        .collect()
}
