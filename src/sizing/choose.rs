//! The choice of sizes.
//!
//! 1. Every lead starts at its thinnest cable.
//! 2. Leads that are overloaded go up until they carry their duty.
//! 3. While a load lacks voltage, the lead goes up that gives it most volts for the money.
//! 4. Leads that went up for voltage come down again where nothing breaks, in two orders of which
//!    the cheaper outcome counts.
//!
//! Each choice looks at all states, so a shared lead may grow instead of its branches.

use super::candidates::Candidate;
use super::carry::{Burden, burden};
use super::guardable::{Chosen, Guardable, Taste};
use crate::catalog::{Catalog, Protective};
use crate::check::{Check, Verdict};
use crate::circuit::{Faults, Judged, LeadDuty, Solved, Wiring, duties, influence, judge};
use crate::job::{Job, LeadId, State};
use crate::quantity::Resistance;
use crate::route::Route;

/// The state of the choice.
#[derive(Clone)]
pub struct Choice<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its route.
    pub route: &'a Route,
    /// Parts and tables.
    pub catalog: &'a Catalog,
    /// The cables of every lead, thinnest first.
    pub ladders: Vec<Vec<Candidate<'a>>>,
    /// Position of each lead on its ladder.
    pub at: Vec<usize>,
    devices: Vec<Protective<'a>>,
    guards: Vec<Option<Chosen>>,
    tastes: Vec<Taste>,
}

/// Rounds of raising for load and for voltage; each raises at least one lead or is the last.
const MOST_ROUNDS: usize = 12;

impl<'a> Choice<'a> {
    /// Chooses all sizes.
    pub fn make(
        job: &'a Job,
        route: &'a Route,
        catalog: &'a Catalog,
        ladders: Vec<Vec<Candidate<'a>>>,
    ) -> Self {
        let leads = ladders.len();
        let mut choice = Self {
            job,
            route,
            catalog,
            ladders,
            at: vec![0; leads],
            devices: catalog.protective(),
            guards: vec![None; leads],
            tastes: vec![Taste::Cheapest; leads],
        };
        let raised = choice.raise();
        choice.lower_the_cheaper_way(&raised);
        choice
    }

    /// Lowers dearest leads first and cheapest leads first, and keeps what costs less.
    fn lower_the_cheaper_way(&mut self, raised: &[bool]) {
        let dearest_first = self.by_price(raised);
        let cheapest_first: Vec<usize> = dearest_first.iter().rev().copied().collect();
        let mut lowered = [dearest_first, cheapest_first].map(|order| {
            let mut attempt = self.clone();
            attempt.lower_where_idle(&order);
            // A thinner cable may need another device, and shifts currents between parallel leads.
            attempt.raise();
            attempt
        });
        lowered.sort_by(|a, b| a.total_price().total_cmp(&b.total_price()));
        let [cheaper, _] = lowered;
        *self = cheaper;
    }

    /// Leads that went up for the volts, dearest first.
    fn by_price(&self, raised: &[bool]) -> Vec<usize> {
        let mut order: Vec<usize> = (0..raised.len()).filter(|lead| raised[*lead]).collect();
        let price = |lead: usize| self.lead_price(lead);
        order.sort_by(|a, b| price(*b).total_cmp(&price(*a)).then(a.cmp(b)));
        order
    }

    fn lead_price(&self, lead: usize) -> f64 {
        self.chosen(LeadId(lead))
            .lead_price(&self.route.leads[lead])
    }

    fn total_price(&self) -> f64 {
        (0..self.ladders.len())
            .map(|lead| self.lead_price(lead))
            .sum()
    }

    /// Raises leads until they carry, can be guarded and give every load its volts. Tells which
    /// went up for the volts.
    fn raise(&mut self) -> Vec<bool> {
        let mut raised = vec![false; self.ladders.len()];
        for _ in 0..MOST_ROUNDS {
            let carried = self.raise_for_load();
            let volted = self.raise_for_voltage(&mut raised);
            if !carried && !volted {
                break;
            }
        }
        raised
    }

    /// The candidate chosen for a lead.
    pub fn chosen(&self, lead: LeadId) -> &Candidate<'a> {
        &self.ladders[lead.0][self.at[lead.0]]
    }

    /// The device reckoned for a lead.
    pub fn device(&self, lead: LeadId) -> Option<&Chosen> {
        self.guards[lead.0].as_ref()
    }

    fn guard_resistances(&self) -> Vec<Resistance> {
        let guards = self.guards.iter();
        let ohms = |guard: &Option<Chosen>| {
            guard
                .as_ref()
                .map_or(Resistance::ZERO, |device| device.resistance)
        };
        guards.map(ohms).collect()
    }

    /// The wiring with the sizes chosen so far.
    pub fn wiring(&self) -> Wiring<'a> {
        let leads = 0..self.ladders.len();
        let chosen = leads.map(|lead| self.chosen(LeadId(lead)));
        Wiring {
            job: self.job,
            route: self.route,
            catalog: self.catalog,
            cables: chosen.clone().map(|candidate| candidate.cable).collect(),
            ampacities: chosen.map(|candidate| candidate.allowed.current).collect(),
            guards: self.guard_resistances(),
        }
    }

    /// How a lead's candidate stands to its duty.
    pub fn burden(&self, lead: LeadId, rung: usize, duty: &LeadDuty) -> Burden {
        let candidate = &self.ladders[lead.0][rung];
        let way = &self.route.leads[lead.0];
        burden(candidate, way, duty, self.catalog)
    }

    /// Raises leads until each carries its duty and can be guarded.
    fn raise_for_load(&mut self) -> bool {
        let mut any = false;
        // Each round but the last raises at least one lead by one size.
        for _ in 0..self.ladders.iter().map(Vec::len).sum() {
            let wiring = self.wiring();
            let (duties, faults) = (duties(&wiring), Faults::of(&wiring));
            let mut raised = false;
            for (lead, duty) in duties.iter().enumerate() {
                let id = LeadId(lead);
                let taste = self.tastes[lead];
                let guardable = Guardable::of(&wiring, &faults, &self.devices, id, duty, taste);
                if let Guardable::Yes(device) = &guardable {
                    self.guards[lead] = Some(device.clone());
                }
                if matches!(
                    self.burden(id, self.at[lead], duty),
                    Burden::Overloaded { .. }
                ) {
                    raised |= self.thicker(id);
                } else if let Guardable::WithThicker { lead, .. } = guardable {
                    raised |= self.thicker(lead);
                }
            }
            any |= raised;
            if !raised {
                break;
            }
        }
        any
    }

    /// One size thicker, if there is one.
    fn thicker(&mut self, lead: LeadId) -> bool {
        let thicker = self.at[lead.0] + 1 < self.ladders[lead.0].len();
        self.at[lead.0] += usize::from(thicker);
        thicker
    }

    fn raise_for_voltage(&mut self, raised: &mut [bool]) -> bool {
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

    fn lower_where_idle(&mut self, order: &[usize]) {
        let already_lacking = self.all_lacking();
        let duties = duties(&self.wiring());
        for lead in order.iter().copied() {
            let breaks =
                |choice: &mut Self| choice.breaks_when_lowered(lead, &duties, already_lacking);
            while self.at[lead] > 0 && breaks(self).is_none() {
                self.at[lead] -= 1;
            }
        }
    }

    /// How many voltage limits are broken.
    pub fn all_lacking(&self) -> usize {
        let wiring = self.wiring();
        let states = self.job.states.iter();
        states.map(|state| failing(&wiring, state).len()).sum()
    }

    /// What the next thinner size of a lead would break, if anything, the currents being those of
    /// `duties`; `lacking` voltage limits are broken already.
    pub fn breaks_when_lowered(
        &mut self,
        lead: usize,
        duties: &[LeadDuty],
        lacking: usize,
    ) -> Option<Broken> {
        self.at[lead] -= 1;
        let broken = self.what_breaks(lead, duties, lacking);
        self.at[lead] += 1;
        broken
    }

    fn what_breaks(&self, lead: usize, duties: &[LeadDuty], lacking: usize) -> Option<Broken> {
        if let Burden::Overloaded { what } = self.burden(LeadId(lead), self.at[lead], &duties[lead])
        {
            return Some(Broken { what, check: None });
        }
        let wiring = self.wiring();
        if let Some(what) = self.unguarded(&wiring, LeadId(lead), duties) {
            return Some(Broken { what, check: None });
        }
        let mut broken = Vec::new();
        for state in &self.job.states {
            broken.extend(failing(&wiring, state));
        }
        if broken.len() <= lacking {
            return None;
        }
        broken.into_iter().next().map(|check| {
            let state = check.state.as_deref().unwrap_or_default();
            Broken {
                what: format!("{} ({state}): {}", check.rule, check.note),
                check: Some(check),
            }
        })
    }

    /// Why no device guards a lead, or the lead whose load a return serves.
    fn unguarded(&self, wiring: &Wiring<'_>, lead: LeadId, duties: &[LeadDuty]) -> Option<String> {
        let faults = Faults::of(wiring);
        (0..duties.len()).map(LeadId).find_map(|id| {
            match Guardable::of(
                wiring,
                &faults,
                &self.devices,
                id,
                &duties[id.0],
                Taste::Cheapest,
            ) {
                Guardable::WithThicker { what, lead: thin } if thin == lead => Some(what),
                _ => None,
            }
        })
    }

    /// Part of its limit that is left of the check that a thinner size would break.
    pub fn left_of(&self, broken: &Check) -> Option<f64> {
        let wiring = self.wiring();
        let state = self
            .job
            .states
            .iter()
            .find(|state| Some(&state.name) == broken.state.as_ref())?;
        let solved = Solved::of(&wiring, state);
        let now = judge(&wiring, state, &solved)
            .into_iter()
            .map(|item| item.check);
        let same = |check: &Check| check.rule == broken.rule && check.subject == broken.subject;
        let check = now.into_iter().find(same)?;
        let (value, limit) = (check.value?, check.limit?);
        Some(((limit - value) / limit).abs())
    }
}

/// What a thinner size breaks.
pub struct Broken {
    /// In words.
    pub what: String,
    /// The check on voltage that fails, if it is one.
    pub check: Option<Check>,
}

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

/// Failed verdicts of a state that cables can better.
fn failing(wiring: &Wiring<'_>, state: &State) -> Vec<Check> {
    let solved = Solved::of(wiring, state);
    let judged = judge(wiring, state, &solved).into_iter();
    judged
        .filter(|item| item.nodes.is_some() && item.check.verdict == Verdict::Fail)
        .map(|item| item.check)
        .collect()
}
