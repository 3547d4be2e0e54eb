//! All that the earlier stages decided, and questions that several steps ask of it.

use std::collections::BTreeSet;

use super::subject::Key;
use super::wording::{listed, named};
use crate::catalog::{Catalog, Polarity};
use crate::fittings::{End, Fittings, Joint};
use crate::job::{Access, Job, LeadId, LegId, Owner, PlaceId, Terminal};
use crate::protection::Protection;
use crate::quantity::Length;
use crate::route::{EndPoint, Route, Section};
use crate::sizing::Sizing;

/// The work as planned so far.
#[derive(Debug, Clone, Copy)]
pub struct Work<'a> {
    /// The job.
    pub job: &'a Job,
    /// Ways of the leads.
    pub route: &'a Route,
    /// Cables of the leads.
    pub sizing: &'a Sizing,
    /// Devices of the leads.
    pub protection: &'a Protection,
    /// Parts of the leads.
    pub fittings: &'a Fittings,
    /// The catalog.
    pub catalog: &'a Catalog,
}

impl<'a> Work<'a> {
    /// Name of a place.
    pub fn place(&self, id: PlaceId) -> String {
        named(&self.job.place(id).name)
    }

    /// Names of leads.
    pub fn leads(&self, ids: impl IntoIterator<Item = LeadId>) -> String {
        let names = ids.into_iter().map(|id| named(&self.job.lead(id).name));
        listed(&names.collect::<Vec<_>>())
    }

    /// One line about a part; its id where the catalog does not know it.
    pub fn describe(&self, id: &str) -> String {
        let part = self.catalog.part(id);
        part.map_or_else(|| id.to_owned(), |part| part.description().to_owned())
    }

    /// The easiest access to a place by a leg that leads lie on, or by any leg where none does.
    pub fn access(&self, place: PlaceId) -> Option<Access> {
        let used: BTreeSet<LegId> = self.route.bundles.iter().map(|bundle| bundle.leg).collect();
        let there = || {
            let legs = self.job.legs();
            legs.filter(|(_, leg)| leg.from == place || leg.to == place)
        };
        let words = there().filter(|(id, _)| used.contains(id));
        let easiest = words.map(|(_, leg)| leg.access).min();
        easiest.or_else(|| there().map(|(_, leg)| leg.access).min())
    }

    /// A leg by its two places.
    pub fn leg(&self, id: LegId) -> String {
        let leg = self.job.leg(id);
        format!("{} to {}", self.place(leg.from), self.place(leg.to))
    }

    /// Sections of a lead.
    pub fn sections(&self, lead: LeadId) -> &'a [Section] {
        let route = self.route.leads.get(lead.0);
        route.map_or(&[], |route| route.sections.as_slice())
    }

    /// A section as its labels name it.
    pub fn section_name(&self, lead: LeadId, section: usize) -> String {
        let (name, way) = (&self.job.lead(lead).name, self.route.leads.get(lead.0));
        way.map_or(name.clone(), |way| way.section_name(name, section))
    }

    /// Legs under a section, each with the length that lies on it; none for a link at one place.
    pub fn legs_of(&self, lead: LeadId, section: usize) -> Vec<(LegId, Length)> {
        let mut met = Length::ZERO;
        let mut under = Vec::new();
        let Some(route) = self.route.leads.get(lead.0) else {
            return under;
        };
        let Some((start, end)) = route.stretch(section) else {
            return under;
        };
        for id in &route.way.legs {
            let next = met + self.job.leg(*id).length;
            let on = end.min(next) - start.max(met);
            if on > Length::ZERO {
                under.push((*id, on));
            }
            met = next;
        }
        under
    }

    /// Position of the end that is made first, on the bench.
    pub fn is_first_end(&self, position: usize, end: &End) -> bool {
        let same = |other: &End| other.lead == end.lead && other.section == end.section;
        self.fittings.ends.iter().position(same) == Some(position)
    }

    /// The terminal of the job at the end of a section, where it ends at one.
    pub fn terminal(&self, point: EndPoint) -> Option<&'a Terminal> {
        match point {
            EndPoint::Terminal(id) => Some(self.job.terminal(id)),
            _ => None,
        }
    }

    /// What the stud at the end of a section belongs to.
    pub fn owner(&self, point: EndPoint) -> Vec<Key> {
        match point {
            EndPoint::Terminal(id) => match self.job.terminal(id).owner {
                Owner::Battery(battery) => self.battery(battery),
                Owner::Bus(bus) => vec![Key::Bus(bus)],
                Owner::Device(device) => vec![Key::Device(device)],
                Owner::Converter(converter) => vec![Key::Converter(converter)],
                Owner::Alternator(_) | Owner::Load(_) | Owner::Chassis(_) => Vec::new(),
            },
            EndPoint::ProtectionIn(lead) | EndPoint::ProtectionOut(lead) => {
                vec![Key::Protection(lead.0)]
            }
            EndPoint::FeedThroughNear(lead, panel) | EndPoint::FeedThroughFar(lead, panel) => {
                let passages = self.fittings.passages.iter();
                let same = passages
                    .enumerate()
                    .filter(|(_, passage)| passage.lead == lead && passage.panel == panel);
                same.map(|(position, _)| Key::Passage(position)).collect()
            }
        }
    }

    /// A battery and its box.
    pub fn battery(&self, battery: usize) -> Vec<Key> {
        let name = self.job.batteries.get(battery).map(|row| &row.given.name);
        let boxes = self.fittings.enclosures.iter().enumerate();
        let own = boxes.filter(|(_, row)| name.is_some_and(|name| **name == row.battery));
        let keys = own.map(|(position, _)| Key::Enclosure(position));
        std::iter::once(Key::Battery(battery)).chain(keys).collect()
    }

    /// The ends whose lugs a joint holds: those of its leads at its place, and of these the ones
    /// on the terminal that it is named after.
    pub fn ends_of(&self, joint: &Joint) -> Vec<usize> {
        let ends = self.fittings.ends.iter().enumerate();
        let there: Vec<(usize, &End)> = ends
            .filter(|(_, end)| {
                let lead = &self.job.lead(end.lead).name;
                end.place == joint.place && joint.leads.contains(lead)
            })
            .collect();
        let matching = |fits: &dyn Fn(&End) -> bool| -> Vec<usize> {
            let found = there.iter().filter(|(_, end)| fits(end));
            found.map(|(position, _)| *position).collect()
        };
        let exact = matching(&|end| end.terminal == joint.name);
        if !exact.is_empty() {
            return exact;
        }
        let named_after = matching(&|end| joint.name.starts_with(end.terminal.as_str()));
        if !named_after.is_empty() {
            return named_after;
        }
        matching(&|_| true)
    }

    /// The pole of the battery that a joint is on, if it is on one.
    pub fn battery_pole(&self, joint: &Joint) -> Option<(usize, Polarity)> {
        let ends = self.ends_of(joint);
        let terminals = ends.iter().filter_map(|end| self.fittings.ends.get(*end));
        terminals
            .filter_map(|end| self.terminal(end.point))
            .find_map(|terminal| match (terminal.owner, terminal.pole) {
                (Owner::Battery(battery), Some(pole)) => Some((battery, pole)),
                _ => None,
            })
    }
}
