//! Parts and tools of the steps.
#![allow(clippy::unwrap_used)]

use super::order::of_kind;
use super::*;
use crate::catalog::ToolUse;
use crate::fittings::Amount;
use crate::quantity::figure;

#[test]
fn every_need_is_named_by_one_step_that_uses_it() {
    for job in [PICKUP, BOAT, ONE_LEAD] {
        let bench = Bench::new(job);
        let method = bench.order();
        let needs = &bench.fittings.needs;
        let lines: Vec<&String> = method.steps.iter().flat_map(|step| &step.parts).collect();
        let pieces = |line: &String| line.split_once(" × ")?.0.parse::<u32>().ok();
        let named: u32 = lines.iter().filter_map(|line| pieces(line)).sum();
        let needed = needs.iter().map(|need| match need.amount {
            Amount::Pieces(pieces) => pieces,
            Amount::Length(_) => 0,
        });
        assert_eq!(named, needed.sum::<u32>());
        let lengths = lines.iter().filter(|line| pieces(line).is_none()).count();
        let cut = needs
            .iter()
            .filter(|need| matches!(need.amount, Amount::Length(_)));
        assert_eq!(lengths, cut.count());
        let rest = of_kind(&method, "lay out").next().unwrap();
        assert!(rest.parts.is_empty(), "used by no step: {:?}", rest.parts);
    }
}

#[test]
fn every_end_takes_its_own_parts() {
    let bench = Bench::new(PICKUP);
    let method = bench.order();
    for end in &bench.fittings.ends {
        let at = format!("end at `{}`", end.terminal);
        let uses = |part: &Option<String>| {
            let mut steps = method.steps.iter();
            part.as_ref().is_none_or(|part| {
                steps.any(|step| {
                    step.kind.starts_with("make ")
                        && step.title.contains(&at)
                        && step.part_ids.contains(part)
                })
            })
        };
        for part in [&end.lug, &end.sleeve, &end.boot] {
            assert!(uses(part), "{at}: {part:?}");
        }
    }
}

#[test]
fn cable_of_the_right_lead_goes_to_its_cut() {
    let bench = Bench::new(PICKUP);
    let method = bench.order();
    for (id, lead) in bench.job.leads() {
        let cut =
            of_kind(&method, "cut").find(|step| step.title.contains(&format!("`{}", lead.name)));
        let cut = cut.unwrap();
        assert!(
            cut.part_ids.contains(&bench.sizing.leads[id.0].cable),
            "{}",
            lead.name
        );
        let colour = lead.insulation().to_string();
        assert!(cut.parts[0].ends_with(&colour), "{:?}", cut.parts);
    }
}

#[test]
fn steps_that_need_tools_name_them() {
    let bench = Bench::new(PICKUP);
    let method = bench.order();
    for step in &method.steps {
        let kind = &bench.library.steps[bench.library.position(&step.kind).unwrap()];
        // What screws hold takes no wrench, and rivet nuts are not in every job.
        let seldom = [ToolUse::Wrench, ToolUse::RivetNutSetter];
        let always = kind.tools.iter().filter(|tool| !seldom.contains(tool));
        let always = always.count();
        assert!(
            step.tools.len() >= always + kind.aids.len(),
            "{}: {:?}",
            step.title,
            step.tools
        );
    }
    let says = |kind: &str, word: &str| {
        let mut steps = of_kind(&method, kind);
        steps.any(|step| step.tools.iter().any(|tool| tool.contains(word)))
    };
    assert!(says("make first end", "die pair") && says("make first end", "press"));
    assert!(says("connect", "13 mm") && says("connect", "orque"));
    let hole = bench.fittings.passages[0].hole.unwrap();
    let hole = format!("{} mm", figure(hole.mm(), 1));
    assert!(says("drill panel", &hole), "{hole}");
}
