//! Where the volts go: every part on the way from the source to each load and back.
//!
//! The volts of the parts add up to those of the source at its terminals less those of the load.

use serde::Serialize;

use super::corner::{Corners, Harm, Quantity};
use super::grounds::{self, GroundOffset};
use super::lines::{self, LedgerLine, OtherWay};
use super::network::{BranchOwner, Draw, Source};
use super::operate::Solved;
use super::shares::Shares;
use super::ways::{Step, Ways};
use super::wiring::Wiring;
use crate::check::{Check, CheckRule};
use crate::file::words;
use crate::job::State;

words! {
    /// What a source does in a state.
    pub enum Standing as "what a source does" {
        /// It gives current.
        Gives = "gives current",
        /// It gives all that it can, and no longer holds its voltage.
        AtLimit = "gives its limit",
        /// It is charged by another.
        Charged = "is charged",
        /// Nothing flows.
        Idle = "idle",
    }
}

/// Where the volts go in one state.
#[derive(Debug, Clone, Default, Serialize)]
pub struct StateLedger {
    /// Batteries, alternators and converters.
    pub sources: Vec<SourceVolts>,
    /// Loads that are on.
    pub loads: Vec<LoadLedger>,
    /// Stretches of body that carry current.
    pub bonds: Vec<BondFlow>,
}

/// Volts within and at a source.
#[derive(Debug, Clone, Serialize)]
pub struct SourceVolts {
    /// Its name.
    pub name: String,
    /// What it does.
    pub standing: Standing,
    /// Volts without current: open-circuit, or regulated.
    pub open_v: f64,
    /// Its own resistance.
    pub milliohm: f64,
    /// What its own resistance takes.
    pub inside_v: f64,
    /// Volts at its terminals.
    pub terminals_v: f64,
    /// Amperes that it gives; below zero when it is charged.
    pub amps: f64,
}

/// The way of one load's current, and what each part of it takes.
#[derive(Debug, Clone, Serialize)]
pub struct LoadLedger {
    /// Its name.
    pub load: String,
    /// Whether it resets or fails when the supply dips.
    pub sensitive: bool,
    /// What it draws.
    pub amps: f64,
    /// Volts between its terminals, as planned.
    pub volts: f64,
    /// The same at the worst corner.
    pub worst_v: f64,
    /// What the volts depend on most of what is not known exactly.
    pub moved_by: Option<&'static str>,
    /// Volts that it needs.
    pub least_v: Option<f64>,
    /// The source that feeds it; none where every source is below it, or joined by no conductor.
    pub source: Option<String>,
    /// Volts at the terminals of that source.
    pub source_v: Option<f64>,
    /// Volts lost out and back, as planned.
    pub lost_v: Option<f64>,
    /// The same at the worst corner.
    pub lost_worst_v: Option<f64>,
    /// Volts that it may lose.
    pub lost_limit_v: Option<f64>,
    /// Part of the limit that is closest that is left at the worst corner; below nothing when it is
    /// broken.
    pub spare: Option<f64>,
    /// Parts from the source's positive terminal to the load.
    pub out: Vec<LedgerLine>,
    /// Parts from the load to the source's negative terminal.
    pub back: Vec<LedgerLine>,
    /// Where current also comes, or goes back, another way.
    pub other_ways: Vec<OtherWay>,
    /// How far the ground of a sensitive load is from that of the engine.
    pub ground: Option<GroundOffset>,
}

/// Current through a stretch of body.
#[derive(Debug, Clone, Serialize)]
pub struct BondFlow {
    /// The two points; those of several bonds between the same points are numbered.
    pub name: String,
    /// The point that current flows to.
    pub towards: String,
    /// Amperes.
    pub amps: f64,
    /// What it loses.
    pub millivolt: f64,
    /// What it turns to heat.
    pub watts: f64,
    /// Whose current that is; small parts left out.
    pub loads: Vec<BondShare>,
}

/// Part of a load's current that flows through a stretch of body.
#[derive(Debug, Clone, Serialize)]
pub struct BondShare {
    /// The load.
    pub load: String,
    /// Amperes of its current, in the direction of the whole.
    pub amps: f64,
}

/// A state with the shares of its loads, while its ledger is written.
struct Desk<'a> {
    wiring: &'a Wiring<'a>,
    solved: &'a Solved,
    checks: &'a [Check],
}

/// Where the volts go in a state. `checks` are the verdicts on its voltages.
pub fn ledger(
    wiring: &Wiring<'_>,
    state: &State,
    corners: &mut Corners,
    checks: &[Check],
) -> StateLedger {
    let solved = &*std::sync::Arc::clone(&corners.solved);
    let desk = Desk {
        wiring,
        solved,
        checks,
    };
    let factors = solved.solver.factors(&solved.network, &solved.solution);
    let draws = solved.network.draws.iter();
    let draws = draws.filter(|draw| state.loads.contains(&draw.load));
    let (mut loads, mut bonds) = (Vec::new(), desk.bonds());
    for draw in draws {
        let volts = solved.across(draw.positive, draw.negative);
        let amps = draw.current(volts, solved.network.floor_v).0;
        let shares = factors
            .as_ref()
            .map(|factors| Shares::of(solved, factors, draw, amps));
        loads.push(desk.load(draw, shares.as_ref(), corners));
        if let Some(shares) = shares {
            note_shares(&mut bonds, &draw.name, &shares);
        }
    }
    StateLedger {
        sources: solved
            .givers()
            .iter()
            .map(|giver| source(solved, giver))
            .collect(),
        bonds: bonds.into_iter().map(|(_, bond)| bond).collect(),
        loads,
    }
}

fn source(solved: &Solved, source: &Source) -> SourceVolts {
    /// Less than this is the rounding of the solution.
    const NOTHING_A: f64 = 1e-6;
    let terminals_v = solved.across(source.positive, source.negative);
    let amps = source.current(terminals_v).0;
    let standing = match source.limit_a {
        Some(limit) if amps >= limit => Standing::AtLimit,
        _ if amps > NOTHING_A => Standing::Gives,
        _ if amps < -NOTHING_A => Standing::Charged,
        _ => Standing::Idle,
    };
    SourceVolts {
        name: source.name.to_string(),
        standing,
        open_v: source.volts,
        milliohm: source.ohm * 1e3,
        inside_v: amps * source.ohm,
        terminals_v,
        amps,
    }
}

impl Desk<'_> {
    fn load(&self, draw: &Draw, shares: Option<&Shares<'_>>, corners: &mut Corners) -> LoadLedger {
        let given = self.wiring.job.load(draw.load);
        let volts = self.solved.across(draw.positive, draw.negative);
        let across = Quantity::Across {
            higher: draw.positive,
            lower: draw.negative,
        };
        let supply = corners.worst(across, Harm::Low);
        let mut ledger = LoadLedger {
            load: draw.name.to_string(),
            sensitive: given.given.sensitive,
            amps: draw.current(volts, self.solved.network.floor_v).0,
            volts,
            worst_v: supply.worst,
            moved_by: supply.doubt.map(super::Doubt::as_str),
            least_v: given.given.least.map(|least| least.v()),
            source: None,
            source_v: None,
            lost_v: None,
            lost_worst_v: None,
            lost_limit_v: self.lost_limit(&draw.name),
            spare: None,
            out: Vec::new(),
            back: Vec::new(),
            other_ways: Vec::new(),
            ground: None,
        };
        if ledger.sensitive {
            ledger.ground = grounds::offset(self.wiring.job, corners, draw.negative);
        }
        self.follow(draw, shares, corners, &mut ledger);
        ledger.spare = self.spare(&ledger);
        ledger
    }

    /// Follows the way that most of a load's current takes from the source that feeds it and back.
    fn follow(
        &self,
        draw: &Draw,
        shares: Option<&Shares<'_>>,
        corners: &mut Corners,
        ledger: &mut LoadLedger,
    ) {
        let source = self.solved.feeding(draw.positive, ledger.volts);
        let (Some(source), Some(shares)) = (source, shares) else {
            return;
        };
        let ways = Ways::of(&self.solved.network, |branch| shares.branch(branch));
        let out = ways.between(source.positive, draw.positive);
        let back = ways.between(draw.negative, source.negative);
        let (Some(out), Some(back)) = (out, back) else {
            return;
        };
        let lost = Quantity::Lost {
            source: (source.positive, source.negative),
            load: (draw.positive, draw.negative),
        };
        let lost = corners.worst(lost, Harm::High);
        let source_v = self.solved.across(source.positive, source.negative);
        ledger.source = Some(source.name.to_string());
        ledger.source_v = Some(source_v);
        ledger.lost_v = Some(source_v - ledger.volts);
        ledger.lost_worst_v = Some(lost.worst);
        for (steps, is_back) in [(&out, false), (&back, true)] {
            let others =
                lines::other_ways(self.wiring, self.solved, shares, (&source, steps), is_back);
            ledger.other_ways.extend(others);
        }
        ledger.out = self.lines(&out);
        ledger.back = self.lines(&back);
    }

    fn lines(&self, steps: &[Step]) -> Vec<LedgerLine> {
        let steps = steps.iter();
        steps
            .flat_map(|step| lines::of_step(self.wiring, self.solved, *step))
            .collect()
    }

    /// The verdicts on what a load loses: one, or one for each side of a starter.
    fn drops(&self, load: &str) -> impl Iterator<Item = &Check> {
        let sides = ["positive side", "return side"].map(|side| format!("{load}, {side}"));
        let load = load.to_owned();
        self.checks.iter().filter(move |check| match check.rule {
            CheckRule::VoltageDrop => check.subject == load,
            CheckRule::CrankingDrop => sides.contains(&check.subject),
            _ => false,
        })
    }

    fn lost_limit(&self, load: &str) -> Option<f64> {
        let limits = self.drops(load).filter_map(|check| check.limit);
        limits.reduce(|sum, limit| sum + limit)
    }

    fn spare(&self, ledger: &LoadLedger) -> Option<f64> {
        let drops = self.drops(&ledger.load).filter_map(|check| {
            let (value, limit) = (check.value?, check.limit?);
            (limit > 0.0).then(|| (limit - value) / limit)
        });
        // Of the volts that may be lost between the source and what the load needs.
        let supply = ledger.least_v.map(|least| {
            let above = ledger.source_v.unwrap_or(least) - least;
            (ledger.worst_v - least) / above.abs().max(1e-6)
        });
        let least = drops.chain(supply).reduce(f64::min);
        least.map(|spare| spare.clamp(-1.0, 1.0))
    }

    /// The bonds that carry current, by position of their branch; whose it is comes later.
    fn bonds(&self) -> Vec<(usize, BondFlow)> {
        let branches = self.solved.network.branches.iter().enumerate();
        let carrying = branches.filter_map(|(index, branch)| {
            let along = self.solved.branch_amps(index);
            let is_bond = matches!(branch.owner, BranchOwner::Bond(_));
            (is_bond && along.abs() >= LEAST_BOND_A).then_some((index, branch, along))
        });
        carrying
            .map(|(index, branch, along)| {
                let towards = if along < 0.0 { branch.from } else { branch.to };
                let flow = BondFlow {
                    name: lines::owner_name(self.wiring, branch),
                    towards: self.wiring.job.terminals[towards].name.clone(),
                    amps: along.abs(),
                    millivolt: along.abs() * branch.ohm * 1e3,
                    watts: along * along * branch.ohm,
                    loads: Vec::new(),
                };
                (index, flow)
            })
            .collect()
    }
}

/// Less in a bond is not worth telling.
const LEAST_BOND_A: f64 = 0.05;

/// Part of a bond's current below which a load is not named.
const LEAST_BOND_SHARE: f64 = 0.02;

fn note_shares(bonds: &mut [(usize, BondFlow)], load: &str, shares: &Shares<'_>) {
    for (branch, bond) in bonds {
        let along = shares.solved_sign(*branch) * shares.branch(*branch);
        if along.abs() >= (bond.amps * LEAST_BOND_SHARE).max(LEAST_BOND_A) {
            bond.loads.push(BondShare {
                load: load.to_owned(),
                amps: along,
            });
        }
    }
}
