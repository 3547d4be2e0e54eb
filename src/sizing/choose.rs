//! The choice of all sizes together.
//!
//! 1. Each lead's options are the cables that carry what it carries, with the devices that suit.
//! 2. The thickest of all show which limits no size keeps; these are told, and not sized for.
//! 3. The rest becomes a problem of pure numbers whose best answer is judged exactly. Where the
//!    numbers were too hopeful they are corrected until an answer holds.
//! 4. Branch and bound then proves that nothing cheaper holds, or says how much cheaper it might be.

use super::choosing::{Choosing, Narrowing};
use super::ends::{Ends, Lost, autos, positions, same};
use super::exact::{Broken, Exact, Leeway, LimitKey, VoltLimit};
use super::options::{all_options, usual_options};
use super::outfit::{Outfit, Stock};

/// The sizes chosen.
pub struct Chosen<'a> {
    /// The outfit of each lead; position = lead id.
    pub outfits: Vec<Outfit>,
    /// The other options that each lead had.
    pub options: Vec<Vec<Outfit>>,
    /// What follows from the choice.
    pub exact: Exact<'a>,
    /// How good it is.
    pub proof: Proof,
}

/// How good a choice is proved to be.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Proof {
    /// Rough price of all leads with their devices.
    pub price: f64,
    /// No choice that keeps the limits is cheaper than this.
    pub bound: f64,
    /// Whether the choice is proved the cheapest.
    pub proved: bool,
    /// Whether it keeps every limit that any size can keep.
    pub keeps_limits: bool,
}

/// Leads to choose for, up to which a job counts as small.
pub(super) const SMALL: usize = 12;

/// Parts of the limits on volts that are yielded, one after the other, where limits and devices
/// contradict one another.
const YIELDED: [f64; 5] = [0.02, 0.05, 0.1, 0.25, 0.5];

/// Times that the options are narrowed round a known choice, and in a large job round one that was made
/// already.
const MOST_NARROWINGS: usize = 4;
const FEWER_NARROWINGS: usize = 2;

/// Times that devices are given up where no choice holds.
const MOST_GIVEN_UP: usize = 3;

/// Chooses the outfit of every lead.
pub fn choose<'a>(stock: &Stock<'a>) -> Chosen<'a> {
    let strict = choose_within(stock);
    if strict.proof.keeps_limits {
        return strict;
    }
    let Some((mut leeway, mut chosen)) = yielding(stock, &strict) else {
        return strict;
    };
    // Only the limits that contradict the others need yield.
    let passed = if leeway.part > 0.0 {
        chosen.passed()
    } else {
        Vec::new()
    };
    for key in passed {
        leeway.kept.push(key);
        let next = choose_within(&stock.with_leeway(leeway.clone()));
        if next.proof.keeps_limits {
            chosen = next;
        } else {
            leeway.kept.pop();
        }
    }
    chosen.proof.keeps_limits = false;
    chosen
}

/// The least leeway with which a choice is found, and the choice: devices that do not do their tasks
/// are given up where nothing else helps, and limits on volts yield step by step.
fn yielding<'a>(stock: &Stock<'a>, strict: &Chosen<'a>) -> Option<(Leeway, Chosen<'a>)> {
    let mut leeway = Leeway::default();
    let (mut passed, mut unguarded) = (strict.passed(), strict.unguarded(stock));
    for _ in 0..MOST_GIVEN_UP {
        let parts: &[f64] = if passed.is_empty() { &[] } else { &YIELDED };
        for part in parts {
            leeway.part = *part;
            let chosen = choose_within(&stock.with_leeway(leeway.clone()));
            if chosen.proof.keeps_limits {
                return Some((leeway, chosen));
            }
        }
        if unguarded.is_empty() {
            return None;
        }
        leeway.part = 0.0;
        leeway.unguarded.append(&mut unguarded);
        let chosen = choose_within(&stock.with_leeway(leeway.clone()));
        if chosen.proof.keeps_limits {
            return Some((leeway, chosen));
        }
        passed = chosen.passed();
        unguarded = chosen.unguarded(stock);
        unguarded.retain(|lead| !leeway.unguarded.contains(lead));
    }
    None
}

impl Chosen<'_> {
    /// The leads whose devices do not do their tasks.
    fn unguarded(&self, stock: &Stock<'_>) -> Vec<usize> {
        let broken = self.exact.broken(stock, &self.outfits);
        let unguarded = broken.filter_map(|broken| match broken {
            Broken::Unguarded(lead) => Some(lead),
            Broken::Overloaded(_) | Broken::Volts(_) => None,
        });
        unguarded.collect()
    }

    /// The limits on volts that the choice passes.
    fn passed(&self) -> Vec<LimitKey> {
        let limits = self.exact.volts.limits.iter();
        let failed = limits.filter(|limit| limit.is_passed());
        failed.map(VoltLimit::key).collect()
    }
}

/// Chooses the outfit of every lead, with the limits as the stock has them.
fn choose_within<'a>(stock: &Stock<'a>) -> Chosen<'a> {
    let thickest: Vec<Outfit> = (0..stock.ladders.len())
        .map(|lead| stock.thickest(lead))
        .collect();
    let mut exact = Exact::of(stock, &thickest);
    let usual = usual_options(stock, &exact);
    let (all, (mut options, outfits, proof)) = rayon::join(
        || all_options(stock, &mut exact),
        || choose_from(stock, usual),
    );
    let (outfits, proof) = if proof.keeps_limits && differs(&all, &options) {
        options = all;
        prove_among(stock, &mut options, outfits)
    } else {
        (outfits, proof)
    };
    Chosen {
        exact: Exact::of(stock, &outfits),
        outfits,
        options,
        proof,
    }
}

/// The choice among some options.
fn choose_from(
    stock: &Stock<'_>,
    mut options: Vec<Vec<Outfit>>,
) -> (Vec<Vec<Outfit>>, Vec<Outfit>, Proof) {
    let ends = Ends::of(stock, &options);
    ends.leave_out_hopeless(stock, &mut options);
    let ends = Ends::of(stock, &options);
    let lost = Lost::of(stock, &options, &ends);
    let first = Choosing::of(stock, &options, ends, &lost);
    let narrowing = Narrowing {
        rounds: MOST_NARROWINGS,
        looked: false,
    };
    let (outfits, proof) = match first.correct() {
        Ok(known) => first.narrow_and_prove(known, narrowing),
        Err(least_bad) => match first.prove(None, [first.work(); 2]).at {
            Some(found) => first.narrow_and_prove(found, narrowing),
            None => first.give_up(&least_bad),
        },
    };
    (options, outfits, proof)
}

/// Betters a known choice, or proves it, among more options than it was made from.
fn prove_among(
    stock: &Stock<'_>,
    options: &mut [Vec<Outfit>],
    known: Vec<Outfit>,
) -> (Vec<Outfit>, Proof) {
    Ends::of(stock, options).leave_out_hopeless(stock, options);
    for (outfits, known) in options.iter_mut().zip(&known) {
        if !outfits.iter().any(|outfit| same(outfit, known)) {
            outfits.push(*known);
        }
    }
    let ends = Ends::of(stock, options);
    let lost = Lost::of(stock, options, &ends);
    let at = positions(options, &known);
    let wide = Choosing::of(stock, options, ends, &lost);
    let narrowing = Narrowing {
        rounds: if autos(stock, options) <= SMALL {
            MOST_NARROWINGS
        } else {
            FEWER_NARROWINGS
        },
        looked: true,
    };
    wide.narrow_and_prove(at, narrowing)
}

fn differs(some: &[Vec<Outfit>], others: &[Vec<Outfit>]) -> bool {
    let mut leads = some.iter().zip(others);
    leads.any(|(some, others)| {
        let known = |outfit: &Outfit| others.iter().any(|other| same(outfit, other));
        !some.iter().all(known)
    })
}
