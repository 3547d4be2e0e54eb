//! Tools and dies that the job takes.

use super::Joint;
use super::ledger::Ledger;
use super::site::Site;
use super::words::mm;
use crate::catalog::{Part, Tool, ToolUse};
use crate::check::{Check, CheckRule};
use crate::quantity::{Length, Thread};

/// Sizes in millimetres, or torques in newton metres, that differ by less are the same.
const SAME: f64 = 0.05;

/// How much wider than its hole a drill may be.
const WIDER_MM: f64 = 0.5;

/// Collects ids, each once.
struct Chest<'a> {
    site: Site<'a>,
    ids: Vec<String>,
}

/// Ids of the tools and dies, each once: dies and presses, then hand tools, then instruments.
pub(super) fn fit(site: Site<'_>, joints: &[Joint], ledger: &mut Ledger) -> Vec<String> {
    let mut chest = Chest {
        site,
        ids: Vec::new(),
    };
    if site.job.leads.is_empty() {
        return chest.ids;
    }
    chest.dies(ledger);
    chest.cable_tools(ledger);
    chest.torque_wrenches(joints, ledger);
    chest.wrenches(ledger);
    chest.drills(ledger);
    if ledger.screws {
        chest.any(ToolUse::Screwdriver, ledger);
    }
    if ledger.rivet_nuts {
        chest.any(ToolUse::RivetNutSetter, ledger);
    }
    for purpose in [
        ToolUse::HotAir,
        ToolUse::Brush,
        ToolUse::Tape,
        ToolUse::Meter,
        ToolUse::EyeProtection,
    ] {
        chest.any(purpose, ledger);
    }
    chest.ids
}

impl<'a> Chest<'a> {
    fn add(&mut self, id: &str) {
        if !self.ids.iter().any(|known| known == id) {
            self.ids.push(id.to_owned());
        }
    }

    fn with(&self, purpose: ToolUse) -> Vec<&'a Tool> {
        let tools = self.site.catalog.tools.iter();
        tools.filter(|tool| tool.purpose == purpose).collect()
    }

    /// The first of its kind.
    fn any(&mut self, purpose: ToolUse, ledger: &mut Ledger) {
        match self.with(purpose).first() {
            Some(tool) => self.add(tool.id()),
            None => missing(&purpose.to_string(), ledger),
        }
    }

    fn dies(&mut self, ledger: &mut Ledger) {
        ledger.dies.sort();
        ledger.dies.dedup();
        let catalog = self.site.catalog;
        for id in &ledger.dies {
            self.add(id);
        }
        for die in catalog
            .dies
            .iter()
            .filter(|die| ledger.dies.contains(&die.id))
        {
            self.add(&die.press);
        }
    }

    fn cable_tools(&mut self, ledger: &mut Ledger) {
        let cables: Vec<f64> = diameters(self.site).iter().map(|one| one.mm()).collect();
        let range = |tool: &Tool| {
            (
                tool.least_cable.map(Length::mm),
                tool.most_cable.map(Length::mm),
            )
        };
        for purpose in [ToolUse::Cutter, ToolUse::Stripper] {
            for left in self.cover(purpose, &cables, range) {
                missing(
                    &format!("{purpose} for {} cable", mm(Length::from_mm(left))),
                    ledger,
                );
            }
        }
    }

    fn torque_wrenches(&mut self, joints: &[Joint], ledger: &mut Ledger) {
        let torques = joints.iter().filter_map(|joint| joint.torque.value);
        let torques: Vec<f64> = torques.map(|torque| torque.nm()).collect();
        let range = |tool: &Tool| {
            let (least, most) = (tool.least_torque, tool.most_torque);
            (least.map(|one| one.nm()), most.map(|one| one.nm()))
        };
        for left in self.cover(ToolUse::TorqueWrench, &torques, range) {
            missing(&format!("torque wrench for {left} N·m"), ledger);
        }
    }

    /// Takes the tools that cover most values first; gives the values that none covers.
    fn cover(
        &mut self,
        purpose: ToolUse,
        values: &[f64],
        range: impl Fn(&Tool) -> (Option<f64>, Option<f64>),
    ) -> Vec<f64> {
        let mut left = values.to_vec();
        left.sort_by(f64::total_cmp);
        left.dedup();
        let tools = self.with(purpose);
        let covers = |tool: &Tool, value: f64| {
            let (least, most) = range(tool);
            least.is_none_or(|least| value >= least - SAME)
                && most.is_none_or(|most| value <= most + SAME)
        };
        while !left.is_empty() {
            let count = |tool: &Tool| left.iter().filter(|value| covers(tool, **value)).count();
            let mut best: Option<(&Tool, usize)> = None;
            for tool in &tools {
                let covered = count(tool);
                if covered > best.map_or(0, |best| best.1) {
                    best = Some((tool, covered));
                }
            }
            let Some((tool, _)) = best else { break };
            left.retain(|value| !covers(tool, *value));
            self.add(tool.id());
        }
        left
    }

    fn wrenches(&mut self, ledger: &mut Ledger) {
        ledger.threads.sort();
        ledger.threads.dedup();
        let mut flats = ledger.flats.clone();
        for thread in ledger.threads.clone() {
            match self.site.catalog.thread(thread) {
                Some(row) => flats.push(row.across_flats),
                None => missing(&wrench_of(thread), ledger),
            }
        }
        flats.sort_by(Length::total_cmp);
        flats.dedup_by(|a, b| (a.mm() - b.mm()).abs() < SAME);
        for size in flats {
            let wrenches = self.with(ToolUse::Wrench).into_iter();
            let sized = wrenches.filter_map(|tool| Some((tool, apart(tool.size?, size))));
            let fitting = sized.filter(|(_, apart)| *apart < SAME);
            let nearest = fitting.min_by(|a, b| a.1.total_cmp(&b.1));
            match nearest.map(|(tool, _)| tool) {
                Some(tool) => self.add(tool.id()),
                None => missing(&format!("wrench {}", mm(size)), ledger),
            }
        }
    }

    fn drills(&mut self, ledger: &mut Ledger) {
        if ledger.holes.is_empty() {
            return;
        }
        self.any(ToolUse::Drill, ledger);
        self.any(ToolUse::Deburrer, ledger);
        let mut holes: Vec<Length> = ledger.holes.iter().map(|hole| hole.diameter).collect();
        holes.sort_by(Length::total_cmp);
        holes.dedup_by(|a, b| same(*a, *b));
        for hole in holes {
            let bits = self.with(ToolUse::DrillBit).into_iter();
            let wide_enough = bits.filter_map(|tool| Some((tool, tool.size?.mm() - hole.mm())));
            let best = wide_enough
                .filter(|(_, wider)| (-SAME..=WIDER_MM).contains(wider))
                .min_by(|a, b| a.1.total_cmp(&b.1));
            match best {
                Some((tool, _)) => self.add(tool.id()),
                None => missing(&format!("drill bit {}", mm(hole)), ledger),
            }
        }
    }
}

fn same(a: Length, b: Length) -> bool {
    apart(a, b) < SAME
}

/// Millimetres between two sizes.
fn apart(a: Length, b: Length) -> f64 {
    (a.mm() - b.mm()).abs()
}

fn wrench_of(thread: Thread) -> String {
    format!("wrench for {thread}")
}

fn missing(what: &str, ledger: &mut Ledger) {
    let why = "the catalog holds no such tool; add it, or see that you have one";
    ledger
        .checks
        .push(Check::open(CheckRule::Supply, what, why));
}

/// Thickness of every cable used, each once.
fn diameters(site: Site<'_>) -> Vec<Length> {
    let leads = site.job.leads();
    let mut found: Vec<Length> = leads.filter_map(|(id, _)| site.diameter(id)).collect();
    found.sort_by(Length::total_cmp);
    found.dedup();
    found
}
