//! From a plan to its view.

use super::{ClimateView, LoosenedView, PlanView, ProofView, TallyView};
use super::{
    checks, circuit, faults, fittings, headline, joints, labels, layout, leads, money, readings,
    shopping, steps, volts,
};
use crate::catalog::Catalog;
use crate::check::Verdict;
use crate::drawings::{Scene, one_line_names};
use crate::job::{Job, LeadId};
use crate::plan::{Plan, Status};
use crate::quantity::Length;
use crate::route::EndPoint;

/// What every part of the view is made from.
#[derive(Clone, Copy)]
pub struct Context<'a> {
    /// The job.
    pub job: &'a Job,
    /// The plan.
    pub plan: &'a Plan,
    /// The catalog, for descriptions.
    pub catalog: &'a Catalog,
}

impl Context<'_> {
    /// A length in the units of the job.
    pub fn shown(&self, length: Length) -> String {
        self.job.units.shown(length)
    }

    /// A length to cut or to mark on a roll: what is shown is never less.
    ///
    /// A mark rounded up by itself moves the piece before it by less than the finest mark of a tape; the
    /// allowance for squaring off the end is more than that.
    pub fn shown_for_marking(&self, length: Length) -> String {
        self.job.units.on_tape_at_least(length)
    }

    /// What the end of a section is on: the stud, where its lug was chosen.
    pub fn end_name(&self, lead: LeadId, section: usize, point: EndPoint) -> String {
        let mut ends = self.plan.fittings.ends.iter();
        let own = ends.find(|end| (end.lead, end.section, end.point) == (lead, section, point));
        own.map_or_else(|| point.words(self.job), |end| end.terminal.clone())
    }

    /// The description of a part; its id when the catalog has none.
    pub fn described(&self, part: &str) -> String {
        let known = self.catalog.part(part);
        known.map_or(part.to_owned(), |part| part.description().to_owned())
    }
}

impl PlanView {
    /// The view of a plan.
    pub fn of(plan: &Plan, job: &Job, catalog: &Catalog) -> Self {
        let context = Context { job, plan, catalog };
        let count = |verdict| {
            let checks = plan.checks.iter();
            checks.filter(|check| check.verdict == verdict).count()
        };
        let steps = steps::views(plan);
        let torque_sources = joints::sources(context);
        let loosened = job.loosened.iter().map(|rule| LoosenedView {
            rule: rule.rule.replace('_', " "),
            setting: rule.setting.clone(),
            job: rule.job.clone(),
            source: rule.citation.clone(),
        });
        Self {
            status: plan.status().as_str(),
            ready: plan.status() == Status::Ready,
            title: job.headline(),
            setting: job.setting.to_string(),
            system_voltage_v: job.system_voltage.v(),
            units: job.units.to_string(),
            climate: ClimateView {
                cold_c: job.cold.c(),
                hot_c: job.hot.c(),
            },
            loosened: loosened.collect(),
            one_line: one_line_names(Scene { job, plan, catalog }),
            layout: layout::view(context),
            leads: leads::views(context),
            proof: proof(context),
            protection: fittings::protection(context),
            faults: faults::view(context),
            states: circuit::views(plan),
            volts: volts::view(context),
            checks: checks::views(context),
            check_groups: checks::groups(&plan.checks),
            tally: TallyView {
                pass: count(Verdict::Pass),
                fail: count(Verdict::Fail),
                open: count(Verdict::Open),
            },
            misfits: checks::misfits(context),
            labels: labels::views(context),
            clamps: fittings::clamps(context),
            passages: fittings::passages(context),
            buses: fittings::buses(context),
            enclosures: fittings::enclosures(context),
            sleevings: fittings::sleevings(context),
            joints: joints::joints(context, &torque_sources),
            torque_sources,
            bill: plan.purchase.bill.clone(),
            tools_bill: plan.purchase.tools.clone(),
            tools_owned: plan.purchase.tools_owned.clone(),
            from_stock: plan.purchase.from_stock.clone(),
            shopping: shopping::view(context),
            cuts: money::cuts(context),
            cut_allowance: context.shown_for_marking(plan.purchase.cut_allowance),
            left: money::left(context),
            step_groups: steps::groups(&steps),
            steps,
            sharing: steps::sharing(plan),
            spares: plan.spares.clone(),
            readings: readings::view(context),
            cautions: plan.method.cautions.clone(),
            minutes: plan.method.minutes,
        }
    }
}

fn proof(context: Context<'_>) -> ProofView {
    let proof = context.plan.sizing.proof;
    ProofView {
        told: headline::sizes(context),
        price: proof.price,
        bound: proof.bound,
        proved: proof.proved,
        keeps_limits: proof.keeps_limits,
    }
}

/// Metres to the micrometre: sums of decimals leave a trace of binary rounding behind.
pub fn metres(length: Length) -> f64 {
    (length.m() * 1e6).round() / 1e6
}
