//! Sections and their ends in words.

use super::{EndPoint, LeadRoute};
use crate::job::Job;

impl LeadRoute {
    /// A section as its labels name it: the lead's name, and which part of it where it is not the only
    /// one, such as `charge lead 2/3`.
    pub fn section_name(&self, lead: &str, section: usize) -> String {
        match self.part_of(section) {
            Some(part) => format!("{lead} {part}"),
            None => lead.to_owned(),
        }
    }

    /// Which part of its lead a section is, such as `2/3`; nothing where it is the only one.
    pub fn part_of(&self, section: usize) -> Option<String> {
        let count = self.sections.len();
        (count > 1).then(|| format!("{}/{count}", section + 1))
    }
}

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
