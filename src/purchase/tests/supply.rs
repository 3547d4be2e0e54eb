//! What is on the shelf, and what cannot be had.

use super::bench::{bought, cable, hose, lines, pieces, price_list};
use crate::catalog::{Basis, Colour};
use crate::check::Verdict;
use crate::purchase::Purchase;

/// Verdict and note of the only check.
fn verdict(purchase: &Purchase) -> (Verdict, &str) {
    assert_eq!(purchase.checks.len(), 1);
    let check = &purchase.checks[0];
    assert_eq!(check.source, "shop file and price lists");
    assert_eq!(check.basis, Basis::User);
    (check.verdict, &check.note)
}

fn labels() -> [String; 1] {
    [price_list(
        "Harbour",
        "EUR",
        &[("label", "1 piece", "0.45")],
    )]
}

#[test]
fn what_is_on_the_shelf_is_not_bought() {
    let shop = r#"stock = [{ part = "label", pieces = 3 }, { part = "label", pieces = 1 }]"#;
    let some = bought(&[pieces("label", 9)], &[], shop, &labels(), "EUR");
    assert_eq!(some.from_stock[0].amount, "4 pieces");
    assert_eq!(
        lines(&some.bill),
        ["Label: 5 x 1 piece from Harbour at 0.45 = 2.25, 5 piece used"]
    );
    let all = bought(&[pieces("label", 1)], &[], shop, &labels(), "EUR");
    assert_eq!(all.from_stock[0].amount, "1 piece");
    assert!(all.bill.lines.is_empty());
    assert_eq!(verdict(&all), (Verdict::Pass, ""));
}

#[test]
fn a_part_not_to_be_had_still_comes_from_the_shelf() {
    let shop = "unavailable = [\"label\"]\nstock = [{ part = \"label\", pieces = 2 }]";
    let purchase = bought(&[pieces("label", 2)], &[], shop, &labels(), "EUR");
    assert_eq!(verdict(&purchase).0, Verdict::Pass);
    let purchase = bought(&[pieces("label", 5)], &[], shop, &labels(), "EUR");
    let (found, note) = verdict(&purchase);
    assert_eq!(found, Verdict::Fail);
    assert!(note.starts_with("3 pieces cannot be had: it is marked as not to be had"));
    assert!(purchase.bill.lines.is_empty());
}

#[test]
fn price_lists_of_suppliers_that_are_not_listed_are_left_alone() {
    let lists = [
        price_list(
            "Harbour",
            "EUR",
            &[("label", "1 piece", "0.45"), ("paint", "1 piece", "1")],
        ),
        price_list(
            "Mill",
            "EUR",
            &[("label", "1 piece", "0.10"), ("hose", "5 m", "9")],
        ),
    ];
    let shop = r#"supplier = [{ name = "Harbour" }]"#;
    let dear = bought(&[pieces("label", 2)], &[], shop, &lists, "EUR");
    assert_eq!(dear.bill.goods_total.to_string(), "0.90");
    let everybody = bought(&[pieces("label", 2)], &[], "", &lists, "EUR");
    assert_eq!(everybody.bill.goods_total.to_string(), "0.20");
    let hose = bought(&[hose(1.0)], &[], shop, &lists, "EUR");
    let (found, note) = verdict(&hose);
    assert_eq!(found, Verdict::Fail);
    assert!(note.contains("but these do: Mill"));
}

#[test]
fn what_nobody_offers_fails() {
    for (need, way) in [
        (pieces("label", 1), "by the piece"),
        (hose(1.0), "by length"),
    ] {
        let purchase = bought(&[need], &[], "", &[], "EUR");
        let (found, note) = verdict(&purchase);
        assert_eq!(found, Verdict::Fail);
        assert!(note.contains(&format!("nobody offers it {way}")), "{note}");
    }
    let unknown = bought(&[pieces("no such part", 1)], &[], "", &[], "EUR");
    assert_eq!(verdict(&unknown).0, Verdict::Fail);
}

#[test]
fn a_missing_rate_is_named_only_where_no_other_offer_serves() {
    let lists = [
        price_list(
            "Harbour",
            "USD",
            &[("label", "1 piece", "0.10"), ("paint", "1 piece", "1")],
        ),
        price_list("Mill", "EUR", &[("label", "1 piece", "0.45")]),
    ];
    let label = bought(&[pieces("label", 1)], &[], "", &lists, "EUR");
    assert_eq!(verdict(&label), (Verdict::Pass, ""));
    assert_eq!(label.bill.goods_total.to_string(), "0.45");
    let paint = bought(&[pieces("paint", 1)], &[], "", &lists, "EUR");
    let (found, note) = verdict(&paint);
    assert_eq!(found, Verdict::Fail);
    assert!(note.contains("offered in USD and the shop file has no rate of exchange to EUR"));
}

#[test]
fn one_supplier_only_and_what_is_in_stock_are_held_against_the_cheapest() {
    let stocked = price_list(
        "Mill",
        "EUR",
        &[("label", "1 piece", "0.60"), ("paint", "1 piece", "8.00")],
    );
    let harbour = price_list(
        "Harbour",
        "EUR",
        &[("label", "1 piece", "0.45"), ("paint", "1 piece", "7.00")],
    );
    let harbour = harbour.replace("price = \"0.45\"", "price = \"0.45\", in_stock = false");
    let lists = [harbour, stocked];
    let needs = [pieces("label", 10), pieces("paint", 1)];
    let ways = |shop: &str| {
        let bill = bought(&needs, &[], shop, &lists, "EUR").bill;
        let ways = bill.ways.iter().map(|way| {
            let extra = way.extra.map_or("-".to_owned(), |extra| extra.to_string());
            format!("{}: {extra}{}", way.way, if way.chosen { " *" } else { "" })
        });
        (bill.total.to_string(), ways.collect::<Vec<_>>())
    };
    let (total, told) = ways("");
    assert_eq!(total, "11.50");
    assert_eq!(
        told,
        [
            "cheapest: 0.00 *",
            "fewest suppliers: 0.00",
            "only from Harbour: 0.00",
            "only from Mill: 2.50",
            "only what is in stock today: 1.50",
        ]
    );
    assert_eq!(ways("only_from = \"Mill\"").0, "14.00");
    assert_eq!(ways("buy = \"in stock\"").0, "13.00");
}

#[test]
fn a_supplier_who_does_not_offer_everything_fails_by_part() {
    let lists = [
        price_list("Harbour", "EUR", &[("label", "1 piece", "0.45")]),
        price_list("Mill", "EUR", &[("paint", "1 piece", "7.00")]),
    ];
    let needs = [pieces("label", 1), pieces("paint", 1)];
    let purchase = bought(&needs, &[], "only_from = \"Mill\"", &lists, "EUR");
    let failed = purchase
        .checks
        .iter()
        .filter(|check| check.verdict == Verdict::Fail);
    let notes: Vec<&str> = failed.map(|check| check.note.as_str()).collect();
    assert_eq!(notes.len(), 1);
    assert!(notes[0].starts_with("1 piece cannot be had: Mill does not offer it"));
    assert_eq!(purchase.bill.total.to_string(), "7.00");
}

#[test]
fn old_offers_are_told_by_the_newest_or_by_a_day_that_is_given() {
    let dated = |supplier: &str, part: &str, date: &str| {
        let list = price_list(supplier, "EUR", &[(part, "1 piece", "1.00")]);
        list.replace(
            "price = \"1.00\"",
            &format!("price = \"1.00\", date = \"{date}\""),
        )
    };
    let lists = [
        dated("Harbour", "label", "2024-03-01"),
        dated("Mill", "paint", "2025-03-01"),
    ];
    let needs = [pieces("label", 1), pieces("paint", 1)];
    let old = |shop: &str| {
        let lines = bought(&needs, &[], shop, &lists, "EUR").bill.lines;
        lines.iter().map(|line| line.old).collect::<Vec<bool>>()
    };
    // 365 days after 2024-03-01 it is 2025-03-01, which is the newest.
    assert_eq!(old(""), [false, false]);
    assert_eq!(old("old_after_days = 364"), [true, false]);
    assert_eq!(old("offers_as_of = \"2026-03-02\""), [true, true]);
}

#[test]
fn smallest_orders_and_free_limits_are_topped_up_where_that_pays() {
    let lists = [price_list(
        "Harbour",
        "EUR",
        &[("label", "1 piece", "0.45")],
    )];
    let terms = |terms: &str| format!("supplier = [{{ name = \"Harbour\", {terms} }}]");
    let total = |shop: &str| bought(&[pieces("label", 10)], &[], shop, &lists, "EUR").bill;
    // Ten labels are 4.50; twelve are 5.40.
    assert_eq!(
        total(&terms("smallest_order = \"5\"")).total.to_string(),
        "5.40"
    );
    let free = terms("delivery = \"3\", free_from = \"5\"");
    assert_eq!(total(&free).total.to_string(), "5.40");
    let dear = terms("delivery = \"0.50\", free_from = \"5\"");
    assert_eq!(total(&dear).total.to_string(), "5.00");
    assert_eq!(total(&dear).order.bound.to_string(), "5.00");
}

#[test]
fn a_colour_that_the_cable_is_not_sold_in_fails() {
    let lists = [price_list("Harbour", "EUR", &[("cable", "5 m", "30.00")])];
    let purchase = bought(&[cable(1.0, Colour::Green)], &[], "", &lists, "EUR");
    let (found, note) = verdict(&purchase);
    assert_eq!(found, Verdict::Fail);
    assert!(note.contains("does not come in green"));
}
