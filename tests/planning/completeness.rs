//! Nothing that the job takes is forgotten on the way from stage to stage.

use std::collections::{BTreeMap, BTreeSet};

use longlead::check::Verdict;
use longlead::fittings::Amount;
use longlead::purchase::{Comparison, Market};
use rust_decimal::Decimal;

use super::support::{Planned, WORKSHOP, files};

fn demos_and_odd_jobs() -> Vec<&'static Planned> {
    let mut paths = files("templates/jobs");
    paths.extend(files("tests/jobs/odd"));
    paths.iter().map(|path| Planned::of_file(path)).collect()
}

#[test]
fn every_part_that_is_needed_is_bought_or_on_the_shelf_and_used_by_a_step() {
    for planned in demos_and_odd_jobs() {
        let plan = &planned.plan;
        let lines = plan
            .purchase
            .bill
            .lines
            .iter()
            .map(|line| line.part.as_str());
        let shelf = plan
            .purchase
            .from_stock
            .iter()
            .map(|item| item.part.as_str());
        let had: BTreeSet<&str> = lines.chain(shelf).collect();
        let steps = plan.method.steps.iter();
        let used: BTreeSet<&str> = steps
            .flat_map(|step| step.part_ids.iter().map(String::as_str))
            .collect();
        for need in &plan.fittings.needs {
            assert!(
                had.contains(need.part.as_str()),
                "{} is not bought",
                need.part
            );
            assert!(
                used.contains(need.part.as_str()),
                "{} is used by no step",
                need.part
            );
        }
        for part in &used {
            assert!(
                had.contains(part),
                "a step uses {part}, which is not bought"
            );
        }
    }
}

#[test]
fn the_pieces_cut_are_those_that_the_leads_need() {
    for planned in demos_and_odd_jobs() {
        let plan = &planned.plan;
        let mut needed: BTreeMap<&str, f64> = BTreeMap::new();
        for need in &plan.fittings.needs {
            if let Amount::Length(length) = need.amount {
                *needed.entry(need.part.as_str()).or_default() += length.m();
            }
        }
        let mut cut: BTreeMap<&str, f64> = BTreeMap::new();
        for roll in &plan.purchase.cuts {
            let pieces: f64 = roll.pieces.iter().map(|piece| piece.length.m()).sum();
            assert!(
                pieces <= roll.length.m() + 1e-9,
                "{} is cut beyond its end",
                roll.part
            );
            *cut.entry(roll.part.as_str()).or_default() += pieces;
        }
        for (part, metres) in needed {
            let cut = cut.get(part).copied().unwrap_or(0.0);
            assert!(
                (cut - metres).abs() < 1e-6,
                "{part}: {cut} m cut, {metres} m needed"
            );
        }
    }
}

#[test]
fn the_bill_adds_up_to_the_cent() {
    for planned in demos_and_odd_jobs() {
        let bill = &planned.plan.purchase.bill;
        let goods: Decimal = bill
            .lines
            .iter()
            .map(|line| line.line_total.decimal())
            .sum();
        assert_eq!(goods, bill.goods_total.decimal());
        let total = goods + bill.delivery.decimal() + bill.tax.decimal();
        assert_eq!(total, bill.total.decimal());
        for line in &bill.lines {
            let packs = Decimal::from(line.packs);
            assert_eq!(line.unit_price.decimal() * packs, line.line_total.decimal());
        }
    }
}

#[test]
fn every_end_of_a_ready_plan_has_lug_die_and_sleeve() {
    for planned in demos_and_odd_jobs() {
        for end in &planned.plan.fittings.ends {
            if end.stud.is_some() {
                assert!(end.lug.is_some() && end.die.is_some(), "{}", end.terminal);
                assert!(
                    end.sleeve.is_some() && end.strip.is_some(),
                    "{}",
                    end.terminal
                );
            }
        }
    }
}

#[test]
fn needs_of_a_step_come_before_it() {
    for planned in demos_and_odd_jobs() {
        for step in &planned.plan.method.steps {
            assert!(
                step.needs.iter().all(|need| *need < step.number),
                "{}",
                step.title
            );
        }
    }
}

#[test]
fn a_part_that_is_not_to_be_had_fails_by_name() {
    let planned = Planned::of_file(&files("templates/jobs")[0]);
    let line = &planned.plan.purchase.bill.lines[0];
    let mut sources = longlead::diagnostic::Sources::default();
    let text = format!("name = 'x'\nunavailable = ['{}']\n", line.part);
    let source = sources.add("shop.toml", text);
    let shop = longlead::shop::load(source, &sources, &WORKSHOP.catalog).unwrap();
    let fittings = &planned.plan.fittings;
    let market = Market {
        shop: &shop,
        catalog: &WORKSHOP.catalog,
        currency: planned.job.currency,
    };
    let comparison = Comparison::LeftOut;
    let purchase = longlead::purchase::buy(&fittings.needs, &fittings.tools, market, comparison);
    let failed: Vec<_> = purchase
        .checks
        .iter()
        .filter(|check| check.verdict == Verdict::Fail)
        .collect();
    assert!(!failed.is_empty());
    assert!(
        purchase
            .bill
            .lines
            .iter()
            .all(|other| other.part != line.part)
    );
}
