//! One round of choosing among given options: numbers, correction, proof.

use std::collections::BTreeMap;

use rayon::prelude::*;

use super::choose::Proof;
use super::domains;
use super::ends::{Ends, Lost, chosen, positions};
use super::exact::{Broken, Exact, LimitKey};
use super::outfit::{Outfit, Stock};
use super::pairs::pairs;
use super::problem::{Limit, Pair, Problem};
use super::reasons::Reasons;
use super::relax::{Relaxer, Sample};
use super::search::{Found, Judgement, Work, search, worth_searching};
use super::shares::{AtThickest, Least};
use super::shorted::{Here, Shorted};
use crate::circuit::{Guarded, wiring_loops};

/// Figures looked at in a quick search.
const QUICK_EFFORT: usize = 3_000_000;
/// Corrections of the numbers before the search proper.
const MOST_CORRECTIONS: usize = 40;
/// Part of the price that a bound must have reached for a longer look to bring it all the way.
const WITHIN_REACH: f64 = 0.8;
/// Leads on rings that are looked at one by one.
const MOST_LOOPED: usize = 24;

/// How options are narrowed round a choice that holds.
#[derive(Debug, Clone, Copy)]
pub(super) struct Narrowing {
    /// Most times.
    pub(super) rounds: usize,
    /// Whether better choices were looked for already, if among fewer options.
    pub(super) looked: bool,
}

pub(super) struct Choosing<'s, 'a> {
    pub(super) stock: &'s Stock<'a>,
    pub(super) options: &'s [Vec<Outfit>],
    relaxer: Relaxer<'s, 'a>,
    shorted: Shorted<'s, 'a>,
    /// What no choice that holds breaks.
    pub(super) problem: Problem,
    /// Its pairs as they are near the thickest options: on rings they may ask more than the truth.
    likely: Vec<Pair>,
    pub(super) lost: &'s Lost,
    /// The thickest options.
    generous: Vec<usize>,
    /// Whether current has another way through some lead, so that the numbers are not exact.
    pub(super) ringed: bool,
    /// Whether every lead on a ring was looked at, so that no number asks more than the truth.
    pub(super) sure: bool,
}

impl<'s, 'a> Choosing<'s, 'a> {
    pub(super) fn of(
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
        let looped = wiring_loops(&strong.volts.runs);
        let ringed = !looped.is_empty();
        let mut looped: Vec<usize> = looped
            .into_iter()
            .filter(|lead| generous[*lead] != meagre[*lead])
            .collect();
        let least = Least::of(stock, options, (&generous, &meagre), &looped);
        let least = lost.asked(pairs(stock, options, &strong, &least));
        let likely = lost.asked(pairs(stock, options, &strong, &AtThickest(options)));
        looped.sort_by(|a, b| stock.turns[*a].total_cmp(&stock.turns[*b]));
        let sure = looped.len() <= MOST_LOOPED;
        looped.truncate(MOST_LOOPED);
        let mut samples = vec![
            Sample::known(strong, chosen(options, &generous)),
            Sample::known(weak, chosen(options, &meagre)),
        ];
        let ends = looped.par_iter().flat_map(|lead| {
            let ends = [(*lead, &generous, &meagre), (*lead, &meagre, &generous)];
            ends.into_par_iter()
        });
        let ends = ends.map(|(lead, all, one)| {
            let mut at = all.clone();
            at[lead] = one[lead];
            Sample::of(stock, chosen(options, &at))
        });
        samples.par_extend(ends);
        let relaxer = Relaxer::of(stock, options, samples);
        let samples: Vec<Here<'_, 'a>> = relaxer.samples.iter().map(Sample::here).collect();
        let shorted = Shorted::of(stock, options, &samples);
        let mut problem = Problem {
            pairs: least,
            ..relaxer.problem(&lost.volts)
        };
        let domains = domains::all(&problem);
        for end in samples.into_iter().take(2) {
            let limits = shorted
                .limits(&relaxer.ohms, end, &lost.unguarded)
                .into_iter();
            problem
                .limits
                .extend(limits.filter(|limit| domains::can_pass(limit, &domains)));
        }
        Self {
            shorted,
            stock,
            options,
            relaxer,
            problem,
            likely,
            lost,
            generous,
            ringed,
            sure,
        }
    }

    /// The cheapest choice that holds; `known` is one that holds.
    ///
    /// Looking for better choices and looking for the proof have their own work.
    pub(super) fn prove(&self, known: Option<Vec<usize>>, [better, proof]: [Work; 2]) -> Found {
        let (Some(known), true) = (&known, self.likely != self.problem.pairs) else {
            return self.look(self.problem.clone(), known, proof);
        };
        // Good choices are found faster where pairs ask what they mostly do.
        let found = self.look(self.likely(), Some(known.clone()), better);
        self.look(self.problem.clone(), found.at, proof)
    }

    /// The problem with its pairs as they are near the thickest options.
    fn likely(&self) -> Problem {
        Problem {
            pairs: self.likely.clone(),
            ..self.problem.clone()
        }
    }

    /// The cheapest choice that a search among those that a problem allows finds to hold.
    fn look(&self, problem: Problem, known: Option<Vec<usize>>, work: Work) -> Found {
        let reasons = self.reasons();
        search(problem, known, work, &mut |at: &[usize]| {
            let exact = self.exact(at);
            let broken = self.broken(&exact, at);
            if broken.is_empty() {
                return Judgement::Good;
            }
            let forbid = |broken: &Broken| reasons.forbid(&exact, at, broken);
            let tangents = |broken: &Broken| match broken {
                Broken::Volts(position) => {
                    let here = (&chosen(self.options, at)[..], &exact.volts);
                    vec![self.relaxer.hopeful(&exact.volts.limits[*position], here)]
                }
                Broken::Overloaded(_) => Vec::new(),
                Broken::Unguarded(lead) => self.passed(&exact, at, *lead, true),
            };
            let limits = broken.iter().flat_map(tangents).collect();
            Judgement::Bad(broken.iter().map(forbid).collect(), limits)
        })
    }

    /// What a lead's device asks of shorts, as far as a choice does not keep it; `hopeful` asks no more
    /// than the truth at any choice.
    fn passed(&self, exact: &Exact<'_>, at: &[usize], lead: usize, hopeful: bool) -> Vec<Limit> {
        let here = Here {
            wiring: &exact.wiring,
            faults: &exact.faults,
            outfits: &chosen(self.options, at),
        };
        let ohms = &self.relaxer.ohms;
        // How a short parts depends on the sizes.
        let known = |other: &Guarded| other.is_whole() || !hopeful;
        let other = self
            .harmed(exact, here, lead)
            .filter(known)
            .and_then(|other| {
                let at = at[other.lead.0];
                self.shorted.limit_by_other(ohms, here, lead, (other, at))
            });
        let limits = self.shorted.limits_of(ohms, here, lead).chain(other);
        limits.filter(|limit| !limit.keeps(limit.sum(at))).collect()
    }

    /// The conductor other than the lead itself that its device does not spare.
    fn harmed(&self, exact: &Exact<'_>, here: Here<'_, '_>, lead: usize) -> Option<Guarded> {
        let task = exact.task(lead);
        let harmed = task.harmed_before(self.stock.device(&here.outfits[lead])?)?;
        let mut conductors = task.conductors.iter();
        let found = conductors.find(|conductor| conductor.lead == harmed);
        found.filter(|found| found.lead.0 != lead).copied()
    }

    /// Leaves out what cannot be cheaper than a known choice, and looks again at what is left: the
    /// nearer the ends of the options, the truer the numbers.
    pub(super) fn narrow_and_prove(
        &self,
        known: Vec<usize>,
        narrowing: Narrowing,
    ) -> (Vec<Outfit>, Proof) {
        let price = |outfits: &[Outfit]| outfits.iter().map(|outfit| outfit.price).sum::<f64>();
        let mut best = chosen(self.options, &known);
        let mut options = worth_searching(&self.problem, &known).of(self.options);
        let mut found = None;
        let Narrowing {
            mut rounds,
            mut looked,
        } = narrowing;
        while rounds > 0 {
            rounds -= 1;
            let ends = Ends::of(self.stock, &options);
            let narrowed = Choosing::of(self.stock, &options, ends, self.lost);
            let at = positions(&options, &best);
            let outcome = narrowed.prove(Some(at.clone()), narrowed.work_of_round(rounds, looked));
            let better = outcome.at.as_ref().is_some_and(|found| *found != at);
            if let Some(at) = &outcome.at {
                best = chosen(&options, at);
            }
            let (done, bound) = (outcome.proved, outcome.bound);
            found = Some(outcome);
            if done {
                break;
            }
            let at = positions(&options, &best);
            let next = worth_searching(&narrowed.problem, &at).of(&options);
            let same = !better && !much_fewer(&next, &options);
            looked = same || looked && !better;
            if same {
                // Another look would see the same, and only a longer one more.
                if narrowed.is_hard() && bound < WITHIN_REACH * price(&best) {
                    break;
                }
                rounds = rounds.min(1);
            }
            options = next;
        }
        let (bound, proved) = found.map_or((0.0, false), |found| {
            (found.bound, found.proved && self.sure)
        });
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
    pub(super) fn give_up(&self, at: &[usize]) -> (Vec<Outfit>, Proof) {
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

    fn reasons(&self) -> Reasons<'_, 'a> {
        Reasons {
            stock: self.stock,
            options: self.options,
            ohms: &self.relaxer.ohms,
        }
    }

    pub(super) fn exact(&self, at: &[usize]) -> Exact<'a> {
        Exact::of(self.stock, &chosen(self.options, at))
    }

    /// The limits that a choice breaks and that some size would keep.
    pub(super) fn broken(&self, exact: &Exact<'_>, at: &[usize]) -> Vec<Broken> {
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

    /// Corrects the numbers until the best answer to them holds.
    ///
    /// # Errors
    /// The answer that broke fewest limits, where none holds.
    pub(super) fn correct(&self) -> Result<Vec<usize>, Vec<usize>> {
        let mut problem = self.likely();
        // Where each limit on volts stands that was corrected before.
        let mut corrected: BTreeMap<LimitKey, usize> = BTreeMap::new();
        let mut least_bad = (usize::MAX, self.generous.clone());
        let reasons = self.reasons();
        for _ in 0..MOST_CORRECTIONS {
            let work = Work {
                nodes: (QUICK_EFFORT / problem.effort().max(1)).clamp(1, 300),
                judged: usize::MAX,
            };
            let answer = search(problem.clone(), None, work, &mut |_| Judgement::Good);
            let Some(at) = answer.at else { break };
            let exact = self.exact(&at);
            let broken = self.broken(&exact, &at);
            if let Some(held) = self.with_other_devices(&at, &exact, &broken) {
                return Ok(if self.ringed {
                    self.lowered(held)
                } else {
                    held
                });
            }
            if broken.len() < least_bad.0 {
                least_bad = (broken.len(), at.clone());
            }
            for broken in &broken {
                let Broken::Volts(position) = broken else {
                    problem.forbidden.push(reasons.forbid(&exact, &at, broken));
                    if let Broken::Unguarded(lead) = broken {
                        let passed = self.passed(&exact, &at, *lead, false);
                        problem.limits.extend(passed);
                    }
                    continue;
                };
                let limit = &exact.volts.limits[*position];
                let key = limit.key();
                let here = (&chosen(self.options, &at)[..], &exact.volts);
                let here = self.relaxer.tangent(limit, here);
                match corrected.get(&key) {
                    Some(known) => problem.limits[*known] = here,
                    None => {
                        corrected.insert(key, problem.limits.len());
                        problem.limits.push(here);
                    }
                }
            }
        }
        let generous = self.exact(&self.generous);
        let broken = self.broken(&generous, &self.generous);
        if let Some(held) = self.with_other_devices(&self.generous, &generous, &broken) {
            return Ok(self.lowered(held));
        }
        if broken.len() < least_bad.0 {
            least_bad.1.clone_from(&self.generous);
        }
        Err(least_bad.1)
    }
}

/// Whether options are narrowed so far that another look at them may see more.
fn much_fewer(some: &[Vec<Outfit>], others: &[Vec<Outfit>]) -> bool {
    let count = |options: &[Vec<Outfit>]| options.iter().map(Vec::len).sum::<usize>() as f64;
    count(some) < 0.95 * count(others)
}
