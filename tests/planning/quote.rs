//! Quotes of the demo jobs: what the customer may not see, and sums that add up in every form.

use std::collections::BTreeSet;
use std::fs;
use std::str::FromStr;

use longlead::diagnostic::Sources;
use longlead::documents::view::{CostingView, CustomerView};
use longlead::documents::{self, Form, Label, csv, quote_rows};
use longlead::quantity::{Date, Quantity};
use longlead::quote::{self, Offered, Quote, Request};
use longlead::shop::{self, ShopFile};
use rust_decimal::Decimal;

use super::support::{Planned, WORKSHOP, files, root};

/// The workshop that comes with the program, with some of its lines changed.
fn shop(changes: &[(&str, &str)]) -> ShopFile {
    let mut text = fs::read_to_string(root().join("templates/shops/workbench.toml")).unwrap();
    for (from, to) in changes {
        assert!(text.contains(from), "{from}");
        text = text.replacen(from, to, 1);
    }
    let mut sources = Sources::default();
    let source = sources.add("shop.toml", text);
    shop::load(source, &sources, &WORKSHOP.catalog).unwrap()
}

/// Shops that reckon and show tax in each way, and one that charges consumables by the labour.
fn shops() -> Vec<ShopFile> {
    let inside = (r#"prices = "before tax""#, r#"prices = "tax inside""#);
    let each = (r#"tax_on = "total""#, r#"tax_on = "each line""#);
    let even = (r#"rounding = "half-up""#, r#"rounding = "half-even""#);
    let coins = ("valid_days = 30", "valid_days = 30\ncash_step = \"0.05\"");
    let rate = (
        "valid_days = 30",
        "valid_days = 30\nconsumables = \"4.5 %\"",
    );
    let odd_tax = (r#"tax = "20 %""#, r#"tax = "8.1 %""#);
    [
        vec![],
        vec![each, odd_tax],
        vec![inside, odd_tax, coins],
        vec![inside, each, even, odd_tax],
        vec![even, rate],
    ]
    .iter()
    .map(|changes| shop(changes))
    .collect()
}

fn demos() -> Vec<&'static Planned> {
    let paths = files("templates/jobs");
    paths.iter().map(|path| Planned::of_file(path)).collect()
}

fn quoted(planned: &[&Planned], shop: &ShopFile) -> Quote {
    let offered: Vec<Offered<'_>> = planned
        .iter()
        .map(|planned| Offered {
            name: &planned.job.title,
            note: Some("as measured"),
            job: &planned.job,
            plan: &planned.plan,
        })
        .collect();
    let request = Request {
        number: Some("Q-17".to_owned()),
        date: Date::parse("2026-11-25").ok(),
    };
    quote::price(
        &offered,
        shop,
        &WORKSHOP.catalog,
        &WORKSHOP.library,
        &request,
    )
    .unwrap()
}

fn written<T: serde::Serialize>(template: &str, view: &T, form: Form) -> String {
    let label = Label::new("A job", "READY TO BUILD");
    let bytes = documents::write(template, "Quote", view, &[], &label, form).unwrap();
    String::from_utf8_lossy(&bytes).into_owned()
}

/// The customer's page in every form that can be read as text; the PDF is set from the same blocks
/// as HTML and text.
fn customer_forms(view: &CustomerView) -> Vec<(&'static str, String)> {
    let text = Form::Text {
        width: 120,
        colour: false,
    };
    let rows = quote_rows::customer(view);
    vec![
        ("text", written("quote", view, text)),
        ("md", written("quote", view, Form::Markdown)),
        ("html", written("quote", view, Form::Html)),
        ("json", serde_json::to_string(view).unwrap()),
        ("csv", csv::write(&rows.headers, &rows.rows).unwrap()),
    ]
}

/// Figures with their decimals.
fn figures(text: &str) -> BTreeSet<String> {
    let parts = text.split(|letter: char| !letter.is_ascii_digit() && letter != '.');
    let figures = parts.filter(|part| part.contains('.') && Decimal::from_str(part).is_ok());
    figures.map(str::to_owned).collect()
}

/// What a customer is to see of an option.
fn shown(quote: &Quote) -> BTreeSet<String> {
    let mut shown = BTreeSet::new();
    for option in &quote.options {
        let sums = option.sums;
        let sums = [
            sums.net,
            sums.tax,
            sums.total,
            sums.cash_rounding,
            sums.due,
            option.balance,
        ];
        shown.extend(sums.iter().chain(&option.deposit).map(ToString::to_string));
        let hours: Decimal = option.lines.iter().filter_map(|line| line.hours).sum();
        shown.insert(hours.to_string());
        for line in &option.lines {
            shown.insert(line.shown.to_string());
            shown.extend(line.hours.map(|hours| hours.to_string()));
            shown.extend(line.tax.map(|tax| tax.to_string()));
        }
    }
    shown
}

/// Costs, rates, margins and single prices of parts.
fn hidden(view: &CostingView) -> BTreeSet<String> {
    let mut hidden = BTreeSet::new();
    for option in &view.options {
        let costing = &option.costing;
        let sums = [costing.parts, costing.delivery, costing.left];
        hidden.extend(sums.iter().chain(&costing.labour).map(ToString::to_string));
        for part in &option.parts {
            let money = [part.part.cost, part.part.price, part.margin];
            hidden.extend(money.map(|amount| amount.to_string()));
        }
        for line in &option.lines {
            hidden.extend(
                line.cost
                    .iter()
                    .chain(&line.margin)
                    .map(ToString::to_string),
            );
        }
        for labour in &option.labour {
            hidden.extend(
                labour
                    .labour
                    .cost
                    .iter()
                    .chain(&labour.margin)
                    .map(ToString::to_string),
            );
            hidden.insert(labour.labour.hour.to_string());
        }
    }
    hidden
}

#[test]
fn no_cost_markup_margin_or_supplier_reaches_the_customer() {
    // Markups that nothing else on the page looks like.
    let own = [
        ("18 %", "17.3 %"),
        ("40 %\"\n\n[[rate", "41.7 %\"\n\n[[rate"),
        ("25 %", "23.9 %"),
        ("10 %", "11.3 %"),
    ];
    let shop = shop(&own);
    let demos = demos();
    let mut offers: Vec<Vec<&Planned>> = demos.iter().map(|demo| vec![*demo]).collect();
    offers.push(demos.clone());
    for offered in offers {
        let quote = quoted(&offered, &shop);
        let costing = CostingView::of(&quote, "A job");
        let secret: BTreeSet<String> = hidden(&costing)
            .difference(&shown(&quote))
            .cloned()
            .collect();
        assert!(secret.len() > 100, "{}", secret.len());
        let suppliers = WORKSHOP
            .catalog
            .price_lists
            .iter()
            .map(|list| list.supplier.as_str());
        let mut words: Vec<&str> = suppliers.collect();
        words.extend([
            "17.3", "41.7", "23.9", "11.3", "markup", "margin", "supplier", "cost",
        ]);
        let view = CustomerView::of(&quote, "A job", &shop);
        for (form, page) in customer_forms(&view) {
            let body = page.split("<body").last().unwrap().to_lowercase();
            let told: Vec<String> = figures(&body).intersection(&secret).cloned().collect();
            assert!(told.is_empty(), "{form} tells {told:?}");
            for word in &words {
                assert!(!body.contains(&word.to_lowercase()), "{form} tells {word}");
            }
        }
        // The same search finds what the workshop's page tells.
        let page = written("costing", &costing, Form::Markdown);
        assert!(figures(&page).intersection(&secret).count() > 100);
        let told = |word: &&&str| page.to_lowercase().contains(&word.to_lowercase());
        let found: Vec<&str> = words.iter().filter(told).copied().collect();
        let known = ["17.3", "41.7", "23.9", "markup", "margin", "cost"];
        let all = known.iter().all(|word| found.contains(word));
        assert!(all && found.len() > known.len(), "{found:?}");
    }
}

fn decimal(text: &str) -> Decimal {
    Decimal::from_str(text).unwrap_or_else(|_| panic!("{text} is no amount"))
}

/// Records of a CSV file by the names of its columns.
fn records(text: &str) -> Vec<Vec<String>> {
    let mut reader = ::csv::Reader::from_reader(text.as_bytes());
    let records = reader.records().map(|record| record.unwrap());
    records
        .map(|record| record.iter().map(str::to_owned).collect())
        .collect()
}

#[test]
fn the_customers_sums_add_up_in_csv_and_json() {
    for shop in shops() {
        let quote = quoted(&demos(), &shop);
        let view = CustomerView::of(&quote, "A job", &shop);
        let rows = quote_rows::customer(&view);
        let records = records(&csv::write(&rows.headers, &rows.rows).unwrap());
        let json: serde_json::Value =
            serde_json::from_str(&serde_json::to_string(&view).unwrap()).unwrap();
        for (at, option) in quote.options.iter().enumerate() {
            let mine = || records.iter().filter(|row| row[0] == option.name);
            let lines: Decimal = mine()
                .filter(|row| row[1] != "sum")
                .map(|row| decimal(&row[4]))
                .sum();
            let sum = |name: &str| {
                mine()
                    .find(|row| row[2] == name)
                    .map(|row| decimal(&row[4]))
            };
            let of = |name: &str| sum(name).unwrap();
            assert_eq!(of("before tax") + of("tax"), of("total"));
            let shown = if view.tax_inside {
                of("total")
            } else {
                of("before tax")
            };
            assert_eq!(lines, shown, "{}", option.name);
            let coins = sum("rounding to coins").unwrap_or_default();
            assert_eq!(of("total") + coins, of("to be paid"));
            assert_eq!(of("deposit") + of("rest"), of("to be paid"));
            if view.tax_on_each_line {
                let taxes: Decimal = mine()
                    .filter(|row| row[1] != "sum")
                    .map(|row| decimal(&row[5]))
                    .sum();
                assert_eq!(taxes, of("tax"));
            }
            let cells = ["work", "goods"]
                .iter()
                .flat_map(|rows| json[rows].as_array().unwrap());
            let prices = cells.filter_map(|row| row["cells"][at]["price"].as_str());
            assert_eq!(prices.map(decimal).sum::<Decimal>(), shown);
            assert_eq!(
                decimal(json["options"][at]["total"].as_str().unwrap()),
                of("total")
            );
        }
    }
}

#[test]
fn the_workshops_sums_add_up_in_csv_and_json() {
    for shop in shops() {
        let quote = quoted(&demos(), &shop);
        let view = CostingView::of(&quote, "A job");
        let rows = quote_rows::costing(&view);
        let records = records(&csv::write(&rows.headers, &rows.rows).unwrap());
        for option in &quote.options {
            let sum = |kind: &str, column: usize| -> Decimal {
                let mine = records
                    .iter()
                    .filter(|row| row[0] == option.name && row[1] == kind);
                mine.filter(|row| !row[column].is_empty())
                    .map(|row| decimal(&row[column]))
                    .sum()
            };
            let named = |name: &str| {
                let mut rows = records.iter();
                let row = rows.find(|row| row[0] == option.name && row[2] == name);
                row.map_or(Decimal::ZERO, |row| decimal(&row[7]))
            };
            assert_eq!(
                sum("line", 7) + named("rounding of tax"),
                named("before tax")
            );
            assert_eq!(sum("part", 5), named("cost of parts"));
            assert_eq!(sum("part", 7) - sum("part", 5), sum("part", 8));
            assert_eq!(sum("hours", 5), named("cost of labour"));
            assert_eq!(sum("line", 7) - sum("line", 5), sum("line", 8));
            let costs =
                named("cost of parts") + named("cost of delivery") + named("cost of labour");
            assert_eq!(named("before tax") - costs, named("left"));
            assert_eq!(sum("line", 5), costs);
        }
        let json = serde_json::to_value(&view).unwrap();
        for option in json["options"].as_array().unwrap() {
            let amount = |value: &serde_json::Value| decimal(value.as_str().unwrap());
            let lines = option["lines"].as_array().unwrap();
            let nets: Decimal = lines.iter().map(|line| amount(&line["net"])).sum();
            let rounding = option["rounding"].as_str().map_or(Decimal::ZERO, decimal);
            assert_eq!(nets + rounding, amount(&option["sums"]["net"]));
        }
    }
}

#[test]
fn hours_are_the_minutes_of_the_plan_rounded_up_line_by_line() {
    let shop = shop(&[(r#"labour_step = "6 min""#, r#"labour_step = "15 min""#)]);
    let demos = demos();
    let quote = quoted(&demos, &shop);
    for (option, planned) in quote.options.iter().zip(&demos) {
        let minutes: Decimal = option.labour.iter().map(|row| row.minutes).sum();
        let planned: f64 = planned
            .plan
            .method
            .steps
            .iter()
            .map(|step| step.minutes)
            .sum();
        assert_eq!(minutes.to_string(), format!("{planned:.1}"));
        for row in &option.labour {
            let quarters = row.hours * Decimal::from(4);
            assert!(quarters.fract().is_zero());
            assert!(row.hours * Decimal::from(60) >= row.minutes);
            assert!((row.hours - Decimal::new(25, 2)) * Decimal::from(60) < row.minutes);
        }
    }
}

#[test]
fn a_quote_is_dated_only_when_given_a_date() {
    let demo = demos()[0];
    let shop = shop(&[]);
    let quote = quoted(&[demo], &shop);
    assert_eq!(quote.valid_until.unwrap().to_string(), "2026-12-25");
    let page = |quote: &Quote| {
        let view = CustomerView::of(quote, "A job", &shop);
        written("quote", &view, Form::Markdown)
    };
    assert!(page(&quote).contains("2026-12-25") && page(&quote).contains("Quote Q-17"));
    let undated = Quote {
        number: None,
        date: None,
        valid_until: None,
        ..quote
    };
    assert!(!page(&undated).contains("2026") && page(&undated).contains("30 days"));
}

#[test]
fn the_customer_is_told_when_a_plan_is_not_ready() {
    let path = root().join("tests/jobs/broken/weekend-van-bare-charge-lead.toml");
    let shop = shop(&[]);
    let quote = quoted(&[Planned::of_file(&path)], &shop);
    let view = CustomerView::of(&quote, "A job", &shop);
    let page = written("quote", &view, Form::Markdown);
    assert!(page.contains("NOT READY TO BUILD") && page.contains("its price may change"));
    let costing = written("costing", &CostingView::of(&quote, "A job"), Form::Markdown);
    assert!(costing.contains("NOT READY TO BUILD"));
}
