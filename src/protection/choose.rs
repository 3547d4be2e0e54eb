//! The device of every lead that gets one: the cheapest that passes every check, else the one that
//! fails the fewest.

use rayon::prelude::*;

use super::cure::Ailing;
use super::judge::judge;
use super::watch::Watch;
use super::{Coverage, Guard, Protection};
use super::{coverage, exempt, far_feed, precharge, prefer, selectivity};
use crate::catalog::Protective;
use crate::check::{Check, CheckRule, Verdict};
use crate::circuit::{self, Faults, Guarding, Wiring, duties, wanted};
use crate::job::{LeadId, Protected};
use crate::sizing::Sizing;

/// Chooses and judges all protection.
pub fn choose(wiring: &Wiring<'_>, sizing: &Sizing) -> Protection {
    let duties = duties(wiring, &mut circuit::run(wiring));
    let faults = Faults::of(wiring);
    let devices = wiring.catalog.protective();
    let mut protection = Protection {
        guards: Vec::new(),
        coverage: Coverage::default(),
        checks: Vec::new(),
    };
    let leads = wiring.job.leads();
    let guarded: Vec<_> = leads.filter(|(_, lead)| lead.is_protected()).collect();
    let tried = guarded.into_par_iter().map(|(id, lead)| {
        let task = Guarding::of(wiring, &faults, id, &duties[id.0]);
        let wanted = wanted(&devices, &lead.protected);
        let sized = sizing.leads.get(id.0);
        let reckoned = sized.and_then(|lead| lead.device.as_deref());
        let best = best(&wanted, &task, reckoned);
        let pick = best.map(|best| Pick {
            id,
            task,
            wanted,
            best,
        });
        pick.ok_or(&lead.name)
    });
    let tried: Vec<Result<Pick<'_>, &String>> = tried.collect();
    let mut picks = Vec::new();
    for pick in tried {
        match pick {
            Ok(pick) => picks.push(pick),
            Err(lead) => {
                let note = "the catalog holds no device of the kind asked for";
                let check = Check::open(CheckRule::Protected, lead, note);
                protection.checks.push(check);
            }
        }
    }
    prefer::selective(wiring, &mut picks);
    for pick in &picks {
        protection.guards.push(guard(wiring, &devices, pick));
        let part = pick.best.device.part;
        protection
            .checks
            .push(exempt::guarded(wiring, pick.id, part));
        protection.checks.extend(pick.best.checks.iter().cloned());
    }
    let charged = precharge::judge(wiring, &devices, &protection.guards);
    protection.checks.extend(charged);
    let exempted = exempt::judge(wiring, &protection.guards);
    protection.checks.extend(exempted);
    watch_over(wiring, &picks, &mut protection);
    protection
}

/// Looks at every metre once all devices are known.
fn watch_over(wiring: &Wiring<'_>, picks: &[Pick<'_>], protection: &mut Protection) {
    let devices: Vec<(LeadId, Protective<'_>)> = picks
        .iter()
        .map(|pick| (pick.id, pick.best.device))
        .collect();
    let wired = prefer::with_devices(wiring, &devices);
    let watch = Watch::of(&wired, &devices);
    let coverage = coverage::cover(&watch);
    protection.checks.extend(coverage::judge(&watch, &coverage));
    protection.checks.extend(far_feed::judge(&watch));
    for guard in &mut protection.guards {
        guard.selectivity = selectivity::next_to(&watch, guard.lead);
        let checks = selectivity::judge(&watch, guard.lead, &guard.selectivity);
        protection.checks.extend(checks);
    }
    protection.coverage = coverage;
}

/// A lead with the device chosen for it.
pub struct Pick<'a> {
    /// The lead.
    pub id: LeadId,
    /// What its device must do.
    pub task: Guarding<'a>,
    /// The devices that the job lets it have.
    pub wanted: Vec<Protective<'a>>,
    /// The choice.
    pub best: Best<'a>,
}

/// A device chosen for a lead.
pub struct Best<'a> {
    /// The device.
    pub device: Protective<'a>,
    /// Its verdicts.
    pub checks: Vec<Check>,
    /// Why it rather than another that does as well.
    pub why: Why,
}

/// Why a device was chosen among those that pass.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// None is cheaper.
    Cheapest,
    /// It loses less voltage.
    LosesLess,
    /// It costs the same, and a short opens one device alone.
    OpensAlone,
}

impl Why {
    const fn words(self) -> &'static str {
        match self {
            Self::Cheapest => "the cheapest device that passes every check",
            Self::LosesLess => {
                "it passes every check and loses less voltage than cheaper ones, which a load needs"
            }
            Self::OpensAlone => {
                "of the devices of this price that pass every check, the one with which a short opens \
                 one device alone"
            }
        }
    }
}

/// The device with the fewest faults; of equals the one that the sizes were reckoned with, else the
/// first, which is the cheapest.
fn best<'a>(
    devices: &[Protective<'a>],
    task: &Guarding<'_>,
    reckoned: Option<&str>,
) -> Option<Best<'a>> {
    let try_out = |device: &Protective<'a>| Trial::of(device, task);
    let as_reckoned = |trial: &Trial<'_>| Some(trial.device.part) == reckoned;
    let mut trials = Vec::new();
    for device in devices {
        trials.push(try_out(device));
        // Of those after the first without faults only the one reckoned with can be the choice.
        if trials.last().is_some_and(|trial| trial.faults == 0) {
            let rest = devices.get(trials.len()..).unwrap_or_default().iter();
            let mut reckoned = rest.filter(|device| Some(device.part) == reckoned);
            trials.extend(reckoned.next().map(try_out));
            break;
        }
    }
    let fewest = trials.iter().map(|trial| trial.faults).min()?;
    let mut equals = trials.into_iter().filter(|trial| trial.faults == fewest);
    let cheapest = equals.next()?;
    let (why, Trial { device, checks, .. }) = if as_reckoned(&cheapest) {
        (Why::Cheapest, cheapest)
    } else {
        match equals.find(as_reckoned) {
            Some(reckoned) => (Why::LosesLess, reckoned),
            None => (Why::Cheapest, cheapest),
        }
    };
    Some(Best {
        device,
        checks,
        why,
    })
}

/// A device held against a task.
struct Trial<'a> {
    device: Protective<'a>,
    checks: Vec<Check>,
    faults: usize,
}

impl<'a> Trial<'a> {
    fn of(device: &Protective<'a>, task: &Guarding<'_>) -> Self {
        let checks = judge(device, task);
        let failed = checks.iter().filter(|check| check.verdict != Verdict::Pass);
        // What no device can better (the distance) does not count against any of them.
        let faults = failed.filter(|check| check.rule != CheckRule::ProtectionDistance);
        // A stud for which the cable has no lug is as bad as a broken limit.
        let no_lug = usize::from(!task.has_lug_for(device));
        Self {
            faults: faults.count() + no_lug,
            device: *device,
            checks,
        }
    }
}

fn guard(wiring: &Wiring<'_>, all: &[Protective<'_>], pick: &Pick<'_>) -> Guard {
    let (task, best) = (&pick.task, &pick.best);
    let device = &best.device;
    let lead = wiring.job.lead(pick.id);
    Guard {
        lead: pick.id,
        place: lead.protect_at,
        kind: device.kind,
        part: device.part.to_owned(),
        holder: device.holder.map(|holder| holder.id.value.clone()),
        stud: device.stud,
        rating: device.rating,
        resistance: device.resistance,
        distance: task.distance,
        continuous: task.duty.continuous,
        pulses: task.duty.pulses.clone(),
        fault_near: task.demand.fault,
        fault_far: task.fault_far,
        opens_within_s: device
            .in_air(task.demand.cold)
            .opens_within(task.fault_far)
            .map(|time| time.s()),
        withstands_s: task.withstands().s(),
        reason: reason(&lead.protected, best),
        cures: cures(wiring, all, pick),
        selectivity: Vec::new(),
    }
}

/// What would cure a lead that its device does not guard.
fn cures(wiring: &Wiring<'_>, all: &[Protective<'_>], pick: &Pick<'_>) -> Vec<String> {
    if pick.task.done_by(&pick.best.device) {
        return Vec::new();
    }
    let all = match wiring.job.lead(pick.id).protected {
        Protected::Auto => Vec::new(),
        _ => wanted(all, &Protected::Auto),
    };
    let ailing = Ailing {
        wiring,
        lead: pick.id,
        duty: pick.task.duty,
        wanted: &pick.wanted,
        all: &all,
    };
    ailing.cures()
}

fn reason(wish: &Protected, best: &Best<'_>) -> String {
    let missed: Vec<String> = best
        .checks
        .iter()
        .filter(|check| check.verdict != Verdict::Pass)
        .map(|check| format!("{} ({})", check.rule, check.note))
        .collect();
    match (wish, missed.is_empty()) {
        (Protected::Auto, true) => best.why.words().to_owned(),
        (_, true) => "asked for by the job, and it passes every check".to_owned(),
        (Protected::Auto, false) => {
            format!(
                "no device passes every check; this one misses: {}",
                missed.join("; ")
            )
        }
        (_, false) => format!("asked for by the job; it misses: {}", missed.join("; ")),
    }
}
