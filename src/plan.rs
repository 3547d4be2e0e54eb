//! The whole straight line in one function.

use crate::catalog::{Basis, Catalog, Cited};
use crate::check::{Check, CheckRule, Verdict};
use crate::circuit::{self, Frames, Operation, Wiring};
use crate::fittings::{self, Fittings};
use crate::heat::{self, Carried};
use crate::job::Job;
use crate::method::{self, Method, StepLibrary};
use crate::protection::{self, Protection};
use crate::purchase::{self, Purchase};
use crate::quantity::Resistance;
use crate::route::{self, Route};
use crate::shop::ShopFile;
use crate::sizing::{self, Sizing};

/// Everything that a plan rests on.
#[derive(Debug, Clone, Copy)]
pub struct Inputs<'a> {
    /// The vehicle and what is wanted.
    pub job: &'a Job,
    /// The workshop.
    pub shop: &'a ShopFile,
    /// Parts, offers, rules and tables.
    pub catalog: &'a Catalog,
    /// The steps of the work.
    pub library: &'a StepLibrary,
}

/// The results of all stages.
#[derive(Debug, Clone)]
pub struct Plan {
    /// Ways and lengths.
    pub route: Route,
    /// Cables.
    pub sizing: Sizing,
    /// Breakers and fuses.
    pub protection: Protection,
    /// Volts and amperes of every state.
    pub operation: Operation,
    /// Everything that is mounted, crimped and tightened.
    pub fittings: Fittings,
    /// What to buy.
    pub purchase: Purchase,
    /// What to do.
    pub method: Method,
    /// The verdicts of all stages.
    pub checks: Vec<Check>,
}

/// Whether a plan may be built.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// Every check passes.
    Ready,
    /// A check fails or is open.
    NotReady,
}

impl Status {
    /// The words that every document carries.
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Ready => "READY TO BUILD",
            Self::NotReady => "NOT READY TO BUILD",
        }
    }
}

impl Plan {
    /// Whether it may be built.
    pub fn status(&self) -> Status {
        let all_pass = self
            .checks
            .iter()
            .all(|check| check.verdict == Verdict::Pass);
        if all_pass {
            Status::Ready
        } else {
            Status::NotReady
        }
    }
}

/// Makes a plan: route, sizing, protection, operation, fittings, purchase, method.
pub fn make(inputs: Inputs<'_>) -> Plan {
    let Inputs {
        job,
        shop,
        catalog,
        library,
    } = inputs;
    let route = route::trace(job, catalog);
    let sizing = sizing::choose(job, &route, catalog);
    let bare = wiring(job, &route, &sizing, None, catalog);
    let protection = protection::choose(&bare, &sizing);
    let wired = wiring(job, &route, &sizing, Some(&protection), catalog);
    let operation = circuit::operate(&wired);
    let fittings = fittings::fit(job, &route, &sizing, &protection, &operation, catalog);
    let purchase = purchase::buy(
        &fittings.needs,
        &fittings.tools,
        shop,
        catalog,
        job.currency,
    );
    let method = method::order(
        job,
        &route,
        &sizing,
        &protection,
        &fittings,
        catalog,
        library,
    );
    let mut checks = loosened_checks(job);
    checks.extend(route.checks.iter().cloned());
    checks.extend(sizing.checks.iter().cloned());
    checks.extend(heat::judge(
        job,
        &route,
        catalog,
        &carried(&sizing, catalog),
    ));
    checks.extend(protection.checks.iter().cloned());
    checks.extend(operation.checks.iter().cloned());
    checks.extend(fittings.checks.iter().cloned());
    checks.extend(purchase.checks.iter().cloned());
    Plan {
        route,
        sizing,
        protection,
        operation,
        fittings,
        purchase,
        method,
        checks,
    }
}

/// The conductors as sized, with the resistances of the devices chosen or, before that, reckoned.
pub fn wiring<'a>(
    job: &'a Job,
    route: &'a Route,
    sizing: &Sizing,
    protection: Option<&Protection>,
    catalog: &'a Catalog,
) -> Wiring<'a> {
    let cables = sizing
        .leads
        .iter()
        .filter_map(|lead| catalog.cable(&lead.cable));
    let guard = |lead: &sizing::SizedLead| match protection {
        None => lead.device_allowance,
        Some(protection) => {
            let guard = protection.guard(lead.lead);
            guard.map_or(Resistance::ZERO, |guard| guard.resistance)
        }
    };
    Wiring {
        job,
        route,
        catalog,
        cables: cables.collect(),
        ampacities: sizing.leads.iter().map(|lead| lead.ampacity).collect(),
        guards: sizing.leads.iter().map(guard).collect(),
        frames: Frames::of(job, catalog),
    }
}

/// What each sized lead carries for hours.
fn carried<'a>(sizing: &Sizing, catalog: &'a Catalog) -> Vec<Carried<'a>> {
    let leads = sizing.leads.iter();
    let one = |lead: &sizing::SizedLead| {
        Some(Carried {
            lead: lead.lead,
            cable: catalog.cable(&lead.cable)?,
            allowed: lead.ampacity,
            continuous: lead.continuous,
        })
    };
    leads.filter_map(one).collect()
}

/// Rules that the job loosened pass, but are shown on every document.
fn loosened_checks(job: &Job) -> Vec<Check> {
    let loosened = job.loosened.iter();
    loosened
        .map(|rule| {
            let source = Cited {
                value: (),
                citation: rule.citation.clone(),
                basis: Basis::User,
            };
            let note = format!(
                "{} in the place of the setting's {}",
                rule.job, rule.setting
            );
            Check::holds(CheckRule::Loosened, rule.rule, true, &source).with_note(note)
        })
        .collect()
}
