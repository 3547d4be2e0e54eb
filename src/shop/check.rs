//! References and contradictions in a shop file.

use std::collections::BTreeMap;

use super::{ExchangeFile, ShopFile, StockFile, SupplierFile};
use crate::catalog::{Catalog, Part};
use crate::diagnostic::{Diagnostic, Problem, Span, Spanned, Subject};
use crate::quantity::{Currency, Money};

/// Suppliers that one order can be spread over.
const MOST_SUPPLIERS: usize = 64;

/// Every mistake that only the catalog or the rest of the file shows.
pub fn check(shop: &ShopFile, catalog: &Catalog) -> Vec<Diagnostic> {
    let mut mistakes = Vec::new();
    let parts: Vec<&str> = catalog.parts().map(Part::id).collect();
    let stocked = shop.stock.iter().map(|stock| &stock.part);
    let named = stocked.chain(&shop.tools);
    for part in named.chain(&shop.unavailable).chain(&shop.preferred) {
        require(part, Subject::Part, &parts, &mut mistakes);
    }
    suppliers(shop, catalog, &mut mistakes);
    for part in &shop.preferred {
        if shop
            .unavailable
            .iter()
            .any(|other| other.value == part.value)
        {
            let reason = format!("`{}` is preferred, but is not to be had", part.value);
            let help = "take it off one of the two lists";
            let problem = Problem::contradiction_with_help(reason, help);
            mistakes.push(Diagnostic::new(problem, part.span));
        }
    }
    for stock in &shop.stock {
        let problem = wrong_stock(stock, catalog);
        mistakes.extend(problem.map(|problem| Diagnostic::new(problem, stock.span)));
    }
    exchange(shop, &mut mistakes);
    digits(shop, &mut mistakes);
    mistakes
}

fn suppliers(shop: &ShopFile, catalog: &Catalog, mistakes: &mut Vec<Diagnostic>) {
    let lists = catalog.price_lists.iter();
    let known: Vec<&str> = lists.map(|list| list.supplier.as_str()).collect();
    let mut seen: BTreeMap<&str, Span> = BTreeMap::new();
    for supplier in &shop.supplier {
        require(&supplier.name, Subject::Supplier, &known, mistakes);
        if let Some(first) = seen.insert(&supplier.name, supplier.name.span) {
            let problem = Problem::DuplicateName {
                subject: Subject::Supplier,
                name: supplier.name.value.clone(),
            };
            let mistake = Diagnostic::new(problem, supplier.name.span);
            mistakes.push(mistake.with_related(first, "first used here"));
        }
        mistakes.extend(without_rate(shop, supplier, catalog));
    }
    let bought_from = match shop.supplier.len() {
        0 => known.len(),
        listed => listed,
    };
    if bought_from > MOST_SUPPLIERS {
        let problem = Problem::contradiction_with_help(
            format!("{bought_from} suppliers are more than an order is spread over"),
            format!("name the {MOST_SUPPLIERS} that matter, each in a [[supplier]] table"),
        );
        mistakes.push(Diagnostic::new(problem, shop.span));
    }
    if let Some(only) = &shop.only_from {
        let listed: Vec<&str> = shop.supplier.iter().map(|row| row.name.as_str()).collect();
        let asked = if listed.is_empty() { &known } else { &listed };
        require(only, Subject::Supplier, asked, mistakes);
    }
}

/// A supplier whose prices cannot be held against the shop's money.
fn without_rate(shop: &ShopFile, supplier: &SupplierFile, catalog: &Catalog) -> Option<Diagnostic> {
    let mut lists = catalog.price_lists.iter();
    let list = lists.find(|list| *list.supplier == *supplier.name)?;
    let has_rate = |row: &ExchangeFile| row.currency.value == list.currency;
    if list.currency == shop.currency || shop.exchange.iter().any(has_rate) {
        return None;
    }
    let (from, to) = (list.currency, shop.currency);
    let problem = Problem::contradiction_with_help(
        format!(
            "the prices of `{}` are in {from}, and there is no rate of exchange to {to}",
            supplier.name.value
        ),
        format!("add an [[exchange]] table with the rate for {from}"),
    );
    Some(Diagnostic::new(problem, supplier.name.span))
}

/// What cannot be true of an entry of the shelf.
fn wrong_stock(stock: &StockFile, catalog: &Catalog) -> Option<Problem> {
    let id = stock.part.as_str();
    let kind = catalog.part(id)?.kind();
    if kind.sold_by_length() && stock.pieces > 0 {
        return Some(Problem::contradiction_with_help(
            format!("`{id}` is a {kind} and is counted by length, not in pieces"),
            "give the length of each piece under `offcuts`",
        ));
    }
    if !kind.sold_by_length() && !stock.offcuts.is_empty() {
        return Some(Problem::contradiction_with_help(
            format!("`{id}` is a {kind} and has no offcuts"),
            "give the number of `pieces`",
        ));
    }
    let colours = catalog.colours(id);
    let known: Vec<&str> = colours.iter().map(|colour| colour.as_str()).collect();
    let Some(colour) = stock.colour else {
        return (colours.len() > 1).then(|| {
            Problem::contradiction_with_help(
                format!("`{id}` comes in several colours, and this entry names none"),
                format!("give its `colour`, one of: {}", known.join(", ")),
            )
        });
    };
    if colours.is_empty() || colours.contains(&colour) {
        return None;
    }
    Some(Problem::contradiction_with_help(
        format!("`{id}` does not come in {colour}"),
        format!("it comes in: {}", known.join(", ")),
    ))
}

fn exchange(shop: &ShopFile, mistakes: &mut Vec<Diagnostic>) {
    let mut seen: BTreeMap<Currency, Span> = BTreeMap::new();
    for exchange in &shop.exchange {
        if exchange.rate.value == Money::ZERO {
            let problem = Problem::contradiction("a rate of exchange cannot be nothing");
            mistakes.push(Diagnostic::new(problem, exchange.rate.span));
        }
        let currency = &exchange.currency;
        if let Some(first) = seen.insert(currency.value, currency.span) {
            let reason = format!("there are two rates for {}", currency.value);
            let problem = Problem::contradiction_with_help(reason, "keep the rate that holds");
            let mistake = Diagnostic::new(problem, currency.span);
            mistakes.push(mistake.with_related(first, "the other is here"));
        }
    }
}

/// Amounts of suppliers that the shop's currency cannot pay.
fn digits(shop: &ShopFile, mistakes: &mut Vec<Diagnostic>) {
    let of_suppliers = shop.supplier.iter().flat_map(|supplier| {
        let limits = supplier.free_from.iter().chain(&supplier.smallest_order);
        let amounts = std::iter::once(&supplier.delivery).chain(limits);
        amounts.map(|amount| (amount, supplier.span))
    });
    for (amount, span) in of_suppliers {
        if !amount.payable_in(shop.currency) {
            let problem = Problem::TooManyDigits {
                currency: shop.currency,
            };
            mistakes.push(Diagnostic::new(problem, span));
        }
    }
}

fn require(
    name: &Spanned<String>,
    subject: Subject,
    known: &[&str],
    mistakes: &mut Vec<Diagnostic>,
) {
    // A blank name takes the place of one that was reported already.
    if !name.is_empty() && !known.contains(&name.as_str()) {
        let problem = Problem::unknown_name(subject, name, known.iter().copied());
        mistakes.push(Diagnostic::new(problem, name.span));
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use crate::catalog;
    use crate::diagnostic::{Sources, render};
    use crate::shop::load;

    const CATALOG: &str = r#"
        [[sleeve]]
        id = "sleeve"
        description = "Lined sleeve"
        source = "invented"
        supplied = "12 mm"
        recovered = "4 mm"
        length = "50 mm"
        rating = "125 C"
        colours = ["red", "black"]
        [[vent]]
        id = "hose"
        description = "Vent hose"
        source = "invented"
        bore = "12 mm"
        [[price_list]]
        supplier = "Harbour"
        currency = "EUR"
        source = "invented"
        offer = []
    "#;

    /// The mistakes in a shop file, as a person reads them.
    fn mistakes(shop: &str) -> String {
        let mut sources = Sources::default();
        let catalog = sources.add("catalog.toml", CATALOG);
        let catalog = catalog::load(&[vec![catalog]], &sources).unwrap();
        let source = sources.add("shop.toml", format!("name = \"Shed\"\n{shop}"));
        match load(source, &sources, &catalog) {
            Ok(_) => String::new(),
            Err(mistakes) => render(&mistakes, &sources, false),
        }
    }

    #[test]
    fn a_sound_shop_file_is_taken() {
        let shop = r#"
            labour_rate = "48.50"
            tax = "8.1 %"
            tools = []
            supplier = [{ name = "Harbour", delivery = "6.90", free_from = "150" }]
            stock = [
                { part = "sleeve", colour = "red", pieces = 3 },
                { part = "hose", offcuts = ["1.2 m"] },
            ]
            exchange = [{ currency = "USD", rate = "0.917" }]
        "#;
        assert_eq!(mistakes(shop), "");
    }

    #[test]
    fn names_that_nobody_bears_are_pointed_out_with_the_nearest() {
        let supplier = mistakes(r#"supplier = [{ name = "Harbor" }]"#);
        assert!(supplier.contains("there is no supplier `Harbor`"));
        assert!(supplier.contains("did you mean `Harbour`?"));
        let twice = r#"supplier = [{ name = "Harbour" }, { name = "Harbour" }]"#;
        assert!(mistakes(twice).contains("is given to more than one supplier"));
        assert!(mistakes(r#"tools = ["press"]"#).contains("there is no part `press`"));
    }

    #[test]
    fn stock_that_cannot_be_is_refused() {
        let stock = |entry: &str| mistakes(&format!("stock = [{{ {entry} }}]"));
        let hose = stock(r#"part = "hose", pieces = 2"#);
        assert!(hose.contains("is counted by length, not in pieces"));
        let sleeve = stock(r#"part = "sleeve", offcuts = ["1 m"]"#);
        assert!(sleeve.contains("has no offcuts"));
        let plain = stock(r#"part = "sleeve", pieces = 1"#);
        assert!(plain.contains("`sleeve` comes in several colours, and this entry names none"));
        let blue = stock(r#"part = "sleeve", pieces = 1, colour = "blue""#);
        assert!(blue.contains("`sleeve` does not come in blue"));
        assert!(blue.contains("it comes in: red, black"));
    }

    #[test]
    fn rates_must_be_something_and_stand_once() {
        let nothing = mistakes(r#"exchange = [{ currency = "USD", rate = "0.0" }]"#);
        assert!(nothing.contains("a rate of exchange cannot be nothing"));
        let twice = r#"exchange = [
            { currency = "USD", rate = "0.9" },
            { currency = "USD", rate = "0.8" },
        ]"#;
        assert!(mistakes(twice).contains("there are two rates for USD"));
    }

    #[test]
    fn money_finer_than_the_currency_is_refused() {
        assert!(mistakes(r#"labour_rate = "48.505""#).contains("more digits than EUR has"));
        let yen = "currency = \"JPY\"\nsupplier = [{ name = \"Harbour\", free_from = \"9.5\" }]";
        assert!(mistakes(yen).contains("more digits than JPY has"));
        assert!(mistakes(r#"tax = "8,1 %""#).contains("decimal sign as a point"));
    }
}
