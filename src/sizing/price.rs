//! What a lead costs with a cable: the cable itself and every fitting whose price follows the size.

use std::collections::BTreeMap;

use crate::catalog::{Boot, Cable, Catalog, Clamp, Lug, Polarity, Protective, RoughPrices, Sleeve};
use crate::job::{Job, Lead, LeadId, LegId, Stud};
use crate::quantity::Thread;
use crate::route::{EndPoint, Route, Support};

/// Prices the leads of a job.
#[derive(Debug, Clone)]
pub struct Pricing<'a> {
    job: &'a Job,
    route: &'a Route,
    catalog: &'a Catalog,
    prices: RoughPrices<'a>,
    /// Supports that hold one lead alone; position = lead id.
    own_supports: Vec<usize>,
    ends: BTreeMap<&'a str, EndPrices>,
}

/// What an end of one cable costs.
#[derive(Debug, Clone)]
struct EndPrices {
    /// The cheapest lug with its sleeve, for each stud that some lug is made for.
    lugs: Vec<(Thread, f64)>,
    /// The cheapest boot.
    boot: f64,
}

impl EndPrices {
    fn of(cable: &Cable, catalog: &Catalog, prices: &RoughPrices<'_>) -> Self {
        let outer = cable.outer_diameter;
        let sleeve = |lug: &Lug| {
            let covers = |sleeve: &&Sleeve| sleeve.covers(lug.barrel_outer, outer);
            let sleeves = catalog.sleeves.iter().filter(covers);
            cheapest(sleeves.map(|sleeve| prices.of(&sleeve.id)))
        };
        let takes = |boot: &&Boot| boot.min_cable <= outer && outer <= boot.max_cable;
        let boots = catalog.boots.iter().filter(takes);
        let lugs = catalog.lugs.iter().filter(|lug| lug.fits(cable));
        Self {
            lugs: lugs
                .map(|lug| (lug.stud, prices.of(&lug.id) + sleeve(lug)))
                .collect(),
            boot: cheapest(boots.map(|boot| prices.of(&boot.id))),
        }
    }

    /// The cheapest lug for a stud, or for any; nothing where none goes on: the checks tell that.
    fn lug(&self, stud: Option<Thread>) -> f64 {
        let suits = |(thread, _): &&(Thread, f64)| stud.is_none_or(|stud| *thread == stud);
        cheapest(self.lugs.iter().filter(suits).map(|(_, price)| *price))
    }
}

impl<'a> Pricing<'a> {
    /// Looks up all prices once.
    pub fn of(job: &'a Job, route: &'a Route, catalog: &'a Catalog) -> Self {
        let prices = catalog.rough_prices();
        let cables = catalog.cables.iter();
        let ends = cables.map(|cable| {
            let ends = EndPrices::of(cable, catalog, &prices);
            (cable.id.value.as_str(), ends)
        });
        Self {
            job,
            route,
            catalog,
            ends: ends.collect(),
            prices,
            own_supports: own_supports(job, route),
        }
    }

    /// The price of a device with its holder, for comparing.
    pub fn device(&self, device: &Protective<'_>) -> f64 {
        self.prices.of_device(device)
    }

    /// The price of a lead made of a cable: the metres to cut, a lug, sleeve and boot for every end
    /// on a stud, and the clamps on legs that no other lead shares.
    pub fn lead(&self, id: LeadId, lead: &Lead, cable: &Cable) -> f64 {
        let way = &self.route.leads[id.0];
        let metres = self.prices.of(&cable.id) * way.cut().m();
        let ends = way
            .sections
            .iter()
            .flat_map(|section| [section.from, section.to]);
        let made: f64 = ends.map(|end| self.end(lead, end, cable)).sum();
        metres + made + self.clamps(id, cable)
    }

    fn end(&self, lead: &Lead, end: EndPoint, cable: &Cable) -> f64 {
        let stud = match end {
            EndPoint::Terminal(terminal) => match self.job.terminal(terminal).stud {
                Stud::Thread(thread) => Some(thread),
                Stud::Post | Stud::Bus | Stud::Device => None,
            },
            _ => None,
        };
        let Some(ends) = self.ends.get(cable.id.value.as_str()) else {
            return 0.0;
        };
        let boot = if lead.polarity == Polarity::Positive {
            ends.boot
        } else {
            0.0
        };
        ends.lug(stud) + boot
    }

    fn clamps(&self, id: LeadId, cable: &Cable) -> f64 {
        match self.own_supports[id.0] {
            0 => 0.0,
            own => own as f64 * self.clamp(cable),
        }
    }

    /// The cheapest clamp for a cable by itself.
    pub fn clamp(&self, cable: &Cable) -> f64 {
        let grips = |clamp: &&Clamp| clamp.grips(cable.outer_diameter);
        let clamps = self.catalog.clamps.iter().filter(grips);
        cheapest(clamps.map(|clamp| self.prices.of(&clamp.id)))
    }

    /// Clamps that a lead would need to be held apart from others, beyond those it has.
    pub fn clamps_to_part(&self, id: LeadId) -> usize {
        let legs = &self.route.leads[id.0].way.legs;
        let on_way = |support: &&Support| legs.contains(&support.leg);
        let all = self.route.supports.iter().filter(on_way).count();
        all - self.own_supports[id.0].min(all)
    }
}

fn own_supports(job: &Job, route: &Route) -> Vec<usize> {
    let alone = route
        .bundles
        .iter()
        .filter_map(|bundle| match bundle.leads[..] {
            [lead] => Some((bundle.leg, lead)),
            _ => None,
        });
    let alone: BTreeMap<LegId, LeadId> = alone.collect();
    let mut own = vec![0; route.leads.len()];
    for support in &route.supports {
        if let Some(lead) = alone.get(&support.leg) {
            own[lead.0] += 1;
        }
    }
    let apart = job.leads().filter(|(_, lead)| lead.own_clamps);
    for (id, _) in apart {
        let legs = &route.leads[id.0].way.legs;
        let on_way = |support: &&Support| legs.contains(&support.leg);
        own[id.0] = route.supports.iter().filter(on_way).count();
    }
    own
}

fn cheapest(prices: impl Iterator<Item = f64>) -> f64 {
    let least = prices.fold(f64::INFINITY, f64::min);
    if least.is_finite() { least } else { 0.0 }
}
