//! What a lead may be outfitted with: a cable and, where it is protected, a device.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::candidates::Candidate;
use super::carry::{Burden, burden};
use super::exact::Leeway;
use super::price::Pricing;
use crate::catalog::{Catalog, Protective};
use crate::circuit::{Frames, Guarding, LeadDuty, Wiring, stands_a2s, wanted};
use crate::job::{Job, LeadId};
use crate::quantity::{Current, Resistance, Thread};
use crate::route::Route;

/// One cable with one device.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outfit {
    /// Position of the cable on the lead's ladder.
    pub rung: usize,
    /// Position of the device among all, if the lead has one.
    pub device: Option<usize>,
    /// Rough price of cable, fittings and device.
    pub price: f64,
}

/// Everything that sizes are chosen from.
#[derive(Debug, Clone)]
pub struct Stock<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its route.
    pub route: &'a Route,
    /// Parts and tables.
    pub catalog: &'a Catalog,
    /// The cables of every lead, thinnest first; position = lead id.
    pub ladders: Vec<Vec<Candidate<'a>>>,
    /// Every breaker and fuse, cheapest first.
    pub devices: Vec<Protective<'a>>,
    /// What leads and their fittings cost.
    pub pricing: Pricing<'a>,
    /// Rough price of each of them, holder included.
    device_prices: Vec<f64>,
    /// The turn of each lead by its name, from 0 to 1.
    pub turns: Vec<f64>,
    /// How far limits on volts may be passed.
    pub leeway: Leeway,
    /// The studs that each cable has a lug for, by the cable's id.
    studs: BTreeMap<&'a str, Vec<Thread>>,
    /// What no choice changes in the networks of the job.
    pub frames: Arc<Frames>,
}

/// The task of a lead's device as far as sizes leave it open.
pub struct Tasks<'a> {
    /// With the least current that any sizes leave the lead.
    pub least: Guarding<'a>,
    /// With the thickest cables everywhere.
    pub thickest: Guarding<'a>,
}

impl<'a> Stock<'a> {
    /// Looks up cables and devices.
    pub fn of(job: &'a Job, route: &'a Route, catalog: &'a Catalog) -> Self {
        let pricing = Pricing::of(job, route, catalog);
        let devices = catalog.protective();
        Self {
            ladders: super::candidates::candidates(job, route, catalog, &pricing),
            device_prices: devices
                .iter()
                .map(|device| pricing.device(device))
                .collect(),
            studs: catalog
                .cables
                .iter()
                .map(|cable| (cable.id.value.as_str(), catalog.studs_for(cable)))
                .collect(),
            turns: turns(job),
            leeway: Leeway::default(),
            frames: Frames::of(job, catalog),
            devices,
            pricing,
            job,
            route,
            catalog,
        }
    }

    /// The same with limits on volts that may be passed.
    pub fn with_leeway(&self, leeway: Leeway) -> Self {
        Self {
            leeway,
            ..self.clone()
        }
    }

    /// The candidate of an outfit.
    pub fn candidate(&self, lead: usize, outfit: &Outfit) -> &Candidate<'a> {
        &self.ladders[lead][outfit.rung]
    }

    /// The device of an outfit.
    pub fn device(&self, outfit: &Outfit) -> Option<&Protective<'a>> {
        outfit.device.map(|index| &self.devices[index])
    }

    /// The thickest cable of a lead, without a device.
    pub fn thickest(&self, lead: usize) -> Outfit {
        self.plain(lead, self.ladders[lead].len() - 1)
    }

    /// Resistance of an outfit's cable and device, cold, in ohms; for ranking.
    pub fn ohm(&self, lead: usize, outfit: &Outfit) -> f64 {
        let cable = self.candidate(lead, outfit).cable;
        let device = self.device(outfit);
        cable.max_resistance.of(self.route.leads[lead].cut()).ohm()
            + device.map_or(0.0, |device| device.resistance.ohm())
    }

    /// A cable of a lead, without a device.
    pub fn plain(&self, lead: usize, rung: usize) -> Outfit {
        Outfit {
            rung,
            device: None,
            price: self.ladders[lead][rung].price,
        }
    }

    /// The job wired with outfits; position = lead id.
    pub fn wiring(&self, outfits: &[Outfit]) -> Wiring<'a> {
        let chosen = outfits.iter().enumerate();
        let candidates: Vec<&Candidate<'a>> = chosen
            .map(|(lead, outfit)| self.candidate(lead, outfit))
            .collect();
        let ohm = |outfit: &Outfit| {
            let device = self.device(outfit);
            device.map_or(Resistance::ZERO, |device| device.resistance)
        };
        Wiring {
            job: self.job,
            route: self.route,
            catalog: self.catalog,
            cables: candidates.iter().map(|candidate| candidate.cable).collect(),
            ampacities: candidates
                .iter()
                .map(|candidate| candidate.allowed.current)
                .collect(),
            guards: outfits.iter().map(ohm).collect(),
            frames: Arc::clone(&self.frames),
        }
    }

    /// The heat that an outfit's cable stands in a short, from its rated temperature to the limit
    /// in a fault, in A² s.
    pub fn withstands(&self, lead: usize, outfit: &Outfit) -> f64 {
        let cable = self.candidate(lead, outfit).cable;
        stands_a2s(cable, &self.job.rules, self.catalog)
    }

    /// How an outfit stands to the duty of its lead.
    pub fn burden(&self, lead: usize, outfit: &Outfit, duty: &LeadDuty) -> Burden {
        let candidate = self.candidate(lead, outfit);
        burden(candidate, &self.route.leads[lead], duty, self.catalog)
    }

    /// Whether a cable of a lead's ladder carries a duty.
    pub fn carries(&self, lead: usize, rung: usize, duty: &LeadDuty) -> bool {
        let burden = self.burden(lead, &self.plain(lead, rung), duty);
        matches!(burden, Burden::Carried { .. })
    }

    /// What a lead may be outfitted with, cheapest first: cables of its ladder that carry what they
    /// must, each with the devices that suit the place, the currents and the cable. Where nothing
    /// does everything, the thickest cable without a device; the checks then tell what is lacking.
    pub fn outfits(
        &self,
        lead: usize,
        carrying: Vec<usize>,
        tasks: Option<&Tasks<'_>>,
    ) -> Vec<Outfit> {
        let id = LeadId(lead);
        let able = tasks.map_or_else(Vec::new, |tasks| self.able_devices(id, tasks));
        let task = tasks.map(|tasks| &tasks.least);
        let mut outfits: Vec<Outfit> = Vec::new();
        for rung in carrying {
            let plain = self.plain(lead, rung);
            if able.is_empty() {
                outfits.push(plain);
            }
            outfits.extend(self.with_devices(lead, plain, &able, task));
        }
        if outfits.is_empty() {
            return vec![self.thickest(lead)];
        }
        outfits.sort_by(|a, b| a.price.total_cmp(&b.price).then(a.rung.cmp(&b.rung)));
        self.worth_having(lead, outfits)
    }

    /// Devices that carry and hold the currents and suit the place, and are not much larger than
    /// the smallest that breaks as strong a short. How strong shorts are depends on the sizes and is
    /// seen to later.
    fn able_devices(&self, id: LeadId, tasks: &Tasks<'_>) -> Vec<usize> {
        let wish = &self.job.lead(id).protected;
        let able = |task: &Guarding<'_>| -> Vec<usize> {
            let fits = |index: &usize| {
                let device = &self.devices[*index];
                let fits = task.carried_by(device) && device.suits(&task.demand);
                fits && !wanted(std::slice::from_ref(device), wish).is_empty()
            };
            (0..self.devices.len()).filter(fits).collect()
        };
        let (able, usual) = (able(&tasks.least), able(&tasks.thickest));
        let step_up = self.job.rules.device_step_up.value.fraction();
        let near = |index: &usize| {
            let device = &self.devices[*index];
            let as_strong = usual
                .iter()
                .map(|other| &self.devices[*other])
                .filter(|other| other.interrupting >= device.interrupting);
            let smallest = as_strong.map(|other| other.rating).reduce(Current::min);
            smallest.is_none_or(|smallest| device.rating <= smallest * step_up)
        };
        able.iter().copied().filter(near).collect()
    }

    fn with_devices(
        &self,
        lead: usize,
        plain: Outfit,
        able: &[usize],
        task: Option<&Guarding<'_>>,
    ) -> Vec<Outfit> {
        let cable = self.candidate(lead, &plain).cable;
        let studs = self.studs.get(cable.id.value.as_str());
        let has_lug = |stud| studs.is_none_or(|studs| studs.is_empty() || studs.contains(&stud));
        let most = task.map_or(Current::ZERO, |task| {
            let allowed = self.candidate(lead, &plain).allowed.current;
            allowed * task.rules.protection_most.value.fraction()
        });
        let suits = |index: &&usize| {
            let device = &self.devices[**index];
            has_lug(device.stud) && device.rating.a() <= most.a() * (1.0 + crate::check::HAIR)
        };
        able.iter()
            .filter(suits)
            .map(|index| Outfit {
                device: Some(*index),
                price: plain.price + self.device_prices[*index],
                ..plain
            })
            .collect()
    }

    /// Leaves out what another outfit betters in everything: price, resistance, ampacity, strength
    /// in a short, and how small its device is.
    fn worth_having(&self, lead: usize, outfits: Vec<Outfit>) -> Vec<Outfit> {
        let mut worth: Vec<Outfit> = Vec::new();
        for outfit in outfits {
            if !worth.iter().any(|other| self.betters(lead, other, &outfit)) {
                worth.push(outfit);
            }
        }
        worth
    }

    fn betters(&self, lead: usize, one: &Outfit, other: &Outfit) -> bool {
        let (cable, other_cable) = (self.candidate(lead, one), self.candidate(lead, other));
        let thicker = cable.cable.max_resistance.get() <= other_cable.cable.max_resistance.get();
        let carries = cable.allowed.current >= other_cable.allowed.current;
        let stands = cable.cable.rating >= other_cable.cable.rating
            && cable.cable.size.nominal_area().mm2() >= other_cable.cable.size.nominal_area().mm2();
        let guarded = match (self.device(one), self.device(other)) {
            (Some(device), Some(other)) => {
                device.rating <= other.rating
                    && device.interrupting >= other.interrupting
                    && device.resistance <= other.resistance
                    && (device.curve.name.value == other.curve.name.value)
            }
            (None, None) => true,
            _ => false,
        };
        one.price <= other.price && thicker && carries && stands && guarded
    }
}

/// The place of each lead among all names in order, from 0 to 1.
fn turns(job: &Job) -> Vec<f64> {
    let mut names: Vec<&str> = job.leads.iter().map(|lead| lead.name.as_str()).collect();
    names.sort_unstable();
    let last = names.len().max(2) - 1;
    let turn = |name: &str| names.partition_point(|other| *other < name) as f64 / last as f64;
    job.leads.iter().map(|lead| turn(&lead.name)).collect()
}
