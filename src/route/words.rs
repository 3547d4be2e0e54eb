//! Ends of sections in words.

use super::EndPoint;
use crate::job::Job;

impl EndPoint {
    /// What the end is on, in words.
    pub fn words(&self, job: &Job) -> String {
        match *self {
            Self::Terminal(terminal) => job.terminal(terminal).name.clone(),
            Self::ProtectionIn(lead) => {
                format!("protection of {}, source side", job.lead(lead).name)
            }
            Self::ProtectionOut(lead) => {
                format!("protection of {}, load side", job.lead(lead).name)
            }
            Self::FeedThroughNear(lead, panel) => {
                let (lead, panel) = (&job.lead(lead).name, &job.panel(panel).name);
                format!("feed-through of {lead} in {panel}, near side")
            }
            Self::FeedThroughFar(lead, panel) => {
                let (lead, panel) = (&job.lead(lead).name, &job.panel(panel).name);
                format!("feed-through of {lead} in {panel}, far side")
            }
        }
    }
}
