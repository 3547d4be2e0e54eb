//! Worked examples of cable and hose.

use super::bench::{bought, cable, hose, lines, price_list};
use crate::catalog::Colour;
use crate::check::Verdict;
use crate::purchase::{Purchase, RollCuts};

fn cuts(purchase: &Purchase) -> Vec<String> {
    let one = |roll: &RollCuts| {
        let pieces = roll
            .pieces
            .iter()
            .map(|piece| format!("{:.2}", piece.length.m()));
        let pieces: Vec<String> = pieces.collect();
        let (origin, length, left) = (&roll.origin, roll.length.m(), roll.left.m());
        format!("{origin} {length:.2}: {}, left {left:.2}", pieces.join(" "))
    };
    purchase.cuts.iter().map(one).collect()
}

#[test]
fn offcuts_on_the_shelf_go_first_and_each_piece_goes_where_it_leaves_least() {
    let lists = [price_list("Harbour", "EUR", &[("hose", "10 m", "20.00")])];
    let shop = r#"stock = [{ part = "hose", offcuts = ["3 m", "2.2 m"] }]"#;
    let needs = [hose(2.0), hose(4.0), hose(2.5)];
    let purchase = bought(&needs, &[], shop, &lists, "EUR");
    assert_eq!(
        cuts(&purchase),
        [
            "shelf 3.00: 2.50, left 0.50",
            "shelf 2.20: 2.00, left 0.20",
            "Harbour 10.00: 4.00, left 6.00",
        ]
    );
    assert_eq!(purchase.from_stock[0].amount, "4.5 m in 2 pieces");
    assert_eq!(
        lines(&purchase.bill),
        ["Vent hose: 1 x roll of 10 m from Harbour at 20.00 = 20.00, 4 m used"]
    );
}

#[test]
fn colours_are_bought_and_cut_apart() {
    let lists = [price_list("Harbour", "EUR", &[("cable", "5 m", "30.00")])];
    let shop = r#"stock = [{ part = "cable", colour = "black", offcuts = ["4 m"] }]"#;
    let needs = [
        cable(3.0, Colour::Red),
        cable(2.0, Colour::Black),
        cable(1.5, Colour::Red),
    ];
    let purchase = bought(&needs, &[], shop, &lists, "EUR");
    assert_eq!(
        cuts(&purchase),
        [
            "shelf 4.00: 2.00, left 2.00",
            "Harbour 5.00: 3.00 1.50, left 0.49",
        ]
    );
    assert_eq!(
        lines(&purchase.bill),
        ["Cable 25 mm2, red: 1 x roll of 5 m from Harbour at 30.00 = 30.00, 4.5 m used"]
    );
}

#[test]
fn the_order_as_a_whole_is_the_cheapest() {
    // Best fit would put 2.6 on the 3 m offcut and buy 2.9 and 2.2 m; only 2.9 on the offcut leaves
    // pieces that one roll of 5 m holds.
    let lists = [price_list("Harbour", "EUR", &[("hose", "5 m", "10.00")])];
    let shop = r#"stock = [{ part = "hose", offcuts = ["3 m"] }]"#;
    let purchase = bought(&[hose(2.6), hose(2.9), hose(2.2)], &[], shop, &lists, "EUR");
    assert_eq!(
        cuts(&purchase),
        [
            "shelf 3.00: 2.90, left 0.10",
            "Harbour 5.00: 2.60 2.20, left 0.19"
        ]
    );
    assert!(purchase.bill.order.proved);
}

#[test]
fn every_cut_takes_its_allowance() {
    // Two pieces of 1 m and two cuts of 3 mm do not come from 2 m.
    let lists = [price_list("Harbour", "EUR", &[("hose", "1 m+", "2.00")])];
    let purchase = bought(&[hose(1.0), hose(1.0)], &[], "", &lists, "EUR");
    assert_eq!(purchase.bill.goods_total.to_string(), "6.00");
    let fine = bought(
        &[hose(1.0), hose(1.0)],
        &[],
        "cut_allowance = \"0 mm\"",
        &lists,
        "EUR",
    );
    assert_eq!(fine.bill.goods_total.to_string(), "4.00");
}

#[test]
fn the_counter_cuts_no_less_than_its_smallest_length() {
    let list = price_list("Harbour", "EUR", &[("hose", "0.5 m+", "1.00")]);
    let list = list.replace(
        "cut_to_length = true",
        "cut_to_length = true, smallest = \"2.2 m\"",
    );
    let purchase = bought(&[hose(0.7)], &[], "", &[list], "EUR");
    // 2.2 m are five halves.
    assert_eq!(cuts(&purchase), ["Harbour 2.50: 0.70, left 1.80"]);
}

#[test]
fn ends_worth_keeping_are_told_from_scrap() {
    let lists = [price_list("Harbour", "EUR", &[("hose", "5 m", "10.00")])];
    let shop = r#"stock = [{ part = "hose", offcuts = ["3 m"] }]"#;
    let purchase = bought(&[hose(2.9), hose(4.0)], &[], shop, &lists, "EUR");
    let left = &purchase.left[0];
    let millimetres = |lengths: &[crate::quantity::Length]| {
        let lengths = lengths.iter().map(|length| length.mm().round());
        lengths.collect::<Vec<f64>>()
    };
    assert_eq!(millimetres(&left.offcuts), [997.0]);
    assert_eq!(millimetres(&left.scrap), [97.0]);
    assert_eq!(purchase.stock[0].cut, [(0, 0)]);
}

#[test]
fn the_counter_is_cheaper_than_a_roll_until_the_roll_is_nearly_used() {
    let lists = [
        price_list("Harbour", "EUR", &[("hose", "25 m", "50.00")]),
        price_list("Mill", "EUR", &[("hose", "0.5 m+", "1.60")]),
    ];
    let short = bought(&[hose(3.2), hose(4.1)], &[], "", &lists, "EUR");
    // 7.3 m at the counter is 15 half metres: 24.00.
    assert_eq!(
        lines(&short.bill),
        ["Vent hose: 15 x 0.5 m, cut to length from Mill at 1.60 = 24.00, 7.3 m used"]
    );
    assert_eq!(cuts(&short), ["Mill 7.50: 4.10 3.20, left 0.19"]);
    let needs: Vec<_> = (0..6).map(|_| hose(4.1)).collect();
    let long = bought(&needs, &[], "", &lists, "EUR");
    // 24.6 m at the counter would be 50 half metres: 80.00.
    assert_eq!(long.bill.goods_total.to_string(), "50.00");
}

#[test]
fn a_piece_longer_than_every_roll_fails_and_the_rest_is_bought() {
    let lists = [price_list("Harbour", "EUR", &[("hose", "5 m", "10.00")])];
    let purchase = bought(&[hose(6.0), hose(2.0)], &[], "", &lists, "EUR");
    assert_eq!(cuts(&purchase), ["Harbour 5.00: 2.00, left 3.00"]);
    assert_eq!(purchase.checks[0].verdict, Verdict::Fail);
    assert_eq!(
        purchase.checks[0].note,
        "6 m in 1 piece cannot be had: a piece of 6 m is longer than the longest roll, 5 m, and \
         nobody cuts it to length: find an offer with a longer roll or one cut to length"
    );
}

#[test]
fn a_length_of_nothing_wants_nothing() {
    let purchase = bought(&[hose(0.0)], &[], "", &[], "EUR");
    assert!(purchase.checks.is_empty());
}
