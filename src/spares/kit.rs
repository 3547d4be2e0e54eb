//! From a plan to the best kit.

use super::Spares;
use super::bypass::{Shelf, bypasses};
use super::pool::{Pool, up};
use super::price::Till;
use super::problem::{Burden, Problem, Want};
use super::reading::Meter;
use super::report::{Failure, Report};
use super::search::{WORK, solve};
use super::stops::{Cut, stops};
use super::subject::{self, Subject, access};
use super::ways::{Finder, wrench};
use crate::catalog::{Consequence, FailureRow, KitRow};
use crate::circuit::{self, Operation, Wiring};
use crate::method::{StepLibrary, Work};
use crate::shop::ShopFile;

/// What a kit is packed from.
#[derive(Debug, Clone, Copy)]
pub struct Grounds<'a> {
    /// The work as planned.
    pub work: Work<'a>,
    /// The conductors with their devices.
    pub wiring: &'a Wiring<'a>,
    /// Every state solved.
    pub operation: &'a Operation,
    /// The workshop.
    pub shop: &'a ShopFile,
    /// Steps and cautions.
    pub library: &'a StepLibrary,
}

/// The limits of a kit: the job's own, else the catalog's.
#[derive(Debug, Clone)]
pub(super) struct Limits {
    pub row: KitRow,
    pub own_tools: bool,
    pub source: String,
}

impl Limits {
    fn of(grounds: &Grounds<'_>) -> Option<Self> {
        let mut row = grounds.work.catalog.kits.first()?.clone();
        let mut own = Vec::new();
        if let Some(spares) = &grounds.work.job.spares {
            let mut note = |given: bool, name: &'static str| {
                if given {
                    own.push(name);
                }
            };
            note(spares.mass.is_some(), "mass");
            note(spares.volume.is_some(), "room");
            note(spares.money.is_some(), "money");
            note(spares.access.is_some(), "access");
            row.mass = spares.mass.unwrap_or(row.mass);
            row.volume = spares.volume.unwrap_or(row.volume);
            row.money = spares.money.unwrap_or(row.money);
            row.access = spares.access.unwrap_or(row.access);
        }
        let source = match own.len() {
            0 => row.source.clone(),
            4 => "set by the job".to_owned(),
            _ => format!("{} set by the job, the rest {}", own.join(", "), row.source),
        };
        let spares = grounds.work.job.spares.as_ref();
        Some(Self {
            row,
            own_tools: spares.is_none_or(|spares| spares.own_tools),
            source,
        })
    }
}

/// Packs the best kit; `None` where the catalog has no row for kits.
pub fn pack(grounds: Grounds<'_>) -> Option<Spares> {
    let limits = Limits::of(&grounds)?;
    let Grounds {
        work, wiring, shop, ..
    } = grounds;
    let till = Till::new(shop, work.catalog, work.job.currency);
    let duties = circuit::duties(wiring, &mut circuit::run(wiring));
    let shelf = Shelf {
        work: &work,
        wiring,
        duties: &duties,
        kit: &limits.row,
        till: &till,
    };
    let bypasses = bypasses(shelf);
    let owned = shop.tools.iter().filter(|_| limits.own_tools);
    let owned = owned.map(|tool| tool.value.clone()).collect();
    let mut finder = Finder {
        work: &work,
        pool: Pool::new(work.catalog, &till, owned),
        bypasses: &bypasses,
        reach: limits.row.access,
    };
    let (must, wrenches_left) = wrenches(&mut finder);
    let failures = failures(&grounds, &mut finder);
    let problem = Problem {
        items: finder.pool.burdens(),
        must,
        wants: failures.iter().map(want).collect(),
        limits: Burden {
            grams: up(limits.row.mass.kg()),
            millilitres: up(limits.row.volume.l()),
            price: till.units(limits.row.money),
        },
    };
    let choice = solve(&problem, WORK);
    let report = Report {
        grounds: &grounds,
        limits: &limits,
        pool: &finder.pool,
        bypasses: &bypasses,
        duties: &duties,
        problem: &problem,
        choice: &choice,
        meter: Meter {
            job: work.job,
            operation: grounds.operation,
        },
    };
    Some(report.spares(&failures, wrenches_left))
}

fn want(failure: &Failure<'_>) -> Want {
    let ways = failure.ways.iter().flatten();
    Want {
        weight: failure.weight,
        ways: ways.map(|way| way.items.clone()).collect(),
    }
}

/// The wrench of every nut within reach, and what is said of those that are not to be had.
fn wrenches(finder: &mut Finder<'_, '_, '_>) -> (Vec<usize>, Vec<String>) {
    let (mut must, mut left) = (Vec::new(), Vec::new());
    for joint in &finder.work.fittings.joints {
        if access(finder.work, joint.place) > finder.reach {
            continue;
        }
        let id = wrench(finder.work, joint.thread);
        let item = id.and_then(|id| finder.pool.part(&id, 1));
        match item {
            Some(item) if !must.contains(&item) => must.push(item),
            Some(_) => {}
            None => {
                let told = format!("for a nut {}: no such wrench is to be had", joint.thread);
                if !left.contains(&told) {
                    left.push(told);
                }
            }
        }
    }
    (must, left)
}

/// Every way in which every part of the plan may fail.
fn failures<'a>(grounds: &Grounds<'a>, finder: &mut Finder<'_, '_, '_>) -> Vec<Failure<'a>> {
    let catalog = grounds.work.catalog;
    let mut failures = Vec::new();
    let subjects = subject::subjects(&grounds.work);
    for row in &catalog.failures {
        for subject in subjects.iter().filter(|subject| subject.of == row.of) {
            failures.push(failure(grounds, finder, row, subject));
        }
    }
    failures
}

fn failure<'a>(
    grounds: &Grounds<'a>,
    finder: &mut Finder<'_, '_, '_>,
    row: &'a FailureRow,
    subject: &Subject,
) -> Failure<'a> {
    let job = grounds.work.job;
    // Worn insulation and lost clamps stop nothing until a device opens.
    let stops = stops(
        job,
        Cut {
            leads: &subject.leads,
            device: subject.device,
            battery: subject.battery,
        },
    );
    let factor = |consequence: Consequence| {
        let mut rows = grounds.work.catalog.consequences.iter();
        rows.find(|row| row.stops == consequence)
            .map_or(1, |row| row.factor)
    };
    let consequences = stops.iter().map(|stop| stop.consequence);
    let worst = consequences.max_by_key(|one| (factor(*one), std::cmp::Reverse(*one)));
    let worst = worst.unwrap_or(Consequence::Nothing);
    let own = job
        .spares
        .as_ref()
        .and_then(|spares| spares.weight_of(&row.name, row.of));
    let weight = u64::from(own.unwrap_or(row.weight)) * u64::from(factor(worst));
    Failure {
        row,
        subject: subject.clone(),
        stops: stops.into_iter().map(|stop| stop.name).collect(),
        consequence: worst,
        weight,
        ways: finder.ways(row, subject),
    }
}
