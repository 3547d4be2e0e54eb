//! Shopping lists of every job in the tree: nothing is forgotten, nothing is fetched for nothing.

use std::collections::BTreeSet;

use longlead::catalog::PartKind;
use longlead::check::{CheckRule, Verdict};
use longlead::documents::{csv, rows};
use longlead::purchase::BillLine;
use longlead::shopping::Shopping;
use rust_decimal::Decimal;

use super::support::{Planned, files};

const FOLDERS: [&str; 5] = [
    "templates/jobs",
    "tests/jobs/odd",
    "tests/jobs/traps",
    "tests/jobs/broken",
    "tests/simulator/jobs",
];

fn every_job() -> impl Iterator<Item = (String, &'static Planned)> {
    let paths = FOLDERS.iter().flat_map(|folder| files(folder));
    paths.map(|path| (path.display().to_string(), Planned::of_file(&path)))
}

/// Every line of a list, order by order.
fn lines(list: &Shopping) -> impl Iterator<Item = &BillLine> {
    let aisles = list.orders.iter().flat_map(|order| &order.aisles);
    aisles.flat_map(|aisle| &aisle.lines)
}

#[test]
fn nothing_is_forgotten_and_nothing_is_useless_in_any_job_of_the_tree() {
    let mut wrong = Vec::new();
    for (name, planned) in every_job() {
        let checks = planned.plan.checks.iter();
        let own: Vec<_> = checks
            .filter(|check| check.rule == CheckRule::Complete)
            .collect();
        assert_eq!(own.len(), 4, "{name}");
        let bad = own.iter().filter(|check| check.verdict != Verdict::Pass);
        wrong.extend(bad.map(|check| format!("{name}: {}", check.note)));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The same as the checks say, by the lists alone: every need and every step's part is on a list.
#[test]
fn the_lists_hold_every_part_of_every_step() {
    for (name, planned) in every_job() {
        let plan = &planned.plan;
        let list = &plan.shopping;
        let lines = lines(list);
        let bought = lines.map(|line| line.part.as_str());
        let shelf = list.from_stock.iter().map(|item| item.part.as_str());
        let there: BTreeSet<&str> = bought.chain(shelf).collect();
        let short: BTreeSet<&str> = plan
            .purchase
            .checks
            .iter()
            .filter(|check| check.verdict != Verdict::Pass)
            .map(|check| check.subject.as_str())
            .collect();
        let steps = plan.method.steps.iter().flat_map(|step| &step.part_ids);
        for part in steps.chain(plan.fittings.needs.iter().map(|need| &need.part)) {
            assert!(
                there.contains(part.as_str()) || !short.is_empty(),
                "{name}: {part}"
            );
        }
    }
}

#[test]
fn every_line_of_the_bill_stands_on_the_list_once() {
    for (name, planned) in every_job() {
        let list = &planned.plan.shopping;
        let lines = lines(list);
        let bill = &planned.plan.purchase.bill;
        assert_eq!(lines.count(), bill.lines.len(), "{name}");
        let goods: Decimal = list.orders.iter().map(|order| order.goods.decimal()).sum();
        assert_eq!(goods, bill.goods_total.decimal(), "{name}");
    }
}

#[test]
fn aisles_come_in_the_order_of_the_catalog_and_cable_before_screws() {
    for (name, planned) in every_job() {
        for order in &planned.plan.shopping.orders {
            let kinds: Vec<PartKind> = order
                .aisles
                .iter()
                .map(|aisle| aisle.lines[0].kind)
                .collect();
            let at = |kind| kinds.iter().position(|known| *known == kind);
            if let (Some(cable), Some(screws)) = (at(PartKind::Cable), at(PartKind::Fastener)) {
                assert!(cable < screws, "{name}");
            }
        }
    }
}

#[test]
fn the_rows_of_the_list_add_up_to_the_bill() {
    for path in files("templates/jobs") {
        let planned = Planned::of_file(&path);
        let table = rows::shopping(&planned.view());
        let text = csv::write(&table.headers, &table.rows).unwrap();
        let mut reader = ::csv::Reader::from_reader(text.as_bytes());
        let bill = &planned.plan.purchase.bill;
        let suppliers: Vec<&str> = bill
            .deliveries
            .iter()
            .map(|row| row.supplier.as_str())
            .collect();
        let mut sum = Decimal::ZERO;
        for record in reader.records().map(|record| record.unwrap()) {
            let tool = ["buy", "borrow or hire"].contains(&&record[1]);
            if suppliers.contains(&&record[0]) && !tool {
                sum += record[5].parse::<Decimal>().unwrap();
            }
        }
        assert_eq!(sum, bill.goods_total.decimal() + bill.delivery.decimal());
    }
}

#[test]
fn what_is_on_a_list_already_is_not_a_reminder() {
    for (name, planned) in every_job() {
        let list = &planned.plan.shopping;
        let lines = lines(list);
        let mut grease =
            lines.filter(|line| line.description.to_lowercase().contains("contact grease"));
        let reminded = list
            .reminders
            .iter()
            .any(|text| text.starts_with("Contact grease"));
        assert!(!(grease.next().is_some() && reminded), "{name}");
    }
}
