//! The same ways for a job in the order of names.

use super::{Bundle, EndPoint, LeadRoute, Route, Section};
use crate::job::SortedJob;

impl Route {
    /// The route of the sorted job.
    pub fn of_sorted(&self, sorted: &SortedJob) -> Self {
        let end = |end: EndPoint| match end {
            EndPoint::Terminal(terminal) => EndPoint::Terminal(sorted.terminal(terminal)),
            EndPoint::ProtectionIn(lead) => EndPoint::ProtectionIn(sorted.lead(lead)),
            EndPoint::ProtectionOut(lead) => EndPoint::ProtectionOut(sorted.lead(lead)),
            EndPoint::FeedThroughNear(lead, panel) => {
                EndPoint::FeedThroughNear(sorted.lead(lead), panel)
            }
            EndPoint::FeedThroughFar(lead, panel) => {
                EndPoint::FeedThroughFar(sorted.lead(lead), panel)
            }
        };
        let section = |section: &Section| Section {
            from: end(section.from),
            to: end(section.to),
            ..section.clone()
        };
        let mut leads: Vec<LeadRoute> = self.leads.clone();
        for way in &mut leads {
            way.lead = sorted.lead(way.lead);
            way.sections = way.sections.iter().map(section).collect();
        }
        leads.sort_by_key(|way| way.lead);
        let bundle = |bundle: &Bundle| {
            let mut leads: Vec<_> = bundle.leads.iter().map(|id| sorted.lead(*id)).collect();
            leads.sort();
            Bundle {
                leads,
                leg: bundle.leg,
            }
        };
        Self {
            leads,
            bundles: self.bundles.iter().map(bundle).collect(),
            supports: self.supports.clone(),
            checks: Vec::new(),
        }
    }
}
