//! What one plan says about itself in a few figures.

use std::collections::BTreeSet;

use serde::Serialize;

use crate::catalog::{Catalog, PartKind};
use crate::check::{Check, CheckRule, Verdict};
use crate::fittings::Amount;
use crate::job::Job;
use crate::plan::{Plan, Status};
use crate::protection::Keep;
use crate::quantity::{Currency, Length, Money};

/// One plan among those that are set side by side.
#[derive(Debug, Clone, Serialize)]
pub struct Column {
    /// Its name: `as written`, or that of the variant.
    pub name: String,
    /// What it tries.
    pub note: Option<String>,
    /// Whether every check passes.
    pub ready: bool,
    /// Nominal voltage.
    pub system_voltage_v: f64,
    /// Currency of the money.
    pub currency: Currency,
    /// Material with delivery and tax.
    pub price: Money,
    /// Tools and dies that are not owned, with delivery and tax.
    pub tools: Money,
    /// Hours of work.
    pub labour_h: f64,
    /// Mass of the cable, in kilograms.
    pub cable_kg: f64,
    /// Mass of all that stays in the vehicle, in kilograms.
    pub parts_kg: f64,
    /// Parts whose mass the catalog does not know, counted without.
    pub unweighed: usize,
    /// Volts at the starter where it gets least, at the worst corner.
    pub cranking: Option<Finding>,
    /// Volts at the sensitive load that gets least, at the worst corner.
    pub sensitive: Option<Finding>,
    /// Degrees Celsius of the cable that gets hottest at work for hours.
    pub hottest: Option<Finding>,
    /// Seconds until the slowest device opens on a dead short.
    pub clearing: Option<Finding>,
    /// Positive lead that no device keeps, though the rules want it kept.
    pub bare: Length,
    /// Every check that fails or is open.
    pub broken: Vec<Check>,
}

/// A figure and what it was found at.
#[derive(Debug, Clone, Serialize)]
pub struct Finding {
    /// The figure.
    pub value: f64,
    /// The lead, or the load with the state.
    pub at: String,
}

impl Column {
    /// The figures of a plan.
    pub fn of(name: &str, note: Option<&str>, job: &Job, plan: &Plan, catalog: &Catalog) -> Self {
        let masses = Masses::of(plan, catalog);
        let broken = plan.checks.iter();
        let broken = broken.filter(|check| check.verdict != Verdict::Pass);
        Self {
            name: name.to_owned(),
            note: note.map(str::to_owned),
            ready: plan.status() == Status::Ready,
            system_voltage_v: job.system_voltage.v(),
            currency: plan.purchase.bill.currency,
            price: plan.purchase.bill.total,
            tools: plan.purchase.tools.total,
            labour_h: plan.method.minutes / 60.0,
            cable_kg: masses.cable_kg,
            parts_kg: masses.all_kg,
            unweighed: masses.unknown.len(),
            cranking: cranking(job, plan),
            sensitive: lowest(plan, |load, _| {
                let mut loads = job.loads.iter();
                loads.any(|given| given.given.sensitive && given.name() == load)
            }),
            hottest: hottest(plan),
            clearing: clearing(job, plan),
            bare: plan.protection.coverage.length(Keep::Bare),
            broken: broken.cloned().collect(),
        }
    }

    /// How many checks there are of a verdict that is no pass.
    pub fn count(&self, verdict: Verdict) -> usize {
        let broken = self.broken.iter();
        broken.filter(|check| check.verdict == verdict).count()
    }
}

/// Masses of what stays in the vehicle.
#[derive(Default)]
struct Masses<'a> {
    cable_kg: f64,
    all_kg: f64,
    /// Ids of parts that the catalog gives no mass of.
    unknown: BTreeSet<&'a str>,
}

impl<'a> Masses<'a> {
    fn of(plan: &'a Plan, catalog: &Catalog) -> Self {
        let mut masses = Self::default();
        let stays = plan.fittings.needs.iter();
        for need in stays.filter(|need| need.kind != PartKind::Consumable) {
            let each = catalog.part(&need.part).and_then(|part| part.mass());
            match (need.amount, catalog.cable(&need.part), each) {
                (Amount::Length(length), Some(cable), _) => {
                    let kg = cable.mass_per_length.of(length).kg();
                    masses.cable_kg += kg;
                    masses.all_kg += kg;
                }
                (Amount::Pieces(pieces), _, Some(mass)) => {
                    masses.all_kg += mass.kg() * f64::from(pieces);
                }
                _ => {
                    masses.unknown.insert(&need.part);
                }
            }
        }
        masses
    }
}

/// Lowest volts at any load of a kind in any state, at the worst corner.
fn lowest(plan: &Plan, of_kind: impl Fn(&str, &str) -> bool) -> Option<Finding> {
    let states = plan.operation.states.iter();
    let loads = states.flat_map(|state| state.ledger.loads.iter().map(move |load| (state, load)));
    let wanted = loads.filter(|(state, load)| of_kind(&load.load, &state.name));
    let least = wanted.min_by(|a, b| a.1.worst_v.total_cmp(&b.1.worst_v));
    least.map(|(state, load)| Finding {
        value: load.worst_v,
        at: format!("{}, {}", load.load, state.name),
    })
}

fn cranking(job: &Job, plan: &Plan) -> Option<Finding> {
    let is_starter = |load: &str| {
        let mut loads = job.loads.iter();
        loads.any(|given| given.is_starter() && given.name() == load)
    };
    lowest(plan, |load, _| is_starter(load))
}

fn hottest(plan: &Plan) -> Option<Finding> {
    let judged = plan.checks.iter().filter_map(|check| {
        let warm = check.value.filter(|_| check.rule == CheckRule::Heat)?;
        Some((warm, &check.subject))
    });
    let hottest = judged.max_by(|a, b| a.0.total_cmp(&b.0));
    hottest.map(|(value, lead)| Finding {
        value,
        at: lead.clone(),
    })
}

fn clearing(job: &Job, plan: &Plan) -> Option<Finding> {
    let leads = plan.protection.coverage.leads.iter();
    let points = leads.flat_map(|lead| {
        let times = lead.points.iter().filter_map(|point| point.opens_within_s);
        times.map(move |time| (time, lead.lead))
    });
    let slowest = points.max_by(|a, b| a.0.total_cmp(&b.0));
    slowest.map(|(value, lead)| Finding {
        value,
        at: job.lead(lead).name.clone(),
    })
}
