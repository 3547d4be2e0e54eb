//! The loop through which the capacitors of a load are charged.

use super::fault::strong_network;
use super::wiring::Wiring;
use crate::job::{Job, LeadId, Load, TerminalId};

/// A loop with its drive and resistance, and what lies in it on the positive side.
#[derive(Debug, Clone)]
pub struct ChargingLoop {
    /// Volts before anything flows.
    pub volts: f64,
    /// Resistance of everything in the loop: batteries, leads and joints.
    pub ohm: f64,
    /// Leads from the battery to the load, the last first.
    pub leads: Vec<LeadId>,
    /// Switches, contactors and connectors on the way, by position.
    pub devices: Vec<usize>,
}

/// The loop of a load with full, warm batteries and cold conductors, which is when most flows.
/// `None` where no battery feeds the load straight.
pub fn charging_loop(wiring: &Wiring<'_>, load: &Load) -> Option<ChargingLoop> {
    let way = way_to_battery(wiring.job, load.positive)?;
    let network = strong_network(wiring);
    let solver = &wiring.frames.strong.solver;
    let solution = solver.solve(&network);
    let (positive, negative) = (load.positive.0, load.negative.0);
    let answer = solver.answer(&network, &solution, &[(positive, 1.0), (negative, -1.0)]);
    let mut found = ChargingLoop {
        volts: solution.volts[positive] - solution.volts[negative],
        ohm: answer[positive] - answer[negative],
        leads: Vec::new(),
        devices: Vec::new(),
    };
    for step in way {
        match step {
            Step::Lead(lead) => found.leads.push(lead),
            Step::Device(device) => found.devices.push(device),
        }
    }
    (found.ohm > 0.0).then_some(found)
}

/// One conductor of a way.
#[derive(Clone, Copy)]
enum Step {
    Lead(LeadId),
    Device(usize),
}

/// The conductors from a terminal to the nearest positive pole of a battery, by their number.
fn way_to_battery(job: &Job, from: TerminalId) -> Option<Vec<Step>> {
    let leads = job
        .leads()
        .map(|(id, lead)| (Step::Lead(id), lead.from, lead.to));
    let devices = job.devices.iter().enumerate();
    let devices = devices.map(|(index, device)| (Step::Device(index), device.input, device.output));
    let edges: Vec<(Step, TerminalId, TerminalId)> = leads.chain(devices).collect();
    let mut came: Vec<Option<(Step, TerminalId)>> = vec![None; job.terminals.len()];
    let mut waiting = vec![from];
    let mut next = 0;
    while let Some(here) = waiting.get(next).copied() {
        next += 1;
        if job.batteries.iter().any(|battery| battery.positive == here) {
            return Some(walk_back(&came, here, from));
        }
        for (step, a, b) in &edges {
            let there = match here {
                _ if *a == here => *b,
                _ if *b == here => *a,
                _ => continue,
            };
            if !waiting.contains(&there) {
                came[there.0] = Some((*step, here));
                waiting.push(there);
            }
        }
    }
    None
}

fn walk_back(
    came: &[Option<(Step, TerminalId)>],
    mut here: TerminalId,
    from: TerminalId,
) -> Vec<Step> {
    let mut steps = Vec::new();
    while here != from {
        let Some((step, before)) = came[here.0] else {
            break;
        };
        steps.push(step);
        here = before;
    }
    steps.reverse();
    steps
}
