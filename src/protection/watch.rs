//! Which sources can drive a short in a lead, and which devices stand between.

use std::collections::VecDeque;

use crate::catalog::{Polarity, Protective};
use crate::check::HAIR;
use crate::circuit::{Faults, Span, Spot, Wiring};
use crate::job::{LeadId, Owner, TerminalId};
use crate::quantity::{Current, Length};
use crate::route::EndPoint;

/// The two ends of a lead, from which a short in it may be fed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// The end that the lead starts at.
    Near,
    /// The other.
    Far,
}

/// The wiring with the devices chosen.
pub struct Watch<'a> {
    /// The wiring, with the devices' resistances.
    pub wiring: &'a Wiring<'a>,
    /// Shorts in it.
    pub faults: Faults,
    /// The device of each lead; position = lead id.
    kept: Vec<Option<Kept<'a>>>,
    /// What current can take from each terminal; position = terminal id.
    ways: Vec<Vec<Way>>,
}

/// A positive lead or closed switch at a terminal.
#[derive(Debug, Clone, Copy)]
struct Way {
    /// Where it leads.
    to: TerminalId,
    /// How much cable it is.
    length: Length,
    /// The lead; nothing for a switch.
    by: Option<LeadId>,
}

/// The device of a lead.
#[derive(Clone, Copy)]
pub struct Kept<'a> {
    /// The device.
    pub device: Protective<'a>,
    /// The same in the coldest air, in which it opens last.
    pub cold: Protective<'a>,
    /// The same in the hottest air, in which it opens first.
    pub hot: Protective<'a>,
    /// Metres of cable from the lead's start to the device.
    pub at: Length,
}

/// A source that a lead is joined to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Feed {
    /// The source.
    pub source: Owner,
    /// Cable between the source and the lead's end.
    pub distance: Length,
    /// The lead that leaves the source on the way; nothing where the lead itself ends there.
    pub by: Option<LeadId>,
}

impl<'a> Watch<'a> {
    /// Notes where every device stands.
    pub fn of(wiring: &'a Wiring<'a>, devices: &[(LeadId, Protective<'a>)]) -> Self {
        let job = wiring.job;
        let mut kept = vec![None; job.leads.len()];
        for (lead, device) in devices {
            let place = job.place(job.lead(*lead).protect_at);
            kept[lead.0] = Some(Kept {
                device: *device,
                cold: device.in_air(job.cold),
                hot: device.in_air(job.space(place.space).temperature),
                at: before_device(wiring, *lead),
            });
        }
        Self {
            wiring,
            faults: Faults::of(wiring),
            ways: ways(wiring),
            kept,
        }
    }

    /// The device of a lead.
    pub fn kept(&self, lead: LeadId) -> Option<&Kept<'a>> {
        self.kept.get(lead.0)?.as_ref()
    }

    /// The device of a lead, where it stands between a metre of the lead and one of its ends.
    fn own(&self, lead: LeadId, at: Length, end: End) -> Option<&Kept<'a>> {
        let beyond = |kept: &&Kept<'_>| match end {
            End::Near => at >= kept.at,
            End::Far => at < kept.at,
        };
        self.kept(lead).filter(beyond)
    }

    /// Largest rating that guards a lead.
    pub fn most_rating(&self, lead: LeadId) -> Current {
        let most = self.wiring.job.rules.protection_most.value.fraction();
        self.wiring.ampacities[lead.0] * most
    }

    /// Current through the device of a lead under a short that comes in from an end.
    pub fn seen(&self, guard: LeadId, lead: LeadId, end: End, spot: &Spot) -> Span {
        match end {
            _ if guard != lead => self.faults.through(guard, spot),
            End::Near => self.faults.from_near(spot),
            End::Far => self.faults.from_far(spot),
        }
    }

    /// The most energy that the device of a lead lets into a short, as current squared times time in
    /// A²s; `None` when it need not open. Where others feed the same short beside it, the cable gets
    /// more current than the device.
    pub fn lets_in(&self, guard: LeadId, lead: LeadId, end: End, spot: &Spot) -> Option<f64> {
        let seen = self.seen(guard, lead, end, spot);
        let side = self.seen(lead, lead, end, spot);
        let energy = self
            .kept(guard)?
            .cold
            .lets_through(seen.least, seen.largest)?;
        let beside = (side.least / seen.least).max(side.largest / seen.largest);
        Some(energy * beside.max(1.0).powi(2))
    }

    /// Whether the device of a lead opens before a short harms the cable.
    pub fn in_time(&self, guard: LeadId, lead: LeadId, end: End, spot: &Spot) -> bool {
        let stands = self.wiring.stands_a2s(lead) * (1.0 + HAIR);
        self.lets_in(guard, lead, end, spot)
            .is_some_and(|energy| energy <= stands)
    }

    /// Whether the device of a lead is small enough for another.
    pub fn small_enough(&self, guard: LeadId, lead: LeadId) -> bool {
        let most = self.most_rating(lead) * (1.0 + HAIR);
        self.kept(guard)
            .is_some_and(|kept| kept.device.rating <= most)
    }

    /// Batteries that can harm a lead by a short at a metre of it, coming in from an end past no
    /// device that `stops` them, and alternators and chargers past none that is small enough.
    pub fn open_feeds(
        &self,
        lead: LeadId,
        at: Length,
        end: End,
        stops: impl Fn(LeadId) -> bool,
    ) -> Vec<Feed> {
        let own = self.own(lead, at, end).is_some();
        let mut feeds = Vec::new();
        if !(own && stops(lead)) {
            let all = self.feeds(lead, end, &stops);
            feeds.extend(
                all.into_iter()
                    .filter(|feed| matches!(feed.source, Owner::Battery(_))),
            );
        }
        if !(own && self.small_enough(lead, lead)) {
            let all = self.feeds(lead, end, &|guard| self.small_enough(guard, lead));
            feeds.extend(
                all.into_iter()
                    .filter(|feed| self.overpowers(feed.source, lead)),
            );
        }
        feeds
    }

    /// Whether an alternator or charger can give more than a lead may carry without protection.
    fn overpowers(&self, source: Owner, lead: LeadId) -> bool {
        let Owner::Alternator(index) = source else {
            return false;
        };
        let harmless = self.wiring.job.rules.self_limiting.value.fraction();
        let limit = self.wiring.job.alternators[index].given.limit;
        limit > self.wiring.ampacities[lead.0] * harmless * (1.0 + HAIR)
    }

    /// The sources that an end of a lead is joined to past no device that `stops` them.
    pub fn feeds(&self, lead: LeadId, end: End, stops: &dyn Fn(LeadId) -> bool) -> Vec<Feed> {
        let reached = self.reached(lead, end, stops);
        let job = self.wiring.job;
        let batteries = job.batteries.iter().enumerate();
        let alternators = job.alternators.iter().enumerate();
        let terminals = batteries
            .map(|(index, item)| (Owner::Battery(index), item.positive))
            .chain(alternators.map(|(index, item)| (Owner::Alternator(index), item.positive)));
        let feed = |(source, terminal): (Owner, TerminalId)| {
            reached[terminal.0].map(|(distance, by)| Feed {
                source,
                distance,
                by,
            })
        };
        terminals.filter_map(feed).collect()
    }

    /// The devices first met from the start of a lead that carry a part of a short in it, by the
    /// leads that they are on.
    pub fn nearest_guards(&self, lead: LeadId, spot: &Spot) -> Vec<LeadId> {
        let end = End::Near;
        let side = self.seen(lead, lead, end, spot).least * LEAST_SHARE;
        let reached = self.reached(lead, end, &|_| true);
        let leads = self.wiring.job.leads();
        let met = |id: LeadId| {
            let item = self.wiring.job.lead(id);
            let ends = [item.from, item.to];
            id != lead
                && item.polarity == Polarity::Positive
                && self.kept(id).is_some()
                && ends.iter().any(|end| reached[end.0].is_some())
                && self.faults.through(id, spot).least > side
        };
        leads.map(|(id, _)| id).filter(|id| met(*id)).collect()
    }

    /// The devices that save a lead from a short coming in from its start: those first met, else any
    /// further up.
    pub fn savers(&self, lead: LeadId, spot: &Spot) -> Vec<LeadId> {
        let in_time = |guard: &LeadId| self.in_time(*guard, lead, End::Near, spot);
        let nearest = self.nearest_guards(lead, spot);
        if !nearest.is_empty() && nearest.iter().all(in_time) {
            return nearest;
        }
        let leads = self.wiring.job.leads().map(|(id, _)| id);
        let others = leads.filter(|id| *id != lead && self.kept(*id).is_some());
        others.filter(in_time).collect()
    }

    /// The devices that come next after that of a lead, by the leads that they are on: a short
    /// there goes through both.
    pub fn downstream(&self, lead: LeadId) -> Vec<LeadId> {
        let reached = self.reached(lead, End::Far, &|_| true);
        let leads = self.wiring.job.leads();
        let next = leads.filter(|(id, item)| {
            let starts_there = *id != lead && reached[item.from.0].is_some();
            starts_there && self.kept(*id).is_some() && self.carries_to(lead, *id)
        });
        next.map(|(id, _)| id).collect()
    }

    /// Whether a lead carries a part of a short at the far end of another.
    fn carries_to(&self, lead: LeadId, other: LeadId) -> bool {
        let end = self.wiring.route.leads[other.0].cut();
        let spot = self.faults.at(self.wiring, other, end);
        let side = self.seen(other, other, End::Near, &spot).least;
        self.faults.through(lead, &spot).least > side * LEAST_SHARE
    }

    /// For every terminal the least cable to an end of a lead by positive leads and switches, and
    /// the lead by which it is reached.
    fn reached(
        &self,
        lead: LeadId,
        end: End,
        stops: &dyn Fn(LeadId) -> bool,
    ) -> Vec<Option<(Length, Option<LeadId>)>> {
        let start = match end {
            End::Near => self.wiring.job.lead(lead).from,
            End::Far => self.wiring.job.lead(lead).to,
        };
        let job = self.wiring.job;
        let mut reached = vec![None; job.terminals.len()];
        reached[start.0] = Some((Length::ZERO, None));
        // Whether each lead is closed, once it was asked.
        let mut closed: Vec<Option<bool>> = vec![None; job.leads.len()];
        closed[lead.0] = Some(true);
        let mut waiting = VecDeque::from([start]);
        while let Some(from) = waiting.pop_front() {
            let Some((distance, last)) = reached[from.0] else {
                continue;
            };
            for way in &self.ways[from.0] {
                let is_closed = way.by.is_some_and(|id| {
                    let stopped = || self.kept(id).is_some() && stops(id);
                    *closed[id.0].get_or_insert_with(stopped)
                });
                let next = (distance + way.length, way.by.or(last));
                let nearer = reached[way.to.0].is_none_or(|(known, _)| next.0 < known);
                if nearer && !is_closed {
                    reached[way.to.0] = Some(next);
                    waiting.push_back(way.to);
                }
            }
        }
        reached
    }
}

/// The positive leads and closed switches at every terminal.
fn ways(wiring: &Wiring<'_>) -> Vec<Vec<Way>> {
    let job = wiring.job;
    let mut ways = vec![Vec::new(); job.terminals.len()];
    let mut add = |a: TerminalId, b: TerminalId, length: Length, by: Option<LeadId>| {
        ways[a.0].push(Way { to: b, length, by });
        ways[b.0].push(Way { to: a, length, by });
    };
    for (id, item) in job.leads() {
        if item.polarity == Polarity::Positive {
            add(item.from, item.to, wiring.route.leads[id.0].cut(), Some(id));
        }
    }
    for item in &job.devices {
        add(item.input, item.output, Length::ZERO, None);
    }
    ways
}

/// Part of a short below which a device sees nothing of it.
const LEAST_SHARE: f64 = 0.01;

/// Metres of cable before the device of a lead.
fn before_device(wiring: &Wiring<'_>, lead: LeadId) -> Length {
    let sections = &wiring.route.leads[lead.0].sections;
    let is_device = |end: EndPoint| matches!(end, EndPoint::ProtectionIn(_));
    match sections.iter().position(|section| is_device(section.to)) {
        Some(last) => sections[..=last].iter().map(|section| section.cut).sum(),
        None => Length::ZERO,
    }
}
