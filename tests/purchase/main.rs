//! The cheapest orders, held against a general solver of integer programs.

#![allow(clippy::unwrap_used, clippy::panic, missing_docs)]

mod order;

use std::collections::BTreeMap;

use longlead::purchase::Purchase;
use order::Order;

/// Orders whose proof the program gives up after its share of work.
const UNPROVED: [&str; 0] = [];

fn expected() -> BTreeMap<String, Vec<String>> {
    let text = include_str!("expected.txt");
    let lines = text.lines().map(|line| {
        let words: Vec<String> = line.split(' ').map(str::to_owned).collect();
        (words[0].clone(), words)
    });
    lines.collect()
}

/// The total of a way to buy in cents, and how many suppliers it uses.
fn way(purchase: &Purchase, name: &str) -> Option<(String, usize)> {
    let way = purchase.bill.ways.iter().find(|way| way.way == name)?;
    Some((cents(&way.total?.to_string()), way.suppliers.len()))
}

fn cents(amount: &str) -> String {
    let digits = amount.replace('.', "");
    digits.trim_start_matches('0').to_owned()
}

/// Totals by HiGHS, of a model that knows nothing of how the program searches (`orders.py`): the
/// cheapest order, the cheapest of those with the fewest suppliers, and that of what is in stock.
#[test]
fn totals_equal_those_of_a_general_solver_to_the_cent() {
    let expected = expected();
    let mut wrong = Vec::new();
    let mut unproved = Vec::new();
    for text in include_str!("orders.txt").trim().split("\n\n") {
        let order = Order::read(text);
        let [_, cheapest, _, count, fewest, _, stocked] = expected[&order.name].as_slice() else {
            panic!("{} has another form", order.name);
        };
        let purchase = order.bought();
        let bill = &purchase.bill;
        let found_stocked = way(&purchase, "only what is in stock today");
        let (found_fewest, suppliers) = way(&purchase, "fewest suppliers").unwrap();
        let found = [
            cents(&bill.total.to_string()),
            suppliers.to_string(),
            found_fewest,
            found_stocked.map_or("-".to_owned(), |(total, _)| total),
        ];
        if found != [cheapest, count, fewest, stocked].map(Clone::clone) {
            wrong.push(format!(
                "{}: {found:?} instead of {:?}",
                order.name, expected[&order.name]
            ));
        }
        if !bill.order.proved {
            unproved.push(order.name.clone());
        }
        assert!(bill.order.bound <= bill.order.total, "{}", order.name);
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert_eq!(expected.len(), 300);
    assert_eq!(unproved, UNPROVED);
}
