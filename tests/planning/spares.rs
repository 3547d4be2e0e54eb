//! The spares kit of whole plans: readings are those of the plan, nuts have their wrenches, sums add up.

use std::collections::BTreeSet;

use longlead::catalog::{Access, PartKind};
use longlead::job::Job;
use longlead::plan::Plan;
use longlead::spares::{Reading, Spares, Uncover};
use rust_decimal::Decimal;

use super::support::{Planned, WORKSHOP, files};

fn demos() -> Vec<&'static Planned> {
    let paths = files("templates/jobs");
    paths.iter().map(|path| Planned::of_file(path)).collect()
}

fn kit(planned: &Planned) -> &Spares {
    planned.plan.spares.as_ref().unwrap()
}

/// Volts of a terminal in a state of the plan.
fn volts(plan: &Plan, state: &str, terminal: &str) -> Option<f64> {
    let state = plan.operation.states.iter().find(|row| row.name == state)?;
    let row = state.terminals.iter().find(|row| row.name == terminal)?;
    Some(row.volts)
}

fn readings(spares: &Spares) -> impl Iterator<Item = &Reading> {
    let cases = spares.cards.iter().flat_map(|card| &card.cases);
    cases.filter_map(|case| case.reading.as_ref())
}

#[test]
fn expected_readings_are_those_of_the_plan() {
    let (mut of_terminals, mut of_elements) = (0, 0);
    for planned in demos() {
        for reading in readings(kit(planned)) {
            let (red, black) = (
                volts(&planned.plan, &reading.state, &reading.red),
                volts(&planned.plan, &reading.state, &reading.black),
            );
            assert!(reading.least_v <= reading.volts && reading.volts <= reading.most_v);
            assert!(reading.told.contains(&reading.state));
            if let (Some(red), Some(black)) = (red, black) {
                let planned = red - black;
                // A loss is told without its sign.
                let off = (planned.abs() - reading.volts.abs()).abs();
                assert!(off < 1e-9, "{}: {planned}", reading.told);
                of_terminals += 1;
                continue;
            }
            // Between the two sides of a joint or device: Ohm's law on an element of some lead.
            let (amps, milliohm) = (reading.amps.unwrap(), reading.milliohm.unwrap());
            assert!((amps * milliohm / 1e3 - reading.volts).abs() < 1e-9);
            let state = planned.plan.operation.states.iter();
            let state = state.clone().find(|row| row.name == reading.state).unwrap();
            let flows = state
                .leads
                .iter()
                .any(|flow| (flow.amps.abs() - amps).abs() < 1e-9);
            assert!(flows, "no lead carries {amps} A in {}", reading.state);
            of_elements += 1;
        }
    }
    assert!(
        of_terminals > 10 && of_elements > 50,
        "{of_terminals} {of_elements}"
    );
}

/// The easiest access to a place by any leg in use, else by any leg: written out here once more.
fn access(job: &Job, plan: &Plan, place: longlead::job::PlaceId) -> Access {
    let used: BTreeSet<_> = plan.route.bundles.iter().map(|bundle| bundle.leg).collect();
    let there = job
        .legs()
        .filter(|(_, leg)| leg.from == place || leg.to == place);
    let there: Vec<_> = there.collect();
    let in_use = there.iter().filter(|(id, _)| used.contains(id));
    let words = in_use.map(|(_, leg)| leg.access).min();
    words
        .or(there.iter().map(|(_, leg)| leg.access).min())
        .unwrap_or(Access::Easy)
}

#[test]
fn every_nut_within_reach_has_its_wrench_in_the_box() {
    let mut nuts = 0;
    for planned in demos() {
        let spares = kit(planned);
        assert!(spares.proof.wrenches_fit && spares.wrenches_left.is_empty());
        for joint in &planned.plan.fittings.joints {
            if access(&planned.job, &planned.plan, joint.place) > spares.limits.access {
                continue;
            }
            let across = WORKSHOP.catalog.thread(joint.thread).unwrap().across_flats;
            let fits = |part: &str| {
                let tool = WORKSHOP.catalog.tools.iter().find(|tool| *tool.id == part);
                tool.and_then(|tool| tool.size)
                    .is_some_and(|size| (size - across).mm().abs() < 0.01)
            };
            let has = spares
                .items
                .iter()
                .any(|item| item.part.as_deref().is_some_and(fits));
            assert!(has, "no wrench for {} {}", joint.name, joint.thread);
            nuts += 1;
        }
    }
    assert!(nuts > 50, "{nuts}");
}

#[test]
fn the_box_adds_up_and_stays_within_its_limits() {
    for planned in demos() {
        let spares = kit(planned);
        let price: Decimal = spares.items.iter().map(|item| item.price.decimal()).sum();
        assert_eq!(price, spares.total.price.decimal());
        let grams: f64 = spares.items.iter().map(|item| item.mass_g).sum();
        assert!((grams / 1e3 - spares.total.mass_kg).abs() < 1e-6);
        assert!(spares.total.mass_kg <= spares.limits.mass_kg);
        assert!(spares.total.volume_l <= spares.limits.volume_l);
        assert!(spares.total.price <= spares.limits.money);
        assert!(spares.proof.proved && spares.proof.covered <= spares.proof.mendable);
    }
}

#[test]
fn every_card_takes_only_what_is_in_the_box_and_says_its_cautions_at_length() {
    for planned in demos() {
        let spares = kit(planned);
        let held: BTreeSet<&str> = spares
            .items
            .iter()
            .map(|item| item.description.as_str())
            .collect();
        for card in &spares.cards {
            assert!(!card.cautions.is_empty() && !card.cases.is_empty() && !card.ways.is_empty());
            for caution in &card.cautions {
                let rows = &WORKSHOP.library.cautions;
                assert!(rows.iter().any(|row| row.short == *caution), "{caution}");
            }
            for case in &card.cases {
                assert!(case.take.iter().all(|item| held.contains(item.as_str())));
                assert!(card.ways.iter().any(|way| way.letter == case.way));
            }
        }
    }
}

#[test]
fn weights_of_all_failures_are_on_a_card_or_told_apart() {
    for planned in demos() {
        let spares = kit(planned);
        let cases = spares.cards.iter().flat_map(|card| &card.cases);
        let on_cards: u64 = cases
            .map(|case| case.weight * case.parts.len() as u64)
            .sum();
        let left: u64 = spares.uncovered.iter().map(|row| row.weight).sum();
        assert_eq!(on_cards, spares.proof.covered);
        assert_eq!(on_cards + left, spares.proof.all);
    }
}

fn with(table: &str) -> Planned {
    let path = files("templates/jobs")
        .into_iter()
        .find(|path| path.ends_with("patrol-pickup.toml"));
    let text = std::fs::read_to_string(path.unwrap()).unwrap();
    Planned::of_text(&format!("{text}\n{table}\n"))
}

#[test]
fn a_job_sets_limits_reach_and_weights() {
    let small = with("[spares]\nmass = \"700 g\"\nmoney = \"40\"");
    let spares = kit(&small);
    assert!(!spares.proof.wrenches_fit || spares.total.mass_kg <= 0.7);
    assert!(spares.total.mass_kg <= 0.7 && spares.total.price <= spares.limits.money);
    let reasons: BTreeSet<Uncover> = spares.uncovered.iter().map(|row| row.reason).collect();
    assert!(reasons.contains(&Uncover::TooDear) || reasons.contains(&Uncover::TooHeavy));

    let near = with("[spares]\naccess = \"open\"");
    let out_of_reach = |planned: &Planned| {
        let rows = kit(planned).uncovered.iter();
        rows.filter(|row| row.reason == Uncover::OutOfReach)
            .map(|row| row.weight)
            .sum::<u64>()
    };
    assert!(out_of_reach(&near) > out_of_reach(&small));

    let carefree = with("[[spares.weight]]\nof = \"fuse\"\nweight = 0");
    let has_fuse = |planned: &Planned| {
        kit(planned)
            .items
            .iter()
            .any(|item| item.kind == PartKind::Fuse.as_str())
    };
    assert!(has_fuse(&with("")) && !has_fuse(&carefree));
}

#[test]
fn a_dead_battery_stops_all_and_an_open_return_what_it_serves() {
    let planned = Planned::of_file(
        &files("templates/jobs")
            .into_iter()
            .find(|path| path.ends_with("patrol-pickup.toml"))
            .unwrap(),
    );
    let spares = kit(planned);
    let stopped = |failure: &str, what: &str| -> Vec<String> {
        let cards = spares.cards.iter().filter(|card| card.failure == failure);
        let mut cases = cards.flat_map(|card| &card.cases);
        let case = cases.find(|case| case.parts.iter().any(|part| part.what == what));
        let left = spares.uncovered.iter().filter(|row| row.failure == failure);
        let mut left = left.flat_map(|row| &row.cases);
        let case = case.map(|case| case.stops.clone());
        case.or_else(|| {
            left.find(|case| case.what == what)
                .map(|case| case.stops.clone())
        })
        .unwrap()
    };
    let all = stopped("battery flat or dead", "start battery");
    for load in &planned.job.loads {
        assert!(
            all.iter().any(|name| name == load.name()),
            "{}",
            load.name()
        );
    }
    assert_eq!(
        stopped("cable broken or burnt through", "radio return"),
        ["radio"]
    );
    // The frame carries the return when the main return is open.
    assert!(stopped("cable broken or burnt through", "main return").is_empty());
    assert_eq!(
        stopped("cable broken or burnt through", "alternator lead"),
        ["charging of start battery"]
    );
}

#[test]
fn every_part_of_the_catalog_has_a_mass_and_a_room() {
    let bulks = &WORKSHOP.catalog.bulks;
    for part in WORKSHOP.catalog.parts() {
        let of_kind = bulks
            .iter()
            .find(|row| row.kind == part.kind() && row.part.is_none() && row.purpose.is_none());
        let row = of_kind.unwrap_or_else(|| panic!("no row for {}", part.kind()));
        assert!(row.mass.is_some() && row.volume.is_some() && row.source == "judgement");
    }
    for row in bulks.iter().filter_map(|row| row.part.as_deref()) {
        assert!(WORKSHOP.catalog.part(row).is_some(), "{row} is in no list");
    }
}
