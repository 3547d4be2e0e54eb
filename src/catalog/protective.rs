//! Breakers and fuses seen alike: what decides whether one may guard a lead.

use super::{Breaker, Catalog, Curve, Fuse, Holder, Part, PartKind, Reset};
use crate::quantity::{Current, Duration, Ratio, Resistance, Temperature, Thread, Voltage};

/// A breaker, or a fuse with its holder.
#[derive(Debug, Clone, Copy)]
pub struct Protective<'a> {
    /// Breaker or fuse.
    pub kind: PartKind,
    /// Id of the breaker or fuse.
    pub part: &'a str,
    /// The holder of a fuse.
    pub holder: Option<&'a Holder>,
    /// Rated current.
    pub rating: Current,
    /// Its band of opening times.
    pub curve: &'a Curve,
    /// Largest current it can break.
    pub interrupting: Current,
    /// Highest system voltage.
    pub voltage: Voltage,
    /// Where those figures come from.
    pub source: &'a str,
    /// Thread of the studs that lugs go on.
    pub stud: Thread,
    /// Resistance when closed and cold.
    pub resistance: Resistance,
    /// Whether it may stand where fuel or battery gas may gather.
    pub ignition_protected: bool,
    /// How a breaker closes again.
    pub reset: Option<Reset>,
}

impl Protective<'_> {
    /// The same device with the rating that it has in air of a temperature.
    #[must_use]
    pub fn in_air(&self, air: Temperature) -> Self {
        Self {
            rating: self.rating * self.curve.carries_at(air).fraction(),
            ..*self
        }
    }

    /// A current in terms of the rating.
    pub fn of_rating(&self, current: Current) -> Ratio {
        Ratio::from_fraction(current / self.rating)
    }

    /// Within how long it certainly opens at a current.
    pub fn opens_within(&self, current: Current) -> Option<Duration> {
        self.curve.opens_within(self.of_rating(current))
    }

    /// The most energy that it lets through, as current squared times time in A²s, at any current
    /// between two; `None` when it need not open at the smaller one.
    pub fn lets_through(&self, least: Current, largest: Current) -> Option<f64> {
        let energy = |current: Current| {
            let time = self.opens_within(current)?;
            Some(current.a() * current.a() * time.s())
        };
        // Between two points of the curve the energy rises or falls all the way.
        let points = self
            .curve
            .point
            .iter()
            .map(|point| self.rating * point.percent.fraction());
        let between = points.filter(|current| least < *current && *current < largest);
        let inner = between.filter_map(energy).fold(0.0, f64::max);
        Some(energy(least)?.max(energy(largest)?).max(inner))
    }
}

/// A price that can be sorted by.
#[derive(PartialEq)]
struct OrderedPrice(f64);

impl Eq for OrderedPrice {}

impl PartialOrd for OrderedPrice {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for OrderedPrice {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.0.total_cmp(&other.0)
    }
}

impl Catalog {
    /// Every breaker, and every fuse that some holder takes, cheapest first.
    pub fn protective(&self) -> Vec<Protective<'_>> {
        let breakers = self.breakers.iter().filter_map(|row| self.breaker(row));
        let fuses = self.fuses.iter().filter_map(|row| self.fuse(row));
        let mut all: Vec<Protective<'_>> = breakers.chain(fuses).collect();
        let prices = self.rough_prices();
        all.sort_by_cached_key(|device| (OrderedPrice(prices.of_device(device)), device.part));
        all
    }

    fn breaker<'a>(&'a self, row: &'a Breaker) -> Option<Protective<'a>> {
        Some(Protective {
            kind: PartKind::Breaker,
            part: row.id(),
            holder: None,
            rating: row.rating,
            curve: self.curve(&row.curve)?,
            interrupting: row.interrupting,
            voltage: row.voltage,
            source: row.source(),
            stud: row.stud,
            resistance: row.resistance,
            ignition_protected: row.ignition_protected,
            reset: Some(row.reset),
        })
    }

    fn fuse<'a>(&'a self, row: &'a Fuse) -> Option<Protective<'a>> {
        let holder = self
            .holders
            .iter()
            .filter(|holder| holder.form == row.form && holder.rating >= row.rating)
            .min_by(|a, b| a.rating.total_cmp(&b.rating))?;
        Some(Protective {
            kind: PartKind::Fuse,
            part: row.id(),
            holder: Some(holder),
            rating: row.rating,
            curve: self.curve(&row.curve)?,
            interrupting: row.interrupting,
            voltage: row.voltage,
            source: row.source(),
            stud: holder.stud,
            resistance: row.resistance,
            ignition_protected: row.ignition_protected,
            reset: None,
        })
    }
}

/// What a place and a job demand of any device.
#[derive(Debug, Clone, Copy)]
pub struct DeviceDemand {
    /// Voltage of the system.
    pub voltage: Voltage,
    /// Whether breakers must be reset by hand.
    pub manual_reset_only: bool,
    /// Whether fuel or battery gas may gather where it stands.
    pub vapour: bool,
    /// Largest current that it must break.
    pub fault: Current,
    /// Hottest air round it.
    pub hot: Temperature,
    /// Coldest air round it.
    pub cold: Temperature,
}

impl Protective<'_> {
    /// Whether its kind is allowed where it stands.
    pub fn kind_allowed(&self, demand: &DeviceDemand) -> bool {
        let by_hand = matches!(self.reset, None | Some(Reset::Manual));
        (by_hand || !demand.manual_reset_only) && (self.ignition_protected || !demand.vapour)
    }

    /// Whether it stands all that the place and the job demand.
    pub fn meets(&self, demand: &DeviceDemand) -> bool {
        self.suits(demand) && self.interrupting >= demand.fault
    }

    /// Whether its kind and voltage suit the place and the job.
    pub fn suits(&self, demand: &DeviceDemand) -> bool {
        self.kind_allowed(demand) && self.voltage >= demand.voltage
    }
}
