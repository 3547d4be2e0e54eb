//! What holds of every purchase.

use std::collections::BTreeMap;

use proptest::prelude::*;

use super::bench::{bought, cable, hose, pieces, price_list};
use crate::catalog::Colour;
use crate::check::Verdict;
use crate::fittings::{Amount, Need};
use crate::purchase::{Bill, Purchase};
use crate::quantity::Money;
use crate::shop::ShopFile;

/// An offer of random size and price: part, pack, cents.
type Offer = (&'static str, String, u32);

fn offer() -> impl Strategy<Value = Offer> {
    let cents = 1_u32..30_000;
    let by_the_piece = (prop::sample::select(vec!["label", "paint"]), 1_u32..60)
        .prop_map(|(part, count)| (part, format!("{count} pieces")));
    let by_length = (
        prop::sample::select(vec!["hose", "cable"]),
        1_u32..300,
        prop::sample::select(vec!["", "+"]),
    )
        .prop_map(|(part, decimetres, cut)| (part, format!("{} cm{cut}", decimetres * 10)));
    (prop_oneof![by_the_piece, by_length], cents)
        .prop_map(|((part, pack), cents)| (part, pack, cents))
}

fn need() -> impl Strategy<Value = Need> {
    let metres = (1_u32..1_500).prop_map(|centimetres| f64::from(centimetres) / 100.0);
    let colour = prop::sample::select(vec![Colour::Red, Colour::Black]);
    prop_oneof![
        (0_u32..40).prop_map(|count| pieces("label", count)),
        (0_u32..40).prop_map(|count| pieces("paint", count)),
        metres.clone().prop_map(hose),
        (metres, colour).prop_map(|(metres, colour)| cable(metres, colour)),
    ]
}

fn shop() -> impl Strategy<Value = String> {
    let offcuts = prop::collection::vec(1_u32..80, 1..4);
    (
        0_u32..30_000,
        0_u32..2_000,
        0_u32..20_000,
        1_u32..40,
        offcuts,
    )
        .prop_map(|(tax, delivery, free_from, stock, offcuts)| {
            let offcuts: Vec<String> = offcuts.iter().map(|dm| format!("\"{dm}0 cm\"")).collect();
            let offcuts = offcuts.join(", ");
            format!(
                "tax = \"{}.{:03} %\"\n\
                 supplier = [{{ name = \"Harbour\", delivery = \"{}\", free_from = \"{}\" }}, \
                 {{ name = \"Mill\", delivery = \"3.33\" }}]\n\
                 stock = [{{ part = \"label\", pieces = {stock} }}, \
                 {{ part = \"hose\", offcuts = [{offcuts}] }}, \
                 {{ part = \"cable\", colour = \"red\", offcuts = [{offcuts}] }}, \
                 {{ part = \"cable\", colour = \"black\", offcuts = [{offcuts}] }}]\n",
                tax / 1000,
                tax % 1000,
                price(delivery),
                price(free_from),
            )
        })
}

fn price(cents: u32) -> String {
    format!("{}.{:02}", cents / 100, cents % 100)
}

fn lists(harbour: &[Offer], mill: &[Offer]) -> [String; 2] {
    let list = |supplier, offers: &[Offer]| {
        let prices: Vec<String> = offers.iter().map(|row| price(row.2)).collect();
        let rows = offers.iter().zip(&prices);
        let rows: Vec<(&str, &str, &str)> = rows
            .map(|((part, pack, _), price)| (*part, pack.as_str(), price.as_str()))
            .collect();
        price_list(supplier, "EUR", &rows)
    };
    [list("Harbour", harbour), list("Mill", mill)]
}

/// What each cut takes where the shop file says nothing.
const ALLOWANCE_MM: f64 = 3.0;

fn adds_up(bill: &Bill) -> Result<(), TestCaseError> {
    for line in &bill.lines {
        prop_assert_eq!(
            line.unit_price.times(u64::from(line.packs)),
            line.line_total
        );
        prop_assert!(line.packs > 0);
    }
    let goods: Money = bill.lines.iter().map(|line| line.line_total).sum();
    let delivery: Money = bill.deliveries.iter().map(|row| row.charge).sum();
    let by_supplier: Money = bill.deliveries.iter().map(|row| row.goods).sum();
    prop_assert_eq!(goods, bill.goods_total);
    prop_assert_eq!(by_supplier, bill.goods_total);
    prop_assert_eq!(delivery, bill.delivery);
    prop_assert_eq!(goods + delivery + bill.tax, bill.total);
    prop_assert_eq!(bill.order.total, bill.total);
    prop_assert!(bill.order.bound <= bill.order.total);
    for amount in [bill.goods_total, bill.delivery, bill.tax, bill.total] {
        prop_assert_eq!(amount.decimal().scale(), 2);
    }
    Ok(())
}

/// Every length is cut once, and no roll gives more than it has.
fn cuts_are_sound(needs: &[Need], purchase: &Purchase) -> Result<(), TestCaseError> {
    let mut wanted: BTreeMap<(String, Option<Colour>, String), i64> = BTreeMap::new();
    for need in needs {
        if matches!(need.amount, Amount::Length(_)) {
            let key = (need.part.clone(), need.colour, need.purpose.clone());
            *wanted.entry(key).or_default() += 1;
        }
    }
    for roll in &purchase.cuts {
        prop_assert!(roll.left.mm() >= 0.0);
        let long_first = roll
            .pieces
            .windows(2)
            .all(|pair| pair[0].length >= pair[1].length);
        prop_assert!(long_first);
        let mut end = 0.0;
        for piece in &roll.pieces {
            // Each piece lies behind the mark of the one before it, the cut between them.
            prop_assert!(piece.from.mm() >= end + ALLOWANCE_MM - 1e-6);
            end = piece.from.mm() + piece.length.mm();
            prop_assert!((end - piece.mark.mm()).abs() < 1e-3);
        }
        prop_assert!((end + roll.left.mm() - roll.length.mm()).abs() < 1e-3);
        for piece in &roll.pieces {
            let key = (roll.part.clone(), roll.colour, piece.purpose.clone());
            *wanted.entry(key).or_default() -= 1;
        }
    }
    prop_assert!(wanted.values().all(|count| *count >= 0));
    let supplied = purchase
        .checks
        .iter()
        .all(|check| check.verdict == Verdict::Pass);
    if supplied {
        prop_assert!(wanted.values().all(|count| *count == 0));
    }
    Ok(())
}

/// Nothing is taken from the shelf that is not there, and nothing twice.
fn stock_stays_above_nothing(purchase: &Purchase, shop: &ShopFile) -> Result<(), TestCaseError> {
    let mut pieces: Vec<i64> = shop
        .stock
        .iter()
        .map(|entry| i64::from(entry.pieces))
        .collect();
    let mut cut = std::collections::BTreeSet::new();
    for change in &purchase.stock {
        for (entry, count) in &change.taken {
            pieces[*entry] -= i64::from(*count);
        }
        for (entry, position) in &change.cut {
            prop_assert!(*position < shop.stock[*entry].offcuts.len());
            prop_assert!(cut.insert((*entry, *position)));
        }
        for offcut in &change.offcuts {
            prop_assert!(*offcut >= shop.keep_offcuts_from);
        }
    }
    prop_assert!(pieces.iter().all(|left| *left >= 0));
    Ok(())
}

/// Rolls of a supplier hold all that is cut from them, and packs all pieces.
fn packs_cover(needs: &[Need], purchase: &Purchase, stock: u32) -> Result<(), TestCaseError> {
    for part in ["label", "paint"] {
        let wanted: u32 = needs
            .iter()
            .filter(|need| need.part == part)
            .map(|need| match need.amount {
                Amount::Pieces(count) => count,
                Amount::Length(_) => 0,
            })
            .sum();
        let taken = purchase.from_stock.iter().find(|row| row.part == part);
        let taken = taken.map_or(0, |row| leading_number(&row.amount));
        let stocked = if part == "label" { stock } else { 0 };
        prop_assert!(taken <= stocked);
        let lines = purchase.bill.lines.iter().filter(|line| line.part == part);
        let (mut held, mut used) = (0, 0);
        for line in lines {
            held += line.packs * leading_number(&line.pack);
            used += leading_number(&line.quantity);
        }
        prop_assert!(used <= held);
        let failed = purchase.checks.iter().any(|check| {
            check.subject.eq_ignore_ascii_case(part) && check.verdict == Verdict::Fail
        });
        prop_assert_eq!(failed, taken + used < wanted);
        prop_assert!(taken + used <= wanted);
    }
    Ok(())
}

fn leading_number(text: &str) -> u32 {
    let digits = text.split(' ').next().unwrap_or_default();
    digits.parse().unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_bill_adds_up_and_covers_every_need(
        needs in prop::collection::vec(need(), 0..25),
        harbour in prop::collection::vec(offer(), 0..8),
        mill in prop::collection::vec(offer(), 0..8),
        shop in shop(),
    ) {
        let purchase = bought(&needs, &[], &shop, &lists(&harbour, &mill), "EUR");
        adds_up(&purchase.bill)?;
        adds_up(&purchase.tools)?;
        cuts_are_sound(&needs, &purchase)?;
        let file = super::bench::shop(&shop, &super::bench::catalog(&lists(&harbour, &mill)));
        stock_stays_above_nothing(&purchase, &file)?;
        let stock = shop.split("pieces = ").nth(1).unwrap();
        let stock = stock.split(' ').next().unwrap().parse().unwrap();
        packs_cover(&needs, &purchase, stock)?;
        let again = bought(&needs, &[], &shop, &lists(&harbour, &mill), "EUR");
        prop_assert_eq!(again.bill.lines, purchase.bill.lines);
        prop_assert_eq!(again.cuts, purchase.cuts);
    }

    #[test]
    /// Without limits, that is: a cheaper order may miss the sum from which delivery is free.
    fn a_cheaper_offer_never_makes_an_order_dearer(
        needs in prop::collection::vec(need(), 1..20),
        harbour in prop::collection::vec(offer(), 1..8),
        mill in prop::collection::vec(offer(), 0..8),
        chosen in any::<prop::sample::Index>(),
        off in 1_u32..100,
    ) {
        let terms = "supplier = [{ name = \"Harbour\", delivery = \"4\" }, { name = \"Mill\", delivery = \"3\" }]";
        let before = bought(&needs, &[], terms, &lists(&harbour, &mill), "EUR");
        let mut cheaper = harbour.clone();
        let row = &mut cheaper[chosen.index(harbour.len())];
        row.2 = row.2.saturating_sub(row.2 * off / 100).max(1);
        let after = bought(&needs, &[], terms, &lists(&cheaper, &mill), "EUR");
        prop_assert!(after.bill.total <= before.bill.total);
    }
}
