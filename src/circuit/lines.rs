//! The lines of a ledger: what each part of a way takes, and where current takes another way.

use serde::Serialize;

use super::network::{Branch, BranchOwner, Source};
use super::operate::Solved;
use super::shares::Shares;
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

/// Part of a load's current that comes to a point of its way, or leaves it, otherwise than along the
/// way.
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
    /// Share of all of the load's current that comes to the point, or leaves it.
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

/// Where a load's current comes to its way, or leaves it, otherwise than along it. The steps lead
/// from the source on the way out, and to it on the way back.
pub fn other_ways(
    wiring: &Wiring<'_>,
    solved: &Solved,
    shares: &Shares<'_>,
    way: (&Source, &[Step]),
    back: bool,
) -> Vec<OtherWay> {
    let (source, steps) = way;
    let look = Look {
        wiring,
        solved,
        shares,
        source,
        on_the_way: steps.iter().map(|step| step.branch).collect(),
        back,
    };
    let mut found = Vec::new();
    if !back {
        look.note(source.positive, shares.source(source), &mut found);
    }
    for step in steps {
        let branch = &solved.network.branches[step.branch];
        // Out: what comes to the end of each step. Back: what leaves its start.
        let node = if step.forward == back {
            branch.from
        } else {
            branch.to
        };
        look.note(node, shares.branch(step.branch), &mut found);
    }
    if back {
        look.note(source.negative, shares.source(source), &mut found);
    }
    found
}

/// Shares below one in a hundred are not worth telling.
const LEAST_SHARE: f64 = 0.01;

struct Look<'a> {
    wiring: &'a Wiring<'a>,
    solved: &'a Solved,
    shares: &'a Shares<'a>,
    /// The source at the end of the way.
    source: &'a Source,
    on_the_way: Vec<usize>,
    back: bool,
}

impl Look<'_> {
    /// What comes to a node, or leaves it, besides what takes the way.
    fn note(&self, node: usize, own: f64, found: &mut Vec<OtherWay>) {
        let others = self.others(node);
        let sum: f64 = own.abs() + others.iter().map(|(_, amps)| amps).sum::<f64>();
        for (by, amps) in others {
            let share = amps / sum;
            if share >= LEAST_SHARE {
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

    /// Everything off the way that brings a part of the load's current to a node, or takes it away
    /// on the way back, with that part.
    fn others(&self, node: usize) -> Vec<(String, f64)> {
        let network = &self.solved.network;
        let sign = if self.back { -1.0 } else { 1.0 };
        let mut all = Vec::new();
        for (index, branch) in network.branches.iter().enumerate() {
            let along = sign * self.shares.branch(index);
            let amps = match (branch.from == node, branch.to == node) {
                _ if self.on_the_way.contains(&index) => continue,
                (true, false) => -along,
                (false, true) => along,
                _ => continue,
            };
            all.push((owner_name(self.wiring, branch), amps));
        }
        for source in &self.solved.givers() {
            let pole = if self.back {
                source.negative
            } else {
                source.positive
            };
            if pole == node && source.name != self.source.name {
                all.push((source.name.to_string(), self.shares.source(source)));
            }
        }
        all.retain(|(_, amps)| *amps > 0.0);
        all
    }
}
