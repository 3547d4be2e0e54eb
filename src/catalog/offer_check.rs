//! Mistakes in offers that only the part or the price list shows.

use std::collections::BTreeMap;

use super::{Catalog, Offer, Pack, PartKind};
use crate::diagnostic::{Diagnostic, Problem};

/// Offers whose pack does not suit the part, or whose price the currency cannot pay.
pub(super) fn wrong_offers(catalog: &Catalog) -> Vec<Diagnostic> {
    let parts = catalog.parts().map(|part| (part.id(), part.kind()));
    let kinds: BTreeMap<&str, PartKind> = parts.collect();
    let mut mistakes = Vec::new();
    for list in &catalog.price_lists {
        for offer in &list.offer {
            if let Some(kind) = kinds.get(offer.part.as_str()) {
                let problem = wrong_pack(offer, *kind);
                mistakes.extend(problem.map(|problem| Diagnostic::new(problem, offer.part.span)));
            }
            let breaks = offer.breaks.iter().map(|row| &row.price);
            for price in std::iter::once(&offer.price).chain(breaks) {
                if !price.payable_in(list.currency) {
                    let problem = Problem::TooManyDigits {
                        currency: list.currency,
                    };
                    mistakes.push(Diagnostic::new(problem, price.span));
                }
            }
            mistakes.extend(wrong_breaks(offer));
        }
    }
    mistakes
}

/// Price breaks out of order, or that make many packs dearer.
fn wrong_breaks(offer: &Offer) -> Vec<Diagnostic> {
    let mut mistakes = Vec::new();
    let (mut from, mut price) = (1, offer.price.value);
    for row in &offer.breaks {
        let problem = if row.from <= from {
            Some(Problem::contradiction_with_help(
                format!(
                    "a price from {} packs on cannot follow one from {from}",
                    row.from
                ),
                "order the breaks by rising numbers of packs, the first from 2 on",
            ))
        } else if row.price.value >= price {
            Some(Problem::contradiction_with_help(
                format!(
                    "{} a pack is no less than {price}, the price of fewer packs",
                    row.price.value
                ),
                "take the break away, or give its lower price",
            ))
        } else {
            None
        };
        mistakes.extend(problem.map(|problem| Diagnostic::new(problem, row.span)));
        (from, price) = (row.from, row.price.value);
    }
    mistakes
}

fn wrong_pack(offer: &Offer, kind: PartKind) -> Option<Problem> {
    let part = offer.part.as_str();
    match (offer.pack, kind.sold_by_length()) {
        (Pack::Pieces(_), true) => Some(Problem::contradiction_with_help(
            format!("`{part}` is a {kind} and is sold by length, not in pieces"),
            "write the pack as a length, such as \"25 m\"",
        )),
        (Pack::Length(_), false) => Some(Problem::contradiction_with_help(
            format!("`{part}` is a {kind} and is sold in pieces, not by length"),
            "write the pack as a number of pieces, such as \"10 pieces\"",
        )),
        (Pack::Pieces(_), false) if offer.cut_to_length => Some(Problem::contradiction_with_help(
            format!("`{part}` is sold in pieces and cannot be cut to length"),
            "take `cut_to_length` away",
        )),
        (Pack::Length(_), true) if !offer.breaks.is_empty() => {
            Some(Problem::contradiction_with_help(
                format!("`{part}` is sold by length, and price breaks are for packs of pieces"),
                "give each longer roll as an offer of its own",
            ))
        }
        _ if offer.smallest.is_some() && !offer.cut_to_length => {
            Some(Problem::contradiction_with_help(
                format!(
                    "this offer of `{part}` is not cut to length, so it has no smallest length"
                ),
                "take `smallest` away, or write `cut_to_length = true`",
            ))
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use crate::catalog::load;
    use crate::diagnostic::{Sources, render};

    /// The mistakes in one offer, as a person reads them.
    fn mistakes(currency: &str, offer: &str) -> String {
        let text = format!(
            "[[vent]]\nid = \"hose\"\ndescription = \"Vent hose\"\nsource = \"invented\"\n\
             bore = \"12 mm\"\n\
             [[grommet]]\nid = \"ring\"\ndescription = \"Grommet\"\nsource = \"invented\"\n\
             hole = \"20 mm\"\nmin_cable = \"8 mm\"\nmax_cable = \"12 mm\"\nmax_panel = \"1.5 mm\"\n\
             [[price_list]]\nsupplier = \"Harbour\"\ncurrency = \"{currency}\"\n\
             source = \"invented\"\noffer = [{offer}]\n"
        );
        let mut sources = Sources::default();
        let source = sources.add("offers.toml", text);
        match load(&[vec![source]], &sources) {
            Ok(_) => String::new(),
            Err(mistakes) => render(&mistakes, &sources, false),
        }
    }

    #[test]
    fn an_offer_that_suits_its_part_is_taken() {
        for offer in [
            r#"{ part = "hose", pack = "1 m", price = "2.50", cut_to_length = true }"#,
            r#"{ part = "ring", pack = "10 pieces", price = "2.500" }"#,
        ] {
            assert_eq!(mistakes("EUR", offer), "", "{offer}");
        }
    }

    #[test]
    fn a_hose_in_pieces_and_a_grommet_by_length_are_mistakes() {
        let hose = mistakes(
            "EUR",
            r#"{ part = "hose", pack = "2 pieces", price = "1" }"#,
        );
        assert!(hose.contains("`hose` is a vent and is sold by length"));
        assert!(hose.contains("offers.toml:"));
        let ring = mistakes("EUR", r#"{ part = "ring", pack = "2 m", price = "1" }"#);
        assert!(ring.contains("`ring` is a grommet and is sold in pieces"));
        let cut = r#"{ part = "ring", pack = "1 piece", price = "1", cut_to_length = true }"#;
        assert!(mistakes("EUR", cut).contains("cannot be cut to length"));
    }

    #[test]
    fn a_price_finer_than_its_currency_is_a_mistake() {
        let offer =
            |price: &str| format!(r#"{{ part = "hose", pack = "5 m", price = "{price}" }}"#);
        let euro = mistakes("EUR", &offer("2.505"));
        assert!(euro.contains("more digits than EUR has"));
        assert!(euro.contains("at most 2 digits after the point"));
        assert!(mistakes("JPY", &offer("2.5")).contains("expected a whole amount"));
        assert_eq!(mistakes("KWD", &offer("2.505")), "");
        assert!(mistakes("EUR", &offer("-2")).contains("it cannot be below zero"));
    }
}
