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
use crate::circuit::{Faults, LeadDuty, Wiring, duties};
use crate::job::{Job, LeadId};
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
    /// Every breaker and fuse, cheapest first.
    pub devices: Vec<Protective<'a>>,
    /// The device reckoned for each lead.
    pub guards: Vec<Option<Chosen>>,
    /// Which device each lead takes where several do.
    pub tastes: Vec<Taste>,
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
    pub fn raise_for_load(&mut self) -> bool {
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
}
