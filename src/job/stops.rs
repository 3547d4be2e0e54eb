//! Which places a lead must pass.

use super::id::PlaceId;
use super::model::{Job, Lead};

impl Job {
    /// The places that a lead must pass, in order, its two ends included.
    ///
    /// The place of its protection is a stop of its own, before all others since protection belongs
    /// near the source, unless the lead is made to pass it anyway.
    pub fn stops(&self, lead: &Lead) -> Vec<PlaceId> {
        let mut stops = vec![self.terminal(lead.from).place];
        stops.extend(&lead.via);
        stops.push(self.terminal(lead.to).place);
        if lead.is_protected() && !stops.contains(&lead.protect_at) {
            stops.insert(1, lead.protect_at);
        }
        stops
    }
}
