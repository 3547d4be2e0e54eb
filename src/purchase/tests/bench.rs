//! A small catalog, shop files and needs to buy for.

use crate::catalog::{self, Catalog, Colour, PartKind};
use crate::diagnostic::{Sources, render};
use crate::fittings::{Amount, Need};
use crate::purchase::{Comparison, Market, Purchase, buy};
use crate::quantity::{Currency, Length, Quantity};
use crate::shop::{self, ShopFile};

/// Parts with invented figures: a cable, a hose, a lug, fasteners, a press and its die.
const PARTS: &str = r#"
    [[cable]]
    id = "cable"
    description = "Cable 25 mm2"
    source = "invented"
    family = "fine"
    size = "25 mm2"
    conductor_class = 5
    material = "copper"
    insulation = "PVC"
    max_resistance = "0.780 ohm/km"
    outer_diameter = "10.5 mm"
    rating = "105 C"
    min_bend_radius = "60 mm"
    mass_per_length = "0.29 kg/m"
    colours = ["red", "black"]
    [[vent]]
    id = "hose"
    description = "Vent hose"
    source = "invented"
    bore = "12 mm"
    [[label]]
    id = "label"
    description = "Label"
    source = "invented"
    min_cable = "1 mm"
    max_cable = "40 mm"
    [[consumable]]
    id = "paint"
    description = "Paint"
    source = "invented"
    purpose = "paint"
    uses = 20
    [[die]]
    id = "die"
    description = "Die 25"
    source = "invented"
    code = "25"
    press = "press"
    [[tool]]
    id = "press"
    description = "Hand press"
    source = "invented"
    purpose = "press"
    [[tool]]
    id = "tape"
    description = "Tape measure"
    source = "invented"
    purpose = "tape measure"
"#;

/// A price list with its offers in a compact form: part, pack, price, and a plus for cut to
/// length.
pub fn price_list(supplier: &str, currency: &str, offers: &[(&str, &str, &str)]) -> String {
    let rows = offers.iter().map(|(part, pack, price)| {
        let cut = pack.ends_with('+');
        let pack = pack.trim_end_matches('+');
        format!(
            "{{ part = \"{part}\", pack = \"{pack}\", price = \"{price}\", cut_to_length = {cut} }}"
        )
    });
    let rows: Vec<String> = rows.collect();
    format!(
        "[[price_list]]\nsupplier = \"{supplier}\"\ncurrency = \"{currency}\"\n\
         source = \"invented\"\noffer = [{}]\n",
        rows.join(", ")
    )
}

/// The parts with some price lists.
pub fn catalog(price_lists: &[String]) -> Catalog {
    let mut sources = Sources::default();
    let text = format!("{PARTS}\n{}", price_lists.concat());
    let source = sources.add("catalog.toml", text);
    catalog::load(&[vec![source]], &sources)
        .map_err(|mistakes| render(&mistakes, &sources, false))
        .unwrap()
}

/// A shop file.
pub fn shop(text: &str, catalog: &Catalog) -> ShopFile {
    let mut sources = Sources::default();
    let source = sources.add("shop.toml", format!("name = \"Shed\"\n{text}"));
    shop::load(source, &sources, catalog)
        .map_err(|mistakes| render(&mistakes, &sources, false))
        .unwrap()
}

/// Buys in a currency.
pub fn bought(
    needs: &[Need],
    tools: &[&str],
    shop_text: &str,
    price_lists: &[String],
    currency: &str,
) -> Purchase {
    let catalog = catalog(price_lists);
    let shop = shop(shop_text, &catalog);
    let tools: Vec<String> = tools.iter().map(|tool| (*tool).to_owned()).collect();
    let market = Market {
        shop: &shop,
        catalog: &catalog,
        currency: Currency::parse(currency).unwrap(),
    };
    buy(needs, &tools, market, Comparison::Made)
}

/// A need of pieces.
pub fn pieces(part: &str, count: u32) -> Need {
    Need {
        part: part.to_owned(),
        kind: PartKind::Consumable,
        colour: None,
        amount: Amount::Pieces(count),
        purpose: "test".to_owned(),
    }
}

/// A need of one unbroken length of hose.
pub fn hose(metres: f64) -> Need {
    Need {
        part: "hose".to_owned(),
        kind: PartKind::Vent,
        colour: None,
        amount: Amount::Length(Length::from_m(metres)),
        purpose: format!("vent {metres}"),
    }
}

/// A need of one unbroken length of cable.
pub fn cable(metres: f64, colour: Colour) -> Need {
    Need {
        part: "cable".to_owned(),
        kind: PartKind::Cable,
        colour: Some(colour),
        amount: Amount::Length(Length::from_m(metres)),
        purpose: format!("lead {metres}"),
    }
}

/// Lines in short: description, supplier, packs times pack, used, total.
pub fn lines(bill: &crate::purchase::Bill) -> Vec<String> {
    let rows = bill.lines.iter().map(|line| {
        format!(
            "{}: {} x {} from {} at {} = {}, {} {} used",
            line.description,
            line.packs,
            line.pack,
            line.supplier,
            line.unit_price,
            line.line_total,
            line.quantity,
            line.unit
        )
    });
    rows.collect()
}
