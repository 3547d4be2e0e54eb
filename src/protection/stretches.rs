//! Runs along a lead: where it is protected, by what, and why not.

use super::coverage::{Keep, Stretch, source_name, starter_permitted, within_reach};
use super::watch::{End, Feed, Watch};
use crate::circuit::Spot;
use crate::job::{Job, LeadId};
use crate::quantity::Length;
use crate::route::LeadRoute;

/// Points of a section that are looked at before the ends of stretches are searched for.
const SAMPLES: u32 = 8;

/// How closely the end of a stretch is searched for.
const CLOSE_M: f64 = 0.001;

/// Runs along a lead and notes where its protection changes.
pub fn stretches(watch: &Watch<'_>, lead: LeadId) -> Vec<Stretch> {
    let mut stretches: Vec<Stretch> = Vec::new();
    for section in Section::all(&watch.wiring.route.leads[lead.0]) {
        let mut before = section.start;
        let mut state = state_at(watch, lead, before);
        for sample in 1..=SAMPLES {
            let (at, inside) = (section.at(sample), section.inside(sample));
            let next = state_at(watch, lead, inside);
            if next == state {
                push(&mut stretches, before, at, &state);
            } else {
                let change = change(watch, lead, (before, inside), &state);
                push(&mut stretches, before, change, &state);
                push(&mut stretches, change, at, &next);
                state = next;
            }
            before = at;
        }
    }
    stretches
}

/// The metres of a lead that are looked at before the ends of stretches are searched for.
pub fn looked_at(way: &LeadRoute) -> Vec<Length> {
    let sections = Section::all(way).into_iter();
    let samples =
        sections.flat_map(|section| (0..=SAMPLES).map(move |sample| section.inside(sample)));
    samples.collect()
}

/// One cable of a lead, by metres from the lead's start.
#[derive(Clone, Copy)]
struct Section {
    start: Length,
    cut: Length,
}

impl Section {
    fn all(way: &LeadRoute) -> Vec<Self> {
        let mut start = Length::ZERO;
        let sections = way.sections.iter().map(|section| {
            let here = start;
            start = here + section.cut;
            Self {
                start: here,
                cut: section.cut,
            }
        });
        sections.collect()
    }

    fn at(self, sample: u32) -> Length {
        if sample == SAMPLES {
            self.start + self.cut
        } else {
            self.start + self.cut / f64::from(SAMPLES) * f64::from(sample)
        }
    }

    /// The same within the cable: at the joint of two cables the state of the cable that follows counts.
    fn inside(self, sample: u32) -> Length {
        let end = self.start + self.cut - Length::from_m(CLOSE_M / 10.0);
        self.at(sample).min(end).max(self.start)
    }
}

/// Where a state ends between two points.
fn change(watch: &Watch<'_>, lead: LeadId, between: (Length, Length), state: &State) -> Length {
    let (mut low, mut high) = between;
    while (high - low).m() > CLOSE_M {
        let middle = (low + high) / 2.0;
        if state_at(watch, lead, middle) == *state {
            low = middle;
        } else {
            high = middle;
        }
    }
    high
}

fn push(stretches: &mut Vec<Stretch>, from: Length, to: Length, state: &State) {
    if let Some(last) = stretches.last_mut()
        && last.keep == state.0
        && last.reason == state.1
    {
        last.to = to;
        return;
    }
    if to > from {
        stretches.push(Stretch {
            from,
            to,
            keep: state.0,
            reason: state.1.clone(),
        });
    }
}

/// Whether a point is protected, and by what or why not.
type State = (Keep, String);

fn state_at(watch: &Watch<'_>, lead: LeadId, at: Length) -> State {
    let spot = watch.faults.at(watch.wiring, lead, at);
    let near = exposed(watch, lead, at, End::Near, &spot);
    let far = exposed(watch, lead, at, End::Far, &spot);
    if near.is_empty() && far.is_empty() {
        return (Keep::Protected, protected_by(watch, lead, at, &spot));
    }
    if let Some(reason) = permitted(watch, lead, at, &near, &far) {
        return (Keep::Permitted, reason);
    }
    (Keep::Bare, bare(watch, lead, at, (&near, &far)))
}

fn exposed(watch: &Watch<'_>, lead: LeadId, at: Length, end: End, spot: &Spot) -> Vec<Feed> {
    watch.open_feeds(lead, at, end, |guard| watch.in_time(guard, lead, end, spot))
}

fn protected_by(watch: &Watch<'_>, lead: LeadId, at: Length, spot: &Spot) -> String {
    let own = watch.kept(lead).filter(|kept| at >= kept.at);
    let in_time = |guard| watch.in_time(guard, lead, End::Near, spot);
    if let Some(kept) = own.filter(|_| in_time(lead)) {
        return format!(
            "by its {:.0} A {}",
            kept.device.rating.a(),
            kept.device.kind
        );
    }
    let guards = watch.savers(lead, spot);
    let names: Vec<&str> = guards
        .iter()
        .map(|guard| watch.wiring.job.lead(*guard).name.as_str())
        .collect();
    match names.as_slice() {
        [] => "nothing that feeds it can give more than it may carry".to_owned(),
        [one] => format!("by the device of {one}"),
        many => format!("by the devices of {}", many.join(" and ")),
    }
}

/// Why a point may go without a device, if it may.
fn permitted(
    watch: &Watch<'_>,
    lead: LeadId,
    at: Length,
    near: &[Feed],
    far: &[Feed],
) -> Option<String> {
    if starter_permitted(watch, lead) {
        return Some("a lead to a starter may go without".to_owned());
    }
    let kept = watch.kept(lead)?;
    let way = &watch.wiring.route.leads[lead.0];
    let rules = &watch.wiring.job.rules;
    let most = if way.protection_sheathed {
        rules.protection_distance_sheathed.value
    } else {
        rules.protection_distance.value
    };
    let before = at < kept.at && far.is_empty();
    if before && way.protection_at.is_some_and(|distance| distance <= most) {
        return Some(format!(
            "the link between its source and its device, which may be {:.0} mm",
            most.mm()
        ));
    }
    let beyond = at >= kept.at && near.is_empty();
    let close = far.iter().all(|feed| within_reach(watch, lead, feed));
    (beyond && close).then(|| {
        let most = rules.protection_distance.value;
        format!(
            "its device also stands near the source at its far end; {:.0} mm is allowed",
            most.mm()
        )
    })
}

fn names(job: &Job, feeds: &[Feed]) -> String {
    let names: Vec<&str> = feeds
        .iter()
        .map(|feed| source_name(job, feed.source))
        .collect();
    names.join(" and ")
}

fn bare(watch: &Watch<'_>, lead: LeadId, at: Length, feeds: (&[Feed], &[Feed])) -> String {
    let job = watch.wiring.job;
    let (near, far) = feeds;
    let mut reasons = Vec::new();
    if !near.is_empty() {
        let own = watch.kept(lead).is_some_and(|kept| at >= kept.at);
        reasons.push(if own {
            "its device is not sure to open before the cable is harmed".to_owned()
        } else {
            format!(
                "no device that opens in time stands between it and {}",
                names(job, near)
            )
        });
    }
    if !far.is_empty() {
        reasons.push(format!(
            "{} can feed it from its far end, and no device stops that in time",
            names(job, far)
        ));
    }
    reasons.join("; ")
}
