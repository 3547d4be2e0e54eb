//! Batteries in series.

use super::id::{BatteryId, TerminalId};
use super::model::{Battery, Job};

/// Batteries joined positive to negative, the lowest first; often one alone.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BatteryString {
    /// The batteries.
    pub batteries: Vec<BatteryId>,
    /// Negative terminal of the lowest.
    pub negative: TerminalId,
    /// Positive terminal of the highest.
    pub positive: TerminalId,
}

impl Job {
    /// The battery behind an id.
    pub fn battery(&self, id: BatteryId) -> &Battery {
        &self.batteries[id.0]
    }

    /// Every string of batteries, in the order of their lowest.
    pub fn strings(&self) -> Vec<BatteryString> {
        let groups = self.groups();
        let above = |lower: &Battery| {
            let joined = |upper: &Battery| groups[upper.negative.0] == groups[lower.positive.0];
            self.batteries.iter().position(joined)
        };
        let lowest = |battery: &&Battery| {
            let joined = |lower: &Battery| groups[lower.positive.0] == groups[battery.negative.0];
            !self.batteries.iter().any(joined)
        };
        let string = |first: &Battery| {
            let mut string = BatteryString {
                batteries: Vec::new(),
                negative: first.negative,
                positive: first.positive,
            };
            let is_first = |battery: &Battery| battery.positive == first.positive;
            let mut next = self.batteries.iter().position(is_first);
            while let Some(index) =
                next.filter(|index| !string.batteries.contains(&BatteryId(*index)))
            {
                string.batteries.push(BatteryId(index));
                string.positive = self.batteries[index].positive;
                next = above(&self.batteries[index]);
            }
            string
        };
        self.batteries.iter().filter(lowest).map(string).collect()
    }
}
