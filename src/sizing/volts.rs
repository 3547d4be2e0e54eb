//! Raising leads until every load has its volts.

use super::choose::Choice;
use super::guardable::Taste;
use crate::check::Verdict;
use crate::circuit::{Judged, Solved, influence, judge};
use crate::job::LeadId;

/// Volts that a load lacks, and the nodes that it lacks them between.
struct Lack {
    higher: usize,
    lower: usize,
    volts: f64,
}

fn lacking(judged: &[Judged]) -> Vec<Lack> {
    let failed = judged
        .iter()
        .filter(|item| item.check.verdict == Verdict::Fail);
    failed
        .filter_map(|item| {
            let (higher, lower) = item.nodes?;
            let volts = (item.check.value? - item.check.limit?).abs();
            Some(Lack {
                higher,
                lower,
                volts,
            })
        })
        .collect()
}

impl Choice<'_> {
    /// Raises the lead that helps most until no load lacks volts or nothing helps; tells which.
    pub fn raise_for_voltage(&mut self, raised: &mut [bool]) -> bool {
        let mut any = false;
        for state in &self.job.states {
            loop {
                let wiring = self.wiring();
                let solved = Solved::of(&wiring, state);
                let lacking = lacking(&judge(&wiring, state, &solved));
                if lacking.is_empty() {
                    break;
                }
                if let Some((lead, rung)) = self.best_to_raise(&solved, &lacking) {
                    self.at[lead] = rung;
                    raised[lead] = true;
                } else if !self.spare_the_devices(&solved) {
                    break;
                }
                any = true;
            }
        }
        any
    }

    /// The lead, and the rung of its ladder, that gives the load that lacks most most of its volts
    /// for the price; `None` when nothing is missing or nothing helps.
    fn best_to_raise(&self, solved: &Solved, lacking: &[Lack]) -> Option<(usize, usize)> {
        let worst = lacking.iter().max_by(|a, b| a.volts.total_cmp(&b.volts))?;
        let answer = influence(&solved.network, &solved.solution, worst.higher, worst.lower);
        (0..self.ladders.len())
            .filter_map(|lead| {
                let rung = self.next_conductor(lead)?;
                let worth = self.worth(solved, (lead, rung), &answer, worst.volts)?;
                Some((worth, lead, rung))
            })
            .max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(&a.1)))
            .map(|(_, lead, rung)| (lead, rung))
    }

    /// Where no cable helps any more, a device that loses less may: asks for such devices wherever
    /// current flows. Whether any was asked anew.
    fn spare_the_devices(&mut self, solved: &Solved) -> bool {
        let mut any = false;
        for lead in 0..self.tastes.len() {
            let flows = solved.lead_amps(LeadId(lead)).abs() > 1e-6;
            if flows && self.guards[lead].is_some() && self.tastes[lead] == Taste::Cheapest {
                self.tastes[lead] = Taste::LeastLoss;
                any = true;
            }
        }
        if any {
            self.raise_for_load();
        }
        any
    }

    /// The next rung with less resistance; the one right above may only have better insulation.
    fn next_conductor(&self, lead: usize) -> Option<usize> {
        let resistance = |rung: usize| self.ladders[lead][rung].cable.max_resistance;
        let now = resistance(self.at[lead]);
        (self.at[lead] + 1..self.ladders[lead].len()).find(|rung| resistance(*rung) < now)
    }

    /// Missing volts gained for each unit of money by a higher rung of a lead.
    fn worth(
        &self,
        solved: &Solved,
        (lead, rung): (usize, usize),
        answer: &[f64],
        missing: f64,
    ) -> Option<f64> {
        const WORTH_LOOKING_AT_V: f64 = 1e-6;
        let thicker = self.ladders[lead].get(rung)?;
        let thinner = &self.ladders[lead][self.at[lead]];
        let branch = solved.network.branches.get(lead)?;
        let length = self.route.leads[lead].cut();
        let cable_now = thinner.cable.max_resistance.of(length).ohm();
        let cable_next = thicker.cable.max_resistance.of(length).ohm();
        let amps = solved.lead_amps(LeadId(lead));
        let reaches = (answer[branch.from] - answer[branch.to]) / branch.ohm();
        let gained = (cable_next - cable_now) * amps * reaches;
        if gained < WORTH_LOOKING_AT_V {
            return None;
        }
        let way = &self.route.leads[lead];
        let dearer = (thicker.lead_price(way) - thinner.lead_price(way)).max(1e-3);
        Some(gained.min(missing) / dearer)
    }
}
