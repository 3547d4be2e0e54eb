//! Tools and dies on a bill of their own.

use super::bench::{bought, lines, pieces, price_list};

#[test]
fn tools_not_owned_are_a_bill_of_their_own() {
    let lists = [
        price_list(
            "Harbour",
            "EUR",
            &[("paint", "1 piece", "8.00"), ("die", "1 piece", "19.00")],
        ),
        price_list("Mill", "EUR", &[("press", "1 piece", "99.00")]),
    ];
    let shop = r#"
        tax = "10 %"
        tools = ["tape"]
        supplier = [
            { name = "Harbour", delivery = "5" },
            { name = "Mill", delivery = "6" },
        ]
    "#;
    let tools = ["press", "tape", "die", "press"];
    let purchase = bought(&[pieces("paint", 1)], &tools, shop, &lists, "EUR");
    assert_eq!(purchase.tools_owned, ["Tape measure"]);
    assert_eq!(
        lines(&purchase.tools),
        [
            "Die 25: 1 x 1 piece from Harbour at 19.00 = 19.00, 1 piece used",
            "Hand press: 1 x 1 piece from Mill at 99.00 = 99.00, 1 piece used",
        ]
    );
    // Harbour delivers the paint anyway; Mill comes for the press alone.
    assert_eq!(purchase.tools.delivery.to_string(), "6.00");
    assert_eq!(purchase.tools.total.to_string(), "136.40");
    assert_eq!(purchase.bill.total.to_string(), "14.30");
}

#[test]
fn a_tool_that_nobody_sells_fails() {
    let purchase = bought(&[], &["press"], "", &[], "EUR");
    assert!(purchase.tools.lines.is_empty());
    assert_eq!(purchase.checks.len(), 1);
    assert!(purchase.checks[0].note.contains("nobody offers it"));
}
