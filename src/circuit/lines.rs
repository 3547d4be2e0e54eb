//! The lines of a ledger: what each part of a way takes, and where current takes another way.

use serde::Serialize;

use super::network::{Branch, BranchOwner, Source};
use super::operate::Solved;
use super::ways::Step;
use super::wiring::{Element, PartKind, Wiring};

/// One part on the way.
#[derive(Debug, Clone, Serialize)]
pub struct LedgerLine {
    /// The lead, device or stretch of body that it belongs to.
    pub of: String,
    /// Position of that lead, for parts of leads.
    #[serde(skip)]
    pub lead: Option<usize>,
    /// The part.
    pub part: String,
    /// What kind of part.
    pub kind: PartKind,
    /// Its resistance.
    pub milliohm: f64,
    /// Amperes in the direction of the way; below zero where current flows against it.
    pub amps: f64,
    /// What it takes; below zero where current flows against the way.
    pub millivolt: f64,
    /// What it turns to heat.
    pub watts: f64,
    /// Position of its branch in the network.
    #[serde(skip)]
    pub branch: usize,
}

/// Current that comes to a point of the way, or leaves it, otherwise than along the way.
#[derive(Debug, Clone, Serialize)]
pub struct OtherWay {
    /// Whether it is on the way back.
    pub back: bool,
    /// The point.
    pub at: String,
    /// What brings it, or takes it away.
    pub by: String,
    /// How much.
    pub amps: f64,
    /// Share of all current that comes to the point, or leaves it.
    pub share: f64,
}

/// The parts of one branch, in the order of the way.
pub fn of_step(wiring: &Wiring<'_>, solved: &Solved, step: Step) -> Vec<LedgerLine> {
    let branch = &solved.network.branches[step.branch];
    let along = solved.branch_amps(step.branch);
    let amps = if step.forward { along } else { -along };
    let (lead, mut parts) = match branch.owner {
        BranchOwner::Lead(lead) => {
            let celsius = solved.temperatures_c.get(lead.0).copied().unwrap_or(20.0);
            (Some(lead.0), wiring.elements(lead, celsius))
        }
        BranchOwner::Device(_) => (None, vec![whole("contacts", PartKind::Device, branch)]),
        BranchOwner::Bond(_) => (None, vec![whole("body", PartKind::Body, branch)]),
        BranchOwner::Fault => (None, vec![whole("fault", PartKind::Body, branch)]),
    };
    if !step.forward {
        parts.reverse();
    }
    // The network holds a trace of resistance even where a lead has none.
    let sum: f64 = parts.iter().map(|part| part.ohm).sum();
    if sum <= 0.0 {
        parts = vec![whole("lead", PartKind::Cable, branch)];
    }
    let scale = if sum > 0.0 { branch.ohm / sum } else { 1.0 };
    let of = owner_name(wiring, branch);
    let line = |part: Element| {
        let ohm = part.ohm * scale;
        LedgerLine {
            of: of.clone(),
            lead,
            part: part.name,
            kind: part.kind,
            milliohm: ohm * 1e3,
            amps,
            millivolt: ohm * amps * 1e3,
            watts: ohm * amps * amps,
            branch: step.branch,
        }
    };
    parts.into_iter().map(line).collect()
}

fn whole(name: &str, kind: PartKind, branch: &Branch) -> Element {
    Element {
        name: name.to_owned(),
        kind,
        ohm: branch.ohm,
    }
}

/// Name of what a branch belongs to; bonds between the same points are numbered.
pub fn owner_name(wiring: &Wiring<'_>, branch: &Branch) -> String {
    let job = wiring.job;
    match branch.owner {
        BranchOwner::Lead(lead) => job.lead(lead).name.clone(),
        BranchOwner::Device(index) => job.devices[index].given.name.value.clone(),
        BranchOwner::Fault => "fault".to_owned(),
        BranchOwner::Bond(index) => {
            let bond = &job.bonds[index];
            let (from, to) = (&job.terminal(bond.from).name, &job.terminal(bond.to).name);
            let ends = |bond: &crate::job::Bond| (bond.from.min(bond.to), bond.from.max(bond.to));
            let twins = || {
                job.bonds
                    .iter()
                    .enumerate()
                    .filter(|(_, other)| ends(other) == ends(bond))
            };
            let number = twins().take_while(|(other, _)| *other < index).count() + 1;
            if twins().count() > 1 {
                format!("{from} to {to}, bond {number}")
            } else {
                format!("{from} to {to}")
            }
        }
    }
}

/// Where current comes to the way out otherwise than along it.
pub fn other_ways_out(
    wiring: &Wiring<'_>,
    solved: &Solved,
    source: &Source,
    steps: &[Step],
) -> Vec<OtherWay> {
    let look = Look {
        wiring,
        solved,
        back: false,
    };
    look.along(source, steps.iter().copied())
}

/// Where current leaves the way back otherwise than along it.
pub fn other_ways_back(
    wiring: &Wiring<'_>,
    solved: &Solved,
    source: &Source,
    steps: &[Step],
) -> Vec<OtherWay> {
    let look = Look {
        wiring,
        solved,
        back: true,
    };
    let turned = |step: &Step| Step {
        forward: !step.forward,
        ..*step
    };
    // From the source too: what is brought on the way out is what is taken on the way back.
    let mut found = look.along(source, steps.iter().rev().map(turned));
    found.reverse();
    found
}

/// Shares below one in a hundred are not worth telling.
const LEAST_SHARE: f64 = 0.01;

struct Look<'a> {
    wiring: &'a Wiring<'a>,
    solved: &'a Solved,
    back: bool,
}

impl Look<'_> {
    fn along(&self, source: &Source, steps: impl Iterator<Item = Step>) -> Vec<OtherWay> {
        let start = if self.back {
            source.negative
        } else {
            source.positive
        };
        let steps: Vec<Step> = steps.collect();
        let mut found = Vec::new();
        let mut node = start;
        for (index, step) in steps.iter().enumerate() {
            let before = index.checked_sub(1).map(|index| steps[index].branch);
            self.note(node, before, step.branch, &source.name, &mut found);
            let branch = &self.solved.network.branches[step.branch];
            node = if step.forward { branch.to } else { branch.from };
        }
        found
    }

    /// What comes to a node besides what came along the way. `source` is told of at its own
    /// terminals only as what comes along the way.
    fn note(
        &self,
        node: usize,
        before: Option<usize>,
        next: usize,
        source: &str,
        found: &mut Vec<OtherWay>,
    ) {
        let brought = self.brought(node);
        let sum: f64 = brought.iter().map(|(_, _, amps)| amps).sum();
        for (by, branch, amps) in brought {
            let on_the_way = match branch {
                Some(branch) => branch == next || Some(branch) == before,
                None => before.is_none() && by == source,
            };
            let share = amps / sum;
            if !on_the_way && share >= LEAST_SHARE {
                found.push(OtherWay {
                    back: self.back,
                    at: self.wiring.job.terminals[node].name.clone(),
                    by,
                    amps,
                    share,
                });
            }
        }
    }

    /// Everything that brings current to a node (takes it away, on the way back): its name, its
    /// branch if it is one, and amperes.
    fn brought(&self, node: usize) -> Vec<(String, Option<usize>, f64)> {
        const NOTHING_A: f64 = 1e-6;
        let network = &self.solved.network;
        let mut all = Vec::new();
        for (index, branch) in network.branches.iter().enumerate() {
            let along = self.solved.branch_amps(index);
            let into = match (branch.from == node, branch.to == node) {
                (true, false) => -along,
                (false, true) => along,
                _ => continue,
            };
            let amps = if self.back { -into } else { into };
            if amps > NOTHING_A {
                all.push((owner_name(self.wiring, branch), Some(index), amps));
            }
        }
        for source in &network.sources {
            let pole = if self.back {
                source.negative
            } else {
                source.positive
            };
            let amps = source
                .current(self.solved.across(source.positive, source.negative))
                .0;
            if pole == node && amps > NOTHING_A {
                all.push((source.name.clone(), None, amps));
            }
        }
        all
    }
}
