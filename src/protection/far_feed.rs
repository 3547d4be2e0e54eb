//! A lead that is fed from both ends needs a device at both.

use super::coverage::{source_name, starter_permitted, within_reach};
use super::watch::{End, Feed, Watch};
use crate::catalog::{Cited, Polarity};
use crate::check::{Check, CheckRule};
use crate::job::{LeadId, Owner};
use crate::quantity::Length;

/// One verdict for each positive lead that a source can feed from its far end.
pub fn judge(watch: &Watch<'_>) -> Vec<Check> {
    let leads = watch.wiring.job.leads();
    let judged = leads
        .filter(|(id, lead)| lead.polarity == Polarity::Positive && !starter_permitted(watch, *id));
    judged.filter_map(|(id, _)| judge_lead(watch, id)).collect()
}

fn judge_lead(watch: &Watch<'_>, lead: LeadId) -> Option<Check> {
    let job = watch.wiring.job;
    let all = watch.feeds(lead, End::Far, &|_| false);
    if all.is_empty() {
        return None;
    }
    let open = open(watch, lead);
    let unkept: Vec<&Feed> = open
        .iter()
        .filter(|feed| !within_reach(watch, lead, feed))
        .collect();
    let note = match unkept.as_slice() {
        [] => passing(watch, lead, &all, &open),
        unkept => unkept
            .iter()
            .map(|feed| failing(watch, lead, feed))
            .collect::<Vec<_>>()
            .join("; "),
    };
    let source = source(watch, unkept.first().copied().or(all.first()));
    let name = &job.lead(lead).name;
    Some(Check::holds(CheckRule::FarFeed, name, unkept.is_empty(), &source).with_note(note))
}

/// The rule that a verdict on a source rests on.
fn source(watch: &Watch<'_>, feed: Option<&Feed>) -> Cited<()> {
    let rules = &watch.wiring.job.rules;
    match feed.map(|feed| feed.source) {
        Some(Owner::Alternator(_)) => rules.self_limiting.map(|_| ()),
        _ => rules.protection_distance.map(|_| ()),
    }
}

/// Sources that can feed the lead from its far end past no device that guards it: one that is small
/// enough and opens in time, wherever the short is.
fn open(watch: &Watch<'_>, lead: LeadId) -> Vec<Feed> {
    let start = watch.kept(lead).map_or(Length::ZERO, |kept| kept.at);
    let end = watch.wiring.route.leads[lead.0].cut();
    let mut open: Vec<Feed> = Vec::new();
    for at in [start, (start + end) / 2.0, end] {
        let spot = watch.faults.at(watch.wiring, lead, at);
        let stops =
            |guard| watch.small_enough(guard, lead) && watch.in_time(guard, lead, End::Far, &spot);
        for feed in watch.open_feeds(lead, at, End::Far, stops) {
            if open.iter().all(|known| known.source != feed.source) {
                open.push(feed);
            }
        }
    }
    open
}

fn passing(watch: &Watch<'_>, lead: LeadId, all: &[Feed], open: &[Feed]) -> String {
    let job = watch.wiring.job;
    let batteries = all
        .iter()
        .filter(|feed| matches!(feed.source, Owner::Battery(_)));
    let names = |feeds: Vec<&Feed>| {
        let names: Vec<&str> = feeds
            .iter()
            .map(|feed| source_name(job, feed.source))
            .collect();
        names.join(" and ")
    };
    if !open.is_empty() {
        return format!(
            "{} can feed it from its far end, and its own device is near enough to serve both ends",
            names(open.iter().collect())
        );
    }
    let batteries: Vec<&Feed> = batteries.collect();
    if batteries.is_empty() {
        let most = job.rules.self_limiting.value;
        return format!(
            "{} feeds it from its far end, with no more than {:.0} % of the {:.0} A that it may \
             carry or through a device that guards it",
            names(all.iter().collect()),
            most.percent(),
            watch.wiring.ampacities[lead.0].a()
        );
    }
    format!(
        "{} can feed it from its far end, through a device that guards it too",
        names(batteries)
    )
}

/// What is wrong, and what would cure it.
fn failing(watch: &Watch<'_>, lead: LeadId, feed: &Feed) -> String {
    let job = watch.wiring.job;
    let name = source_name(job, feed.source);
    let most = watch.most_rating(lead).a();
    let near = job.rules.protection_distance.value.mm();
    if let Owner::Alternator(index) = feed.source {
        return format!(
            "{name} can give {:.0} A from its far end, and the cable may carry {:.0} A; put a device \
             of {most:.0} A at most within {near:.0} mm of {name}, or take a thicker cable",
            job.alternators[index].given.limit.a(),
            watch.wiring.ampacities[lead.0].a()
        );
    }
    let what = format!("{name} can feed a short in it from its far end");
    match feed.by {
        None => format!(
            "{what}, past no device; part the lead at a bus, with a device of {most:.0} A at most \
             within {near:.0} mm of {name} on the lead that goes there"
        ),
        Some(by) if watch.kept(by).is_some() => format!(
            "{what}, and the device of {} is too large or too slow for this cable; it may be guarded \
             by {most:.0} A at most, so take a smaller device there or a thicker cable here",
            job.lead(by).name
        ),
        Some(by) => format!(
            "{what}, past no device that guards it; put one of {most:.0} A at most within {near:.0} \
             mm of {name} on {}",
            job.lead(by).name
        ),
    }
}
