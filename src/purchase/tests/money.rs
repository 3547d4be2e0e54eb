//! Worked examples of prices, delivery, tax and currencies.

use super::bench::{bought, lines, pieces, price_list};

#[test]
fn a_bill_worked_by_hand_adds_up_to_the_cent() {
    let lists = [
        price_list(
            "Harbour",
            "EUR",
            &[("label", "10 pieces", "3.35"), ("label", "1 piece", "0.45")],
        ),
        price_list("Mill", "EUR", &[("paint", "1 piece", "7.95")]),
    ];
    let shop = r#"
        tax = "8.1 %"
        supplier = [
            { name = "Harbour", delivery = "4.90", free_from = "4.25" },
            { name = "Mill", delivery = "5.50", free_from = "16" },
        ]
    "#;
    let needs = [pieces("label", 7), pieces("paint", 2), pieces("label", 5)];
    let bill = bought(&needs, &[], shop, &lists, "EUR").bill;
    assert_eq!(
        lines(&bill),
        [
            "Label: 2 x 1 piece from Harbour at 0.45 = 0.90, 2 piece used",
            "Label: 1 x 10 pieces from Harbour at 3.35 = 3.35, 10 piece used",
            "Paint: 2 x 1 piece from Mill at 7.95 = 15.90, 2 piece used",
        ]
    );
    // Goods 4.25 + 15.90 = 20.15; delivery by Mill only, 5.50, as 15.90 < 16; tax on 25.65 is
    // 2.07765.
    assert_eq!(bill.goods_total.to_string(), "20.15");
    let charges = bill.deliveries.iter().map(|row| row.charge.to_string());
    assert_eq!(charges.collect::<Vec<_>>(), ["0.00", "5.50"]);
    assert_eq!(bill.delivery.to_string(), "5.50");
    assert_eq!(bill.tax.to_string(), "2.08");
    assert_eq!(bill.total.to_string(), "27.73");
}

#[test]
fn half_a_cent_of_tax_is_rounded_up() {
    let lists = [price_list(
        "Harbour",
        "EUR",
        &[("paint", "1 piece", "2.50")],
    )];
    let bill = bought(&[pieces("paint", 1)], &[], r#"tax = "5 %""#, &lists, "EUR").bill;
    assert_eq!(bill.tax.to_string(), "0.13");
    assert_eq!(bill.total.to_string(), "2.63");
}

#[test]
fn a_currency_without_minor_unit_is_rounded_to_whole_amounts() {
    let lists = [
        price_list("Harbour", "EUR", &[("paint", "1 piece", "7.95")]),
        price_list("Mill", "JPY", &[("label", "10 pieces", "500")]),
    ];
    let shop = r#"
        currency = "JPY"
        tax = "10 %"
        exchange = [{ currency = "EUR", rate = "163.25" }]
        supplier = [{ name = "Harbour", delivery = "800" }, { name = "Mill" }]
    "#;
    let needs = [pieces("paint", 3), pieces("label", 1)];
    let bill = bought(&needs, &[], shop, &lists, "JPY").bill;
    // 7.95 x 163.25 = 1297.8375, each tin 1298.
    assert_eq!(
        lines(&bill),
        [
            "Label: 1 x 10 pieces from Mill at 500 = 500, 1 piece used",
            "Paint: 3 x 1 piece from Harbour at 1298 = 3894, 3 piece used",
        ]
    );
    assert_eq!(bill.delivery.to_string(), "800");
    // 10 % of 5194 is 519.4.
    assert_eq!(bill.tax.to_string(), "519");
    assert_eq!(bill.total.to_string(), "5713");
}

#[test]
fn a_currency_with_three_minor_digits_shows_all_of_them() {
    let lists = [
        price_list("Harbour", "KWD", &[("paint", "1 piece", "2.5")]),
        price_list("Mill", "USD", &[("label", "1 piece", "0.33")]),
    ];
    let shop = "currency = \"KWD\"\nexchange = [{ currency = \"USD\", rate = \"0.3068\" }]";
    let needs = [pieces("paint", 1), pieces("label", 2)];
    let bill = bought(&needs, &[], shop, &lists, "KWD").bill;
    // 0.33 x 0.3068 = 0.101244.
    assert_eq!(
        lines(&bill),
        [
            "Label: 2 x 1 piece from Mill at 0.101 = 0.202, 2 piece used",
            "Paint: 1 x 1 piece from Harbour at 2.500 = 2.500, 1 piece used",
        ]
    );
    assert_eq!(bill.tax.to_string(), "0.000");
    assert_eq!(bill.total.to_string(), "2.702");
}

#[test]
fn an_empty_bill_shows_zeros_in_the_currency() {
    let bill = bought(&[], &[], "", &[], "EUR").bill;
    assert!(bill.lines.is_empty());
    assert_eq!(bill.total.to_string(), "0.00");
    assert!(bill.deliveries.is_empty());
}

#[test]
fn tax_inside_the_price_is_not_added_again() {
    let lists = [
        price_list("Harbour", "EUR", &[("paint", "1 piece", "10.00")]),
        price_list("Mill", "EUR", &[("label", "1 piece", "0.60")])
            .replace("source =", "tax = \"inside\"\nsource ="),
    ];
    let shop = r#"
        tax = "20 %"
        supplier = [{ name = "Harbour", delivery = "2" }, { name = "Mill", delivery = "1" }]
    "#;
    let bill = bought(
        &[pieces("paint", 1), pieces("label", 5)],
        &[],
        shop,
        &lists,
        "EUR",
    )
    .bill;
    // Tax on 10.00 and 3.00 of delivery; of the 3.00 for labels 0.50 is tax.
    assert_eq!(bill.goods_total.to_string(), "13.00");
    assert_eq!(bill.tax.to_string(), "2.60");
    assert_eq!(bill.tax_inside.to_string(), "0.50");
    assert_eq!(bill.total.to_string(), "18.60");
    assert_eq!(bill.lines[0].before_tax.to_string(), "2.50");
    // An untaxed price of 0.55 is dearer than a taxed one of 0.60.
    let lists = [
        price_list("Harbour", "EUR", &[("label", "1 piece", "0.55")]),
        lists[1].clone(),
    ];
    let bill = bought(&[pieces("label", 1)], &[], "tax = \"20 %\"", &lists, "EUR").bill;
    assert_eq!(bill.lines[0].supplier, "Mill");
}

#[test]
fn many_packs_get_the_price_for_many() {
    let list = price_list("Harbour", "EUR", &[("label", "1 piece", "0.45")]);
    let list = list.replace(
        "price = \"0.45\"",
        "price = \"0.45\", breaks = [{ from = 10, price = \"0.40\" }]",
    );
    let total = |count| {
        bought(
            &[pieces("label", count)],
            &[],
            "",
            std::slice::from_ref(&list),
            "EUR",
        )
        .bill
    };
    // Ten at 0.40 cost less than nine at 0.45.
    assert_eq!(
        lines(&total(9)),
        ["Label: 10 x 1 piece from Harbour at 0.40 = 4.00, 9 piece used"]
    );
    assert_eq!(total(8).total.to_string(), "3.60");
}
