//! The whole straight line in one function.

mod supply;

use std::collections::BTreeSet;

use crate::catalog::{Basis, Catalog, Cited};
use crate::check::{Check, CheckRule, Verdict};
use crate::circuit::{self, Frames, Operation, Wiring};
use crate::fittings::{self, Fittings};
use crate::heat::{self, Carried};
use crate::job::Job;
use crate::method::{self, Method, StepLibrary};
use crate::protection::{self, Protection};
use crate::purchase::{self, Comparison, Market, Purchase};
use crate::quantity::Resistance;
use crate::readings::{self, Meter, Sheet, WORKSHOP_AIR};
use crate::route::{self, Route};
use crate::shop::ShopFile;
use crate::shopping::{self, Shopping};
use crate::sizing::{self, Sizing};
use crate::spares::{self, Spares};

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
    /// What to fetch where.
    pub shopping: Shopping,
    /// What to carry for the roadside; nothing where it was not asked for, or the catalog does not say
    /// how much it may be.
    pub spares: Option<Spares>,
    /// What a meter should show; nothing where it was not asked for.
    pub readings: Option<Sheet>,
    /// The verdicts of all stages.
    pub checks: Vec<Check>,
    /// Ids of parts that were taken before others, and counted as cheaper than they are.
    pub preferred: Vec<String>,
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
    /// Ids of all parts and tools that it takes, each once.
    pub fn parts(&self) -> BTreeSet<&str> {
        let needs = self.fittings.needs.iter().map(|need| need.part.as_str());
        needs
            .chain(self.method.tools.iter().map(String::as_str))
            .collect()
    }

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

/// What a plan may tell besides, on which no verdict rests.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Extras {
    /// What to carry for the roadside.
    pub spares: bool,
    /// What a meter should show.
    pub readings: bool,
    /// What other ways to buy would cost.
    pub ways: bool,
}

impl Extras {
    /// Nothing besides.
    pub const NONE: Self = Self {
        spares: false,
        readings: false,
        ways: false,
    };
    /// All that documents tell of.
    pub const ALL: Self = Self {
        spares: true,
        readings: true,
        ways: true,
    };
    /// The spares kit.
    pub const SPARES: Self = Self {
        spares: true,
        ..Self::NONE
    };
    /// The readings sheet.
    pub const READINGS: Self = Self {
        readings: true,
        ..Self::NONE
    };
    /// Other ways to buy.
    pub const WAYS: Self = Self {
        ways: true,
        ..Self::NONE
    };

    fn comparison(self) -> Comparison {
        if self.ways {
            Comparison::Made
        } else {
            Comparison::LeftOut
        }
    }
}

/// Makes a plan with the parts that can be had.
pub fn make(inputs: Inputs<'_>, extras: Extras) -> Plan {
    let supplied = supply::make(inputs, extras);
    let inputs = Inputs {
        catalog: &supplied.catalog,
        ..inputs
    };
    let kit = || kit(inputs, &supplied.plan);
    let sheet = || readings_sheet(inputs, &supplied.plan);
    Plan {
        spares: extras.spares.then(kit).flatten(),
        readings: extras.readings.then(sheet),
        ..supplied.plan
    }
}

/// The spares kit of a plan.
fn kit(inputs: Inputs<'_>, plan: &Plan) -> Option<Spares> {
    let Inputs {
        job,
        shop,
        catalog,
        library,
    } = inputs;
    let protection = Some(&plan.protection);
    spares::pack(spares::Grounds {
        work: method::Work {
            job,
            route: &plan.route,
            sizing: &plan.sizing,
            protection: &plan.protection,
            fittings: &plan.fittings,
            catalog,
        },
        wiring: &wiring(job, &plan.route, &plan.sizing, protection, catalog),
        operation: &plan.operation,
        shop,
        library,
    })
}

/// What a meter should show on a vehicle built by a plan.
fn readings_sheet(inputs: Inputs<'_>, plan: &Plan) -> Sheet {
    let Inputs { job, catalog, .. } = inputs;
    let protection = Some(&plan.protection);
    let wired = wiring(job, &plan.route, &plan.sizing, protection, catalog);
    readings::sheet(&wired, WORKSHOP_AIR, Meter::default())
}

/// Makes a plan with all parts of the catalog: route, sizing, protection, operation, fittings,
/// method, purchase, shopping.
fn straight(inputs: Inputs<'_>, extras: Extras) -> Plan {
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
    let method = method::order(
        job,
        &route,
        &sizing,
        &protection,
        &fittings,
        catalog,
        library,
    );
    let market = Market {
        shop,
        catalog,
        currency: job.currency,
    };
    let purchase = purchase::buy(&fittings.needs, &method.tools, market, extras.comparison());
    let shopping = shopping::list(&purchase, &method, catalog, library);
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
    checks.extend(shopping.checks.iter().cloned());
    Plan {
        route,
        sizing,
        protection,
        operation,
        fittings,
        purchase,
        method,
        shopping,
        spares: None,
        readings: None,
        checks,
        preferred: Vec::new(),
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
