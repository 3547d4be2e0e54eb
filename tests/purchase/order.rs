//! Orders as `orders.py` writes them.

use longlead::catalog::{self, Catalog, PartKind};
use longlead::diagnostic::{Sources, render};
use longlead::fittings::{Amount, Need};
use longlead::purchase::{Comparison, Market, Purchase, buy};
use longlead::quantity::{Currency, Length, Quantity};
use longlead::shop::{self, ShopFile};

/// One order.
pub struct Order {
    /// Its name.
    pub name: String,
    catalog: Catalog,
    shop: ShopFile,
    needs: Vec<Need>,
}

impl Order {
    /// Reads the text of an order.
    pub fn read(text: &str) -> Self {
        let mut lines = text.lines();
        let head: Vec<&str> = lines.next().unwrap().split(' ').collect();
        let ["order", name, "tax", tax, "allowance", allowance] = head[..] else {
            panic!("not the head of an order: {head:?}");
        };
        let tax: u32 = tax.parse().unwrap();
        let mut writing = Writing {
            shop: format!(
                "name = \"Shed\"\ntax = \"{}.{} %\"\ncut_allowance = \"{allowance} mm\"\n",
                tax / 10,
                tax % 10
            ),
            ..Writing::default()
        };
        for line in lines {
            writing.line(line);
        }
        let parts = writing.parts.concat();
        let lists = writing.lists.iter().map(|list| format!("{list}]\n"));
        let catalog_text = format!("{parts}{}", lists.collect::<String>());
        let mut sources = Sources::default();
        let source = sources.add("catalog.toml", catalog_text);
        let catalog = catalog::load(&[vec![source]], &sources)
            .unwrap_or_else(|mistakes| panic!("{}", render(&mistakes, &sources, false)));
        let source = sources.add("shop.toml", writing.shop);
        let shop = shop::load(source, &sources, &catalog)
            .unwrap_or_else(|mistakes| panic!("{}", render(&mistakes, &sources, false)));
        Self {
            name: name.to_owned(),
            catalog,
            shop,
            needs: writing.needs,
        }
    }

    /// Buys it.
    pub fn bought(&self) -> Purchase {
        let market = Market {
            shop: &self.shop,
            catalog: &self.catalog,
            currency: Currency::parse("EUR").unwrap(),
        };
        buy(&self.needs, &[], market, Comparison::Made)
    }
}

/// The files of an order while they are written.
#[derive(Default)]
struct Writing {
    shop: String,
    parts: Vec<String>,
    lists: Vec<String>,
    needs: Vec<Need>,
}

impl Writing {
    fn line(&mut self, line: &str) {
        let (kind, rest) = line.split_once(' ').unwrap();
        match kind {
            "supplier" => self.supplier(rest),
            "pieces" => self.pieces(rest),
            "cuts" => self.cuts(rest),
            other => panic!("no line of an order: {other}"),
        }
    }

    fn supplier(&mut self, rest: &str) {
        let words: Vec<&str> = rest.split(' ').collect();
        let [charge, free_from, smallest, tax] = words[..] else {
            panic!("no supplier: {rest}");
        };
        let name = format!("Supplier {}", self.lists.len());
        self.shop += &format!(
            "[[supplier]]\nname = \"{name}\"\ndelivery = \"{}\"\n",
            euros(charge)
        );
        for (key, limit) in [("free_from", free_from), ("smallest_order", smallest)] {
            if limit != "-" {
                self.shop += &format!("{key} = \"{}\"\n", euros(limit));
            }
        }
        self.lists.push(format!(
            "[[price_list]]\nsupplier = \"{name}\"\ncurrency = \"EUR\"\nsource = \"invented\"\n\
             tax = \"{tax}\"\noffer = [\n"
        ));
    }

    fn pieces(&mut self, rest: &str) {
        let id = format!("part-{}", self.parts.len());
        self.parts.push(format!(
            "[[consumable]]\nid = \"{id}\"\ndescription = \"{id}\"\nsource = \"invented\"\n\
             purpose = \"paint\"\nuses = 1\n"
        ));
        let (head, offers) = rest.split_once(": ").unwrap();
        let (need, stock) = head.split_once(" stock ").unwrap();
        if stock != "0" {
            self.shop += &format!("[[stock]]\npart = \"{id}\"\npieces = {stock}\n");
        }
        let count = Amount::Pieces(need.parse().unwrap());
        self.need(&id, PartKind::Consumable, count);
        self.offers(&id, offers);
    }

    fn cuts(&mut self, rest: &str) {
        let id = format!("part-{}", self.parts.len());
        self.parts.push(format!(
            "[[vent]]\nid = \"{id}\"\ndescription = \"{id}\"\nsource = \"invented\"\nbore = \"12 mm\"\n"
        ));
        let (head, offers) = rest.split_once(": ").unwrap();
        let (cuts, offcuts) = head.split_once(" offcuts ").unwrap_or((head, ""));
        let offcuts: Vec<String> = offcuts
            .split_whitespace()
            .map(|mm| format!("\"{mm} mm\""))
            .collect();
        if !offcuts.is_empty() {
            let offcuts = offcuts.join(", ");
            self.shop += &format!("[[stock]]\npart = \"{id}\"\noffcuts = [{offcuts}]\n");
        }
        for millimetres in cuts.trim_end_matches(" offcuts").split(' ') {
            let length = Length::from_mm(millimetres.parse().unwrap());
            self.need(&id, PartKind::Vent, Amount::Length(length));
        }
        self.offers(&id, offers);
    }

    fn need(&mut self, part: &str, kind: PartKind, amount: Amount) {
        self.needs.push(Need {
            part: part.to_owned(),
            kind,
            colour: None,
            amount,
            purpose: "test".to_owned(),
        });
    }

    fn offers(&mut self, part: &str, offers: &str) {
        for offer in offers.split("; ") {
            let words: Vec<&str> = offer.split(' ').collect();
            let supplier: usize = words[0].trim_end_matches('!').parse().unwrap();
            let in_stock = !words[0].ends_with('!');
            let body = match words[1..] {
                ["pack", size, price, ref breaks @ ..] => {
                    let breaks = breaks.chunks(3).map(|words| {
                        format!("{{ from = {}, price = \"{}\" }}", words[1], euros(words[2]))
                    });
                    let breaks: Vec<String> = breaks.collect();
                    format!(
                        "pack = \"{size} pieces\", price = \"{}\", breaks = [{}]",
                        euros(price),
                        breaks.join(", ")
                    )
                }
                ["roll", length, price] => {
                    format!("pack = \"{length} mm\", price = \"{}\"", euros(price))
                }
                ["step", length, smallest, price] => format!(
                    "pack = \"{length} mm\", smallest = \"{smallest} mm\", cut_to_length = true, \
                     price = \"{}\"",
                    euros(price)
                ),
                _ => panic!("no offer: {offer}"),
            };
            self.lists[supplier] +=
                &format!("{{ part = \"{part}\", in_stock = {in_stock}, {body} }},\n");
        }
    }
}

fn euros(cents: &str) -> String {
    let cents: u64 = cents.parse().unwrap();
    format!("{}.{:02}", cents / 100, cents % 100)
}
