//! What a lug meets at the end of a section.

use super::buses::BusPlan;
use super::devices::DevicePart;
use super::posts::PostPlan;
use super::site::{Landing, Site};
use super::{FittedPassage, choose::Lacks};
use crate::catalog::{Cable, Catalog, Connector, Polarity, StudMaterial};
use crate::job::{LeadId, Owner, PanelId, PlaceId, TerminalId};
use crate::quantity::Thread;
use crate::route::EndPoint;

/// The place where a section is fastened.
#[derive(Debug)]
pub(super) struct Seat<'a> {
    /// In words.
    pub name: String,
    /// Where it is.
    pub place: PlaceId,
    /// What holds the end.
    pub hold: Hold<'a>,
    /// Whether a cover over it comes with the part.
    pub covered: bool,
    /// The stud that other leads may share: the terminal and, on a bus, the stud's number.
    pub shared: Option<(TerminalId, usize)>,
}

/// What holds an end.
#[derive(Debug, Clone)]
pub(super) enum Hold<'a> {
    /// A stud.
    Stud(StudSeat),
    /// A contact of a connector, which takes no lug.
    Contact(&'a Connector),
    /// Not known, with the reason.
    Unknown(String),
}

/// A stud.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct StudSeat {
    /// Its thread.
    pub thread: Thread,
    /// Whose it is.
    pub maker: Maker,
}

/// Who answers for a stud's current and torque.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Maker {
    /// This plan: a part chosen from the catalog, judged by the table of studs. Its nut comes with it.
    Plan(StudMaterial),
    /// This plan: a bolt through the body or engine, with nut and washers to be bought.
    Bolt,
    /// The maker of the load, battery, alternator or device; its nut comes with it.
    Other,
}

impl Maker {
    /// The material to judge it by, where the table of studs judges it.
    pub fn material(self) -> Option<StudMaterial> {
        match self {
            Self::Plan(material) => Some(material),
            Self::Bolt => Some(StudMaterial::Steel),
            Self::Other => None,
        }
    }
}

/// What is settled about studs before the ends are fitted.
pub(super) struct Seats<'a, 'b> {
    /// The inputs.
    pub site: Site<'a>,
    /// The buses with their studs.
    pub buses: &'b [BusPlan<'a>],
    /// The battery terminals.
    pub posts: &'b [PostPlan<'a>],
    /// The fittings in panels.
    pub passages: &'b [FittedPassage],
}

impl<'a> Seats<'a, '_> {
    /// What the end meets.
    pub fn seat(&self, landing: &Landing) -> Seat<'a> {
        match landing.point {
            EndPoint::Terminal(terminal) => self.terminal(landing, terminal),
            EndPoint::ProtectionIn(lead) => self.protection(lead, "source side"),
            EndPoint::ProtectionOut(lead) => self.protection(lead, "load side"),
            EndPoint::FeedThroughNear(lead, panel) => self.feed_through(lead, panel, false),
            EndPoint::FeedThroughFar(lead, panel) => self.feed_through(lead, panel, true),
        }
    }

    fn terminal(&self, landing: &Landing, id: TerminalId) -> Seat<'a> {
        let terminal = self.site.job.terminal(id);
        let mut seat = Seat {
            name: terminal.name.clone(),
            place: terminal.place,
            hold: Hold::Unknown(String::new()),
            covered: false,
            shared: Some((id, 0)),
        };
        match terminal.stud {
            crate::job::Stud::Thread(thread) => {
                let maker = match terminal.owner {
                    Owner::Chassis(_) => Maker::Bolt,
                    _ => Maker::Other,
                };
                seat.hold = Hold::Stud(StudSeat { thread, maker });
            }
            crate::job::Stud::Post => seat.hold = self.post(id),
            crate::job::Stud::Bus => self.bus(landing, id, &mut seat),
            crate::job::Stud::Device => seat.hold = self.device(terminal.owner),
        }
        seat
    }

    fn post(&self, id: TerminalId) -> Hold<'a> {
        let plan = self.posts.iter().find(|plan| plan.terminal == id);
        match plan.and_then(|plan| plan.part) {
            Some(part) => Hold::Stud(StudSeat {
                thread: part.stud,
                maker: Maker::Plan(StudMaterial::Steel),
            }),
            None => Hold::Unknown("no battery terminal was found for the post".to_owned()),
        }
    }

    fn bus(&self, landing: &Landing, id: TerminalId, seat: &mut Seat<'a>) {
        let plan = self.buses.iter().find(|plan| plan.terminal == id);
        let Some((plan, part)) = plan.and_then(|plan| Some((plan, plan.part?))) else {
            seat.hold = Hold::Unknown("no bus was found for it".to_owned());
            return;
        };
        let number = plan.stud_of(landing);
        seat.name = format!("{}, stud {}", seat.name, number + 1);
        seat.shared = Some((id, number));
        seat.covered = part.cover;
        seat.hold = Hold::Stud(StudSeat {
            thread: part.stud,
            maker: Maker::Plan(part.material),
        });
    }

    fn device(&self, owner: Owner) -> Hold<'a> {
        let device = match owner {
            Owner::Device(index) => self.site.job.devices.get(index),
            _ => None,
        };
        let part = device.and_then(|device| {
            DevicePart::find(self.site.catalog, device.given.part.value.as_str())
        });
        let thread = match part {
            Some(DevicePart::Connector(connector)) => return Hold::Contact(connector),
            Some(DevicePart::Switch(switch)) => switch.stud,
            Some(DevicePart::Contactor(contactor)) => contactor.stud,
            None => return Hold::Unknown("the catalog does not hold the device".to_owned()),
        };
        Hold::Stud(StudSeat {
            thread,
            maker: Maker::Other,
        })
    }

    fn protection(&self, lead: LeadId, side: &str) -> Seat<'a> {
        let (site, name) = (self.site, self.site.name(lead));
        let mut seat = Seat {
            name: format!("protection of {name}, {side}"),
            place: site.job.lead(lead).protect_at,
            hold: Hold::Unknown("no breaker or fuse was found for the lead".to_owned()),
            covered: false,
            shared: None,
        };
        if let Some(guard) = site.protection.guard(lead) {
            seat.name = format!("{} of {name}, {side}", guard.kind);
            seat.place = guard.place;
            let holders = site.catalog.holders.iter();
            let holder = guard.holder.as_deref().and_then(|id| {
                let mut found = holders.filter(|holder| *holder.id == id);
                found.next()
            });
            seat.covered = holder.is_some_and(|holder| holder.cover);
            seat.hold = Hold::Stud(StudSeat {
                thread: guard.stud,
                maker: Maker::Other,
            });
        }
        seat
    }

    fn feed_through(&self, lead: LeadId, panel: PanelId, far: bool) -> Seat<'a> {
        let site = self.site;
        let side = if far { "far side" } else { "near side" };
        let panel_name = &site.job.panel(panel).name;
        let fitted = self
            .passages
            .iter()
            .find(|passage| passage.lead == lead && passage.panel == panel);
        let part = fitted
            .and_then(|passage| passage.part.as_deref())
            .and_then(|id| site.catalog.feed_throughs.iter().find(|row| *row.id == id));
        let hold = match part {
            Some(part) => Hold::Stud(StudSeat {
                thread: part.stud,
                maker: Maker::Plan(part.material),
            }),
            None => Hold::Unknown(format!("no feed-through was found for {panel_name}")),
        };
        Seat {
            name: format!(
                "feed-through of {} in {panel_name}, {side}",
                site.name(lead)
            ),
            place: beside(site, lead, panel, far),
            hold,
            covered: false,
            shared: None,
        }
    }
}

/// The place before or after a panel on the way of a lead.
fn beside(site: Site<'_>, lead: LeadId, panel: PanelId, far: bool) -> PlaceId {
    let place = site.way(lead).and_then(|way| {
        let crossing = way.crossings.iter().find(|one| one.panel == panel)?;
        let leg = way.way.legs.iter().position(|leg| *leg == crossing.leg)?;
        way.way.places.get(leg + usize::from(far)).copied()
    });
    place.unwrap_or_else(|| site.job.terminal(site.job.lead(lead).from).place)
}

/// Whether a lead is on the positive side.
pub(super) fn is_positive(site: Site<'_>, lead: LeadId) -> bool {
    site.job.lead(lead).polarity == Polarity::Positive
}

/// Which studs have lugs for the cables that meet.
#[derive(Debug)]
pub(super) struct StudsOfLugs(Vec<(String, Vec<Thread>)>);

impl StudsOfLugs {
    /// For each cable, the studs of all lugs that fit it. A cable that no lug in the catalog fits
    /// is left out: no stud would cure that, and the end itself says so.
    pub fn of(catalog: &Catalog, cables: &[&Cable]) -> Self {
        let mut found: Vec<(String, Vec<Thread>)> = Vec::new();
        for cable in cables {
            let row = (cable.size.to_string(), catalog.studs_for(cable));
            if !row.1.is_empty() && !found.contains(&row) {
                found.push(row);
            }
        }
        Self(found)
    }

    /// Adds the cables that have no lug for the stud.
    pub fn exist(&self, stud: Thread, lacks: &mut Lacks) {
        let without = self.0.iter().filter(|(_, studs)| !studs.contains(&stud));
        let sizes: Vec<&str> = without.map(|(size, _)| size.as_str()).collect();
        lacks.unless(sizes.is_empty(), || {
            format!("no lug for {} goes on its {stud} stud", sizes.join(", "))
        });
    }
}
