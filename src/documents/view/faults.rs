//! Dead shorts: which metres of positive lead are protected, and what happens at each point.

use serde::Serialize;

use super::build::{Context, metres};
use crate::catalog::Cited;
use crate::protection::{FaultPoint, Keep, LeadCoverage, Stretch};
use crate::quantity::Length;

/// Dead shorts in all positive leads.
#[derive(Debug, Clone, Serialize)]
pub struct FaultsView {
    /// Sums over all positive leads.
    pub sums: MetresView,
    /// Every positive lead.
    pub leads: Vec<FaultLeadView>,
    /// Resistance of an aged battery, in percent of its own.
    pub aged_percent: f64,
    /// Source of that.
    pub aged_source: String,
    /// Resistance of the fault itself.
    pub contact_milliohm: f64,
    /// Source of that.
    pub contact_source: String,
}

/// Metres of lead by their protection.
#[derive(Debug, Clone, Serialize)]
pub struct MetresView {
    /// All.
    pub all_m: f64,
    /// The same in the job's units.
    pub all_shown: String,
    /// A device opens before the cable is harmed.
    pub protected_m: f64,
    /// The same in the job's units.
    pub protected_shown: String,
    /// None does, and the rules permit it.
    pub permitted_m: f64,
    /// The same in the job's units.
    pub permitted_shown: String,
    /// None does.
    pub bare_m: f64,
    /// The same in the job's units.
    pub bare_shown: String,
}

/// One positive lead.
#[derive(Debug, Clone, Serialize)]
pub struct FaultLeadView {
    /// Its name.
    pub lead: String,
    /// Its metres.
    pub metres: MetresView,
    /// Its stretches.
    pub stretches: Vec<StretchView>,
    /// Shorts at some points of it.
    pub points: Vec<FaultPointView>,
    /// The energy that its cable stands, in A²s.
    pub stands_a2s: f64,
}

/// A stretch of a lead.
#[derive(Debug, Clone, Serialize)]
pub struct StretchView {
    /// Metres from the lead's start to its start.
    pub from_m: f64,
    /// The same in the job's units.
    pub from_shown: String,
    /// Metres from the lead's start to its end.
    pub to_m: f64,
    /// The same in the job's units.
    pub to_shown: String,
    /// Whether it is protected.
    pub keep: Keep,
    /// By what, or why not.
    pub reason: String,
}

/// A short at one point.
#[derive(Debug, Clone, Serialize)]
pub struct FaultPointView {
    /// Which point, in words.
    pub name: &'static str,
    /// Metres from the lead's start.
    pub at_m: f64,
    /// Largest current.
    pub largest_a: f64,
    /// Smallest current.
    pub smallest_a: f64,
    /// The lead whose device sees it.
    pub device_of: Option<String>,
    /// Longest time until that device opens; nothing when it need not.
    pub opens_within_s: Option<f64>,
    /// The most energy that it lets through, in A²s.
    pub lets_through_a2s: Option<f64>,
}

/// All dead shorts.
pub fn view(context: Context<'_>) -> FaultsView {
    let coverage = &context.plan.protection.coverage;
    let rules = &context.job.rules;
    let leads = coverage.leads.iter();
    FaultsView {
        sums: sums(context, |keep| coverage.length(keep)),
        leads: leads.map(|lead| lead_view(context, lead)).collect(),
        aged_percent: rules.aged_resistance.value.percent(),
        aged_source: told(&rules.aged_resistance),
        contact_milliohm: rules.fault_contact.value.milliohm(),
        contact_source: told(&rules.fault_contact),
    }
}

fn told<T>(rule: &Cited<T>) -> String {
    format!("{} ({})", rule.citation, rule.basis)
}

fn sums(context: Context<'_>, length: impl Fn(Keep) -> Length) -> MetresView {
    let kinds = [Keep::Protected, Keep::Permitted, Keep::Bare];
    let [protected, permitted, bare] = kinds.map(length);
    let all = protected + permitted + bare;
    MetresView {
        all_m: metres(all),
        all_shown: context.shown(all),
        protected_m: metres(protected),
        protected_shown: context.shown(protected),
        permitted_m: metres(permitted),
        permitted_shown: context.shown(permitted),
        bare_m: metres(bare),
        bare_shown: context.shown(bare),
    }
}

fn lead_view(context: Context<'_>, lead: &LeadCoverage) -> FaultLeadView {
    let name = |id| context.job.lead(id).name.clone();
    let stretch = |stretch: &Stretch| StretchView {
        from_m: metres(stretch.from),
        from_shown: context.shown(stretch.from),
        to_m: metres(stretch.to),
        to_shown: context.shown(stretch.to),
        keep: stretch.keep,
        reason: stretch.reason.clone(),
    };
    let point = |point: &FaultPoint| FaultPointView {
        name: point.name,
        at_m: metres(point.at),
        largest_a: point.largest.a(),
        smallest_a: point.smallest.a(),
        device_of: point.guard.map(name),
        opens_within_s: point.opens_within_s,
        lets_through_a2s: point.lets_through_a2s,
    };
    FaultLeadView {
        lead: name(lead.lead),
        metres: sums(context, |keep| lead.length(keep)),
        stretches: lead.stretches.iter().map(stretch).collect(),
        points: lead.points.iter().map(point).collect(),
        stands_a2s: lead.stands_a2s,
    }
}
