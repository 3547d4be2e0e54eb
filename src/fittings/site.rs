//! What the earlier stages found, seen from the bench: cables, ends and currents by lead.

use crate::catalog::{Cable, Catalog};
use crate::circuit::Operation;
use crate::job::{Job, LeadId, LegId, PlaceId, Stud, TerminalId, Units};
use crate::protection::Protection;
use crate::quantity::{Current, Length, Temperature, Thread};
use crate::route::{EndPoint, LeadRoute, Route, Section};
use crate::sizing::{SizedLead, Sizing};

/// Everything that the fittings are chosen for and from.
#[derive(Clone, Copy)]
pub(super) struct Site<'a> {
    /// The job.
    pub job: &'a Job,
    /// The way of each lead.
    pub route: &'a Route,
    /// The cable of each lead.
    pub sizing: &'a Sizing,
    /// The devices.
    pub protection: &'a Protection,
    /// The currents of each state.
    pub operation: &'a Operation,
    /// The parts.
    pub catalog: &'a Catalog,
}

/// One end of a section.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Landing {
    /// The lead.
    pub lead: LeadId,
    /// Position of the section in the lead.
    pub section: usize,
    /// Whether it is the section's last end.
    pub last: bool,
    /// Where it lands.
    pub point: EndPoint,
}

impl<'a> Site<'a> {
    /// The way of a lead.
    pub fn way(&self, lead: LeadId) -> Option<&'a LeadRoute> {
        self.route.leads.get(lead.0)
    }

    /// The sections of a lead.
    pub fn sections(&self, lead: LeadId) -> &'a [Section] {
        self.way(lead).map_or(&[], |way| &way.sections)
    }

    /// What sizing found for a lead.
    pub fn sized(&self, lead: LeadId) -> Option<&'a SizedLead> {
        self.sizing.leads.get(lead.0)
    }

    /// The cable of a lead.
    pub fn cable(&self, lead: LeadId) -> Option<&'a Cable> {
        let id = &self.sized(lead)?.cable;
        self.catalog.cables.iter().find(|cable| *cable.id == *id)
    }

    /// Outer diameter of a lead's cable.
    pub fn diameter(&self, lead: LeadId) -> Option<Length> {
        self.sized(lead).map(|sized| sized.outer_diameter)
    }

    /// Largest continuous current of a lead.
    pub fn continuous(&self, lead: LeadId) -> Current {
        self.sized(lead)
            .map_or(Current::ZERO, |sized| sized.continuous)
    }

    /// Name of a lead.
    pub fn name(&self, lead: LeadId) -> &'a str {
        &self.job.lead(lead).name
    }

    /// Both ends of every section, in the order of leads and sections.
    pub fn landings(&self) -> Vec<Landing> {
        let mut landings = Vec::new();
        for (lead, _) in self.job.leads() {
            for (section, cable) in self.sections(lead).iter().enumerate() {
                for (last, point) in [(false, cable.from), (true, cable.to)] {
                    landings.push(Landing {
                        lead,
                        section,
                        last,
                        point,
                    });
                }
            }
        }
        landings
    }

    /// The ends that land on a terminal.
    pub fn landings_on(&self, terminal: TerminalId) -> Vec<Landing> {
        let mut landings = self.landings();
        landings.retain(|landing| landing.point == EndPoint::Terminal(terminal));
        landings
    }

    /// The cables whose ends land on a terminal.
    pub fn cables_on(&self, terminal: TerminalId) -> Vec<&'a Cable> {
        let landings = self.landings_on(terminal);
        landings
            .iter()
            .filter_map(|landing| self.cable(landing.lead))
            .collect()
    }

    /// The largest continuous current of any one lead on a terminal.
    pub fn largest_lead_on(&self, terminal: TerminalId) -> Current {
        let leads = self.job.leads_at(terminal);
        leads
            .map(|lead| self.continuous(lead))
            .fold(Current::ZERO, Current::max)
    }

    /// One for a thread of the system that the vehicle does not use, else nothing. The vehicle's
    /// system is that of most studs that the job gives; without any, that of its units.
    pub fn foreign(&self, thread: Thread) -> f64 {
        let studs = self.job.terminals.iter();
        let given = studs.filter_map(|terminal| match terminal.stud {
            Stud::Thread(thread) => Some(is_metric(thread)),
            Stud::Post | Stud::Bus | Stud::Device => None,
        });
        let votes: i64 = given.map(|metric| if metric { 1 } else { -1 }).sum();
        let metric = match votes.signum() {
            0 => self.job.units == Units::Metric,
            sign => sign > 0,
        };
        f64::from(u8::from(is_metric(thread) != metric))
    }

    /// A section as its labels name it.
    pub fn section_name(&self, lead: LeadId, section: usize) -> String {
        let name = self.name(lead);
        self.way(lead)
            .map_or(name.to_owned(), |way| way.section_name(name, section))
    }

    /// Air temperature at a place.
    pub fn temperature(&self, place: PlaceId) -> Temperature {
        self.job.space(self.job.place(place).space).temperature
    }

    /// A leg in words: `battery tray to bulkhead`.
    pub fn leg_name(&self, leg: LegId) -> String {
        let leg = self.job.leg(leg);
        let name = |place: PlaceId| self.job.place(place).name.as_str();
        format!("{} to {}", name(leg.from), name(leg.to))
    }

    /// The leads on a leg, each as often as it passes.
    pub fn leads_on(&self, leg: LegId) -> Vec<LeadId> {
        let bundles = self.route.bundles.iter();
        let leads = bundles
            .filter(|bundle| bundle.leg == leg)
            .flat_map(|bundle| &bundle.leads);
        let mut found = Vec::new();
        for lead in leads {
            let way = self.way(*lead).map_or(&[][..], |way| &way.way.legs);
            let passes = way.iter().filter(|passed| **passed == leg).count();
            found.extend(std::iter::repeat_n(*lead, passes.max(1)));
        }
        found
    }
}

/// Metric threads are named by M and their diameter, ISO 261.
fn is_metric(thread: Thread) -> bool {
    thread.as_str().starts_with('M')
}
