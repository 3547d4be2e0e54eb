//! The two ends of all options, thickest and thinnest, and what not even they keep.

use super::exact::{Broken, Exact, LimitKey};
use super::outfit::{Outfit, Stock};
use super::pairs::{Demand, DemandKey, alone, pairs, worth_asking};
use super::problem::Pair;
use super::shares::{AtThickest, Whole};

/// The job with the thickest options, and with the thinnest.
pub(super) struct Ends<'a> {
    pub(super) generous: Vec<usize>,
    pub(super) meagre: Vec<usize>,
    pub(super) strong: Exact<'a>,
    pub(super) weak: Exact<'a>,
}

impl<'a> Ends<'a> {
    pub(super) fn of(stock: &Stock<'a>, options: &[Vec<Outfit>]) -> Self {
        let generous = by_ohm(stock, options, |a, b| a < b);
        let meagre = by_ohm(stock, options, |a, b| a > b);
        Self {
            strong: Exact::of(stock, &chosen(options, &generous)),
            weak: Exact::of(stock, &chosen(options, &meagre)),
            generous,
            meagre,
        }
    }

    /// Leaves out devices that cannot break even the weakest short, and those that let through
    /// more heat than their own cable stands even in the strongest.
    pub(super) fn leave_out_hopeless(&self, stock: &Stock<'_>, options: &mut [Vec<Outfit>]) {
        for (lead, outfits) in options.iter_mut().enumerate() {
            if outfits.iter().all(|outfit| outfit.device.is_none()) {
                continue;
            }
            let demand = self.weak.task(lead).demand;
            let breaks = |outfit: &Outfit| {
                let device = stock.device(outfit);
                device.is_none_or(|device| device.meets(&demand))
            };
            if outfits.iter().any(breaks) {
                outfits.retain(breaks);
            }
        }
        let pairs = pairs(stock, options, &self.strong, &Whole(options));
        alone(options, &pairs);
    }
}

pub(super) fn chosen(options: &[Vec<Outfit>], at: &[usize]) -> Vec<Outfit> {
    let leads = options.iter().zip(at);
    leads.map(|(outfits, option)| outfits[*option]).collect()
}

/// Leads whose size is left to the program, with more than one option.
pub(super) fn autos(stock: &Stock<'_>, options: &[Vec<Outfit>]) -> usize {
    let leads = stock.job.leads.iter().zip(options);
    let autos = leads.filter(|(lead, outfits)| lead.size.is_none() && outfits.len() > 1);
    autos.count()
}

/// Where outfits stand among options that hold them.
pub(super) fn positions(options: &[Vec<Outfit>], outfits: &[Outfit]) -> Vec<usize> {
    let leads = options.iter().zip(outfits);
    leads
        .map(|(options, outfit)| {
            let known = options.iter().position(|option| same(option, outfit));
            known.unwrap_or(0)
        })
        .collect()
}

/// Limits that no size keeps.
pub(super) struct Lost {
    pub(super) volts: Vec<LimitKey>,
    pub(super) overloaded: Vec<usize>,
    pub(super) unguarded: Vec<usize>,
    /// What the devices of those ask all the same.
    asked: Vec<DemandKey>,
}

impl Lost {
    /// What the thickest options break, and leads that no device guards there or none can be broken
    /// by even where shorts draw least.
    pub(super) fn of(stock: &Stock<'_>, options: &[Vec<Outfit>], ends: &Ends<'_>) -> Self {
        let mut lost = Self {
            volts: Vec::new(),
            overloaded: Vec::new(),
            unguarded: Vec::new(),
            asked: Vec::new(),
        };
        let (strong, weak) = (&ends.strong, &ends.weak);
        for broken in strong.broken(stock, &chosen(options, &ends.generous)) {
            match broken {
                Broken::Volts(position) => lost.volts.push(strong.volts.limits[position].key()),
                Broken::Overloaded(lead) => lost.overloaded.push(lead),
                Broken::Unguarded(_) => {}
            }
        }
        let hopeful = |lead: usize| {
            let (task, demand) = (strong.task(lead), weak.task(lead).demand);
            // The thickest cable need not have a lug for the device.
            options[lead].iter().any(|outfit| {
                let candidate = stock.candidate(lead, outfit);
                let task = task.with_cable(candidate.cable, candidate.allowed.current);
                stock
                    .device(outfit)
                    .is_some_and(|device| task.guarded_by(device) && device.meets(&demand))
            })
        };
        lost.unguarded = (0..options.len())
            .filter(|lead| options[*lead].iter().any(|outfit| outfit.device.is_some()))
            .filter(|lead| stock.leeway.unguarded.contains(lead) || !hopeful(*lead))
            .collect();
        if !lost.unguarded.is_empty() {
            let pairs = pairs(stock, options, strong, &AtThickest(options));
            lost.asked = worth_asking(&pairs, &lost.unguarded, options, &ends.generous);
        }
        lost
    }

    /// The demands that are not made in vain.
    pub(super) fn asked(&self, demands: Vec<Demand>) -> Vec<Pair> {
        let asked = |demand: &Demand| {
            !self.unguarded.contains(&demand.pair.asks) || self.asked.contains(&demand.key())
        };
        let demands = demands.into_iter().filter(asked);
        demands.map(|demand| demand.pair).collect()
    }
}

/// The option of each lead that comes first by the resistance of cable and device.
fn by_ohm(
    stock: &Stock<'_>,
    options: &[Vec<Outfit>],
    before: impl Fn(f64, f64) -> bool,
) -> Vec<usize> {
    let leads = options.iter().enumerate();
    leads
        .map(|(lead, outfits)| {
            let ohm = |outfit: &Outfit| stock.ohm(lead, outfit);
            let mut best = 0;
            for option in 1..outfits.len() {
                if before(ohm(&outfits[option]), ohm(&outfits[best])) {
                    best = option;
                }
            }
            best
        })
        .collect()
}

/// Whether two outfits are of the same cable and device.
pub(super) fn same(one: &Outfit, other: &Outfit) -> bool {
    one.rung == other.rung && one.device == other.device
}
