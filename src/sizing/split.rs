//! Leads that would be thinner by themselves: cables that lie together keep each other warm.

use serde::Serialize;

use super::candidates::Candidate;
use super::carry::Burden;
use super::worth::Worths;
use crate::job::LeadId;
use crate::quantity::ConductorSize;

/// What clamps of its own would save a lead.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Split {
    /// The size that would do.
    pub size: ConductorSize,
    /// What the thinner cable with its fittings saves, roughly.
    pub saves: f64,
    /// Clamps more.
    pub clamps: usize,
    /// What they cost, roughly.
    pub clamps_cost: f64,
    /// Whether the lead is overloaded as it lies, so that it must be split or thickened.
    pub needed: bool,
}

impl Worths<'_, '_> {
    /// What clamps of its own would save a lead; `None` where they save nothing.
    pub fn split(&self, lead: usize) -> Option<Split> {
        let (stock, now) = (self.stock, &self.chosen.outfits[lead]);
        let way = &stock.route.leads[lead];
        let table = stock
            .catalog
            .ampacity_table(&stock.job.rules.ampacity_table)?;
        let factor = table.bundle_factor(way.bundled_with);
        if factor >= 1.0 || stock.job.leads[lead].size.is_some() {
            return None;
        }
        let duty = &self.chosen.exact.duties[lead];
        let needed = matches!(stock.burden(lead, now, duty), Burden::Overloaded { .. });
        let alone = |rung: usize| {
            let mut candidate = stock.ladders[lead][rung].clone();
            candidate.allowed.current = candidate.allowed.current * (1.0 / factor);
            candidate
        };
        let rung = (0..=now.rung).find(|rung| self.does_alone(lead, *rung, &alone(*rung)))?;
        let thin = &stock.ladders[lead][rung];
        let saves = stock.ladders[lead][now.rung].price - thin.price;
        let clamps = stock.pricing.clamps_to_part(LeadId(lead));
        let clamps_cost = clamps as f64 * stock.pricing.clamp(thin.cable);
        let worth_it = saves > clamps_cost || (needed && saves >= 0.0);
        (worth_it && (rung < now.rung || needed)).then_some(Split {
            size: thin.cable.size,
            saves,
            clamps,
            clamps_cost,
            needed,
        })
    }

    /// Whether a cable that lies alone carries its lead's duty, keeps the volts and is guarded by
    /// the device that the lead has.
    fn does_alone(&self, lead: usize, rung: usize, alone: &Candidate<'_>) -> bool {
        let (stock, now) = (self.stock, &self.chosen.outfits[lead]);
        let way = &stock.route.leads[lead];
        let duty = &self.chosen.exact.duties[lead];
        let burden = super::carry::burden(alone, way, duty, stock.catalog);
        let most = alone.allowed.current * stock.job.rules.protection_most.value.fraction();
        let guarded = stock.device(now).is_none_or(|device| device.rating <= most);
        matches!(burden, Burden::Carried { .. })
            && guarded
            && self.keeps_volts(lead, rung)
            && self.stands_shorts(lead, rung)
    }
}
