//! The choice of all sizes together.
//!
//! 1. Each lead's options are the cables that carry what it carries, with the devices that suit.
//! 2. The thickest of all show which limits no size keeps; these are told, and not sized for.
//! 3. The rest becomes a problem of pure numbers whose best answer is judged exactly. Where the
//!    numbers were too hopeful they are corrected until an answer holds.
//! 4. Branch and bound then proves that nothing cheaper holds, or says how much cheaper it might be.

use super::exact::{Broken, Exact, Leeway, LimitKey, VoltLimit, Volts};
use super::options::{all_options, usual_options};
use super::outfit::{Outfit, Stock};
use super::pairs::{alone, pairs};
use super::problem::Problem;
use super::reasons::Reasons;
use super::relax::{Relaxer, Sample};
use super::search::{Found, Judgement, Work, search, worth_searching};
use crate::check::Verdict;
use crate::circuit::wiring_loops;

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

/// Corrections of the numbers before the search proper.
const MOST_CORRECTIONS: usize = 40;
/// Times that the options are narrowed round a known choice.
const MOST_NARROWINGS: usize = 4;
/// Leads on rings that are looked at one by one.
const MOST_LOOPED: usize = 12;
/// Leads to choose for, up to which a job counts as small.
const SMALL: usize = 12;

/// Parts of the limits on volts that are yielded, one after the other, where limits and devices
/// contradict one another.
const YIELDED: [f64; 5] = [0.02, 0.05, 0.1, 0.25, 0.5];

/// Chooses the outfit of every lead.
pub fn choose<'a>(stock: &Stock<'a>) -> Chosen<'a> {
    let strict = choose_within(stock);
    if strict.proof.keeps_limits {
        return strict;
    }
    let mut yielded = YIELDED.into_iter();
    let found = yielded.find_map(|part| {
        let leeway = Leeway {
            part,
            ..Leeway::default()
        };
        let chosen = choose_within(&stock.with_leeway(leeway.clone()));
        chosen.proof.keeps_limits.then_some((leeway, chosen))
    });
    let Some((mut leeway, mut chosen)) = found else {
        return strict;
    };
    // Only the limits that contradict the others need yield.
    for key in chosen.passed() {
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

impl Chosen<'_> {
    /// The limits on volts that the choice passes.
    fn passed(&self) -> Vec<LimitKey> {
        let limits = self.exact.volts.limits.iter();
        let failed = limits.filter(|limit| limit.check.verdict == Verdict::Fail);
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
    let all = all_options(stock, &mut exact);
    let (mut options, outfits, proof) = choose_from(stock, usual);
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
    let (known, least_bad) = first.correct();
    let (outfits, proof) = match known {
        Some(known) => first.narrow_and_prove(known, MOST_NARROWINGS),
        None => match first.prove(None, first.work()).at {
            Some(found) => first.narrow_and_prove(found, MOST_NARROWINGS),
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
    let auto = options.iter().filter(|options| options.len() > 1).count();
    let rounds = if auto <= SMALL { MOST_NARROWINGS } else { 1 };
    wide.narrow_and_prove(at, rounds)
}

fn differs(some: &[Vec<Outfit>], others: &[Vec<Outfit>]) -> bool {
    let mut leads = some.iter().zip(others);
    leads.any(|(some, others)| {
        let known = |outfit: &Outfit| others.iter().any(|other| same(outfit, other));
        !some.iter().all(known)
    })
}

/// Whether two outfits are of the same cable and device.
fn same(one: &Outfit, other: &Outfit) -> bool {
    one.rung == other.rung && one.device == other.device
}

/// The job with the thickest options, and with the thinnest.
struct Ends<'a> {
    generous: Vec<usize>,
    meagre: Vec<usize>,
    strong: Exact<'a>,
    weak: Exact<'a>,
}

impl<'a> Ends<'a> {
    fn of(stock: &Stock<'a>, options: &[Vec<Outfit>]) -> Self {
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
    fn leave_out_hopeless(&self, stock: &Stock<'_>, options: &mut [Vec<Outfit>]) {
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
        let pairs = pairs(stock, options, &self.strong);
        alone(options, &pairs);
    }
}

fn chosen(options: &[Vec<Outfit>], at: &[usize]) -> Vec<Outfit> {
    let leads = options.iter().zip(at);
    leads.map(|(outfits, option)| outfits[*option]).collect()
}

/// Where outfits stand among options that hold them.
fn positions(options: &[Vec<Outfit>], outfits: &[Outfit]) -> Vec<usize> {
    let leads = options.iter().zip(outfits);
    leads
        .map(|(options, outfit)| {
            let known = options.iter().position(|option| same(option, outfit));
            known.unwrap_or(0)
        })
        .collect()
}

struct Choosing<'s, 'a> {
    stock: &'s Stock<'a>,
    options: &'s [Vec<Outfit>],
    relaxer: Relaxer<'s, 'a>,
    problem: Problem,
    lost: &'s Lost,
    /// The thickest options.
    generous: Vec<usize>,
    /// Whether current has another way through some lead, so that the numbers are not exact.
    ringed: bool,
}

/// Limits that no size keeps.
struct Lost {
    volts: Vec<LimitKey>,
    overloaded: Vec<usize>,
    unguarded: Vec<usize>,
}

impl<'s, 'a> Choosing<'s, 'a> {
    fn of(
        stock: &'s Stock<'a>,
        options: &'s [Vec<Outfit>],
        ends: Ends<'a>,
        lost: &'s Lost,
    ) -> Self {
        let Ends {
            generous,
            meagre,
            strong,
            weak,
        } = ends;
        let pairs = pairs(stock, options, &strong);
        let sample = |at: &[usize]| {
            let outfits = chosen(options, at);
            let volts = Volts::of(&stock.wiring(&outfits), &stock.leeway);
            Sample { outfits, volts }
        };
        let ringed = wiring_loops(&strong.volts.runs).next().is_some();
        let looped: Vec<usize> = wiring_loops(&strong.volts.runs)
            .filter(|lead| generous[*lead] != meagre[*lead])
            .take(MOST_LOOPED)
            .collect();
        let mut samples = vec![
            Sample {
                outfits: chosen(options, &generous),
                volts: strong.volts,
            },
            Sample {
                outfits: chosen(options, &meagre),
                volts: weak.volts,
            },
        ];
        for lead in looped {
            for (all, one) in [(&generous, &meagre), (&meagre, &generous)] {
                let mut at = all.clone();
                at[lead] = one[lead];
                samples.push(sample(&at));
            }
        }
        let relaxer = Relaxer::of(stock, options, samples);
        let problem = Problem {
            pairs,
            ..relaxer.problem(&lost.volts)
        };
        Self {
            stock,
            options,
            relaxer,
            problem,
            lost,
            generous,
            ringed,
        }
    }

    /// The cheapest choice that holds; `known` is one that holds.
    fn prove(&self, known: Option<Vec<usize>>, work: Work) -> Found {
        let reasons = self.reasons();
        let problem = self.problem.clone();
        search(problem, known, work, &mut |at: &[usize]| {
            let exact = self.exact(at);
            let broken = self.broken(&exact, at);
            if broken.is_empty() {
                return Judgement::Good;
            }
            let forbid = |broken: &Broken| reasons.forbid(&exact, at, broken);
            let tangent = |broken: &Broken| match broken {
                Broken::Volts(position) => {
                    let here = (&chosen(self.options, at)[..], &exact.volts);
                    Some(self.relaxer.hopeful(&exact.volts.limits[*position], here))
                }
                Broken::Overloaded(_) | Broken::Unguarded(_) => None,
            };
            let limits = broken.iter().filter_map(tangent).collect();
            Judgement::Bad(broken.iter().map(forbid).collect(), limits)
        })
    }

    /// Leaves out what cannot be cheaper than a known choice, and looks again at what is left: the
    /// nearer the ends of the options, the truer the numbers.
    fn narrow_and_prove(&self, known: Vec<usize>, rounds: usize) -> (Vec<Outfit>, Proof) {
        let price = |outfits: &[Outfit]| outfits.iter().map(|outfit| outfit.price).sum::<f64>();
        let mut best = chosen(self.options, &known);
        let mut options = worth_searching(&self.problem, &known).of(self.options);
        let mut found = None;
        for round in 0..rounds {
            let ends = Ends::of(self.stock, &options);
            let narrowed = Choosing::of(self.stock, &options, ends, self.lost);
            let at = positions(&options, &best);
            let last = round + 1 == rounds;
            let work = if last && rounds > 1 {
                narrowed.work()
            } else {
                narrowed.little_work()
            };
            let outcome = narrowed.prove(Some(at), work);
            if let Some(at) = &outcome.at {
                best = chosen(&options, at);
            }
            let done = outcome.proved;
            found = Some(outcome);
            if done || last {
                break;
            }
            let at = positions(&options, &best);
            let next = worth_searching(&narrowed.problem, &at).of(&options);
            options = next;
        }
        let (bound, proved) = found.map_or((0.0, false), |found| (found.bound, found.proved));
        let price = price(&best);
        let proof = Proof {
            price,
            bound: if proved { price } else { bound.min(price) },
            proved,
            keeps_limits: true,
        };
        (best, proof)
    }

    /// The choice that breaks fewest limits, where none holds.
    fn give_up(&self, at: &[usize]) -> (Vec<Outfit>, Proof) {
        let outfits = chosen(self.options, at);
        let price = outfits.iter().map(|outfit| outfit.price).sum();
        let proof = Proof {
            price,
            bound: 0.0,
            proved: false,
            keeps_limits: false,
        };
        (outfits, proof)
    }

    /// Work for a look that further narrowing may make needless.
    fn little_work(&self) -> Work {
        Work {
            nodes: 5000 / self.options.len().max(12),
            judged: 40,
        }
    }

    fn work(&self) -> Work {
        let auto = self
            .options
            .iter()
            .filter(|options| options.len() > 1)
            .count();
        // Without rings hardly a choice is turned down by the judge: more looking pays.
        let nodes = if self.ringed { 40_000 } else { 400_000 };
        Work {
            nodes: nodes / auto.max(12),
            judged: if auto <= 12 {
                500
            } else {
                (4000 / auto).max(10)
            },
        }
    }

    fn reasons(&self) -> Reasons<'_, 'a> {
        Reasons {
            stock: self.stock,
            options: self.options,
            ohms: &self.relaxer.ohms,
        }
    }

    fn exact(&self, at: &[usize]) -> Exact<'a> {
        Exact::of(self.stock, &chosen(self.options, at))
    }

    /// The limits that a choice breaks and that some size would keep.
    fn broken(&self, exact: &Exact<'_>, at: &[usize]) -> Vec<Broken> {
        let outfits = chosen(self.options, at);
        let broken = exact.broken(self.stock, &outfits);
        broken
            .filter(|broken| match broken {
                Broken::Overloaded(lead) => !self.lost.overloaded.contains(lead),
                Broken::Unguarded(lead) => !self.lost.unguarded.contains(lead),
                Broken::Volts(position) => {
                    let limit = &exact.volts.limits[*position];
                    !self.lost.volts.contains(&limit.key())
                }
            })
            .collect()
    }

    /// Corrects the numbers until the best answer to them holds; with it, the answer that broke
    /// fewest limits.
    fn correct(&self) -> (Option<Vec<usize>>, Vec<usize>) {
        let mut problem = self.problem.clone();
        let first = problem.limits.len();
        let mut keys: Vec<LimitKey> = Vec::new();
        let mut least_bad = (usize::MAX, self.generous.clone());
        let reasons = self.reasons();
        for _ in 0..MOST_CORRECTIONS {
            let work = Work {
                nodes: 300,
                judged: usize::MAX,
            };
            let answer = search(problem.clone(), None, work, &mut |_| Judgement::Good);
            let Some(at) = answer.at else { break };
            let exact = self.exact(&at);
            let broken = self.broken(&exact, &at);
            if broken.is_empty() {
                return (Some(at.clone()), at);
            }
            if broken.len() < least_bad.0 {
                least_bad = (broken.len(), at.clone());
            }
            for broken in &broken {
                let Broken::Volts(position) = broken else {
                    problem.forbidden.push(reasons.forbid(&exact, &at, broken));
                    continue;
                };
                let limit = &exact.volts.limits[*position];
                let key = limit.key();
                let here = (&chosen(self.options, &at)[..], &exact.volts);
                let here = self.relaxer.tangent(limit, here);
                match keys.iter().position(|known| *known == key) {
                    Some(known) => problem.limits[first + known] = here,
                    None => {
                        problem.limits.push(here);
                        keys.push(key);
                    }
                }
            }
        }
        let generous = self.exact(&self.generous);
        let broken = self.broken(&generous, &self.generous);
        if broken.is_empty() {
            return (Some(self.generous.clone()), self.generous.clone());
        }
        if broken.len() < least_bad.0 {
            least_bad.1.clone_from(&self.generous);
        }
        (None, least_bad.1)
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

impl Lost {
    /// What the thickest options break, and leads that no device guards there or none can be broken
    /// by even where shorts draw least.
    fn of(stock: &Stock<'_>, options: &[Vec<Outfit>], ends: &Ends<'_>) -> Self {
        let mut lost = Self {
            volts: Vec::new(),
            overloaded: Vec::new(),
            unguarded: Vec::new(),
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
            let mut devices = options[lead]
                .iter()
                .filter_map(|outfit| stock.device(outfit));
            devices.any(|device| task.guarded_by(device) && device.meets(&demand))
        };
        lost.unguarded = (0..options.len())
            .filter(|lead| options[*lead].iter().any(|outfit| outfit.device.is_some()))
            .filter(|lead| !hopeful(*lead))
            .collect();
        lost
    }
}
