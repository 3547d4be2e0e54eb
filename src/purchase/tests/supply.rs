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
fn delivery_in_a_currency_without_a_rate_is_an_open_question() {
    let shop = "currency = \"CHF\"\nsupplier = [{ name = \"Harbour\", delivery = \"7\" }]";
    let purchase = bought(&[pieces("label", 1)], &[], shop, &labels(), "EUR");
    let check = purchase.checks.last().unwrap();
    assert_eq!(
        (check.subject.as_str(), check.verdict),
        ("delivery", Verdict::Open)
    );
    assert!(check.note.contains("charged in CHF"));
    let free = shop.replace('7', "0");
    let purchase = bought(&[pieces("label", 1)], &[], &free, &labels(), "EUR");
    assert_eq!(verdict(&purchase).0, Verdict::Pass);
}

#[test]
fn a_colour_that_the_cable_is_not_sold_in_fails() {
    let lists = [price_list("Harbour", "EUR", &[("cable", "5 m", "30.00")])];
    let purchase = bought(&[cable(1.0, Colour::Green)], &[], "", &lists, "EUR");
    let (found, note) = verdict(&purchase);
    assert_eq!(found, Verdict::Fail);
    assert!(note.contains("does not come in green"));
}
