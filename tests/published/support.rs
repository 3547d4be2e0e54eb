//! The embedded catalog, and plans of small jobs.

use std::sync::LazyLock;

use longlead::catalog::{Cable, Catalog, Setting};
use longlead::diagnostic::{Sources, render};
use longlead::job;
use longlead::method::StepLibrary;
use longlead::plan::{self, Extras, Inputs, Plan};
use longlead::quantity::{ConductorSize, Quantity};
use longlead::shop;

pub static CATALOG: LazyLock<Catalog> =
    LazyLock::new(|| Catalog::embedded(&mut Sources::default()).unwrap());

pub fn size(text: &str) -> ConductorSize {
    ConductorSize::parse(text).unwrap()
}

/// The cables of a family.
pub fn family(name: &str) -> Vec<&'static Cable> {
    let cables: Vec<_> = CATALOG
        .cables
        .iter()
        .filter(|cable| cable.family == name)
        .collect();
    assert!(!cables.is_empty(), "no family {name}");
    cables
}

pub const SETTINGS: [Setting; 3] = [
    Setting::RoadVehicle,
    Setting::SmallCraft,
    Setting::Competition,
];

/// A battery and a lamp 3 m apart, with the lines given put in the place of marks.
pub fn lamp_job(setting: &str, feed: &str, leg: &str, lamp: &str) -> String {
    format!(
        r#"
        title = "Lamp"
        system_voltage = "12 V"
        setting = "{setting}"
        climate = {{ cold = "20 C", hot = "30 C" }}
        space = [{{ name = "cabin", temperature = "30 C" }}]
        place = [{{ name = "tray", space = "cabin" }}, {{ name = "mast", space = "cabin" }}]
        [[leg]]
        from = "tray"
        to = "mast"
        length = "3 m"
        space = "cabin"
        {leg}
        [[battery]]
        name = "house"
        place = "tray"
        chemistry = "flooded"
        voltage = "12 V"
        capacity = "100 Ah"
        cold_crank = "600 A"
        [[load]]
        name = "lamp"
        place = "mast"
        kind = "constant current"
        stud = "M6"
        {lamp}
        [[lead]]
        name = "feed"
        from = "house +"
        to = "lamp +"
        {feed}
        [[lead]]
        name = "return"
        from = "lamp -"
        to = "house -"
        "#
    )
}

/// The plan of a job.
pub fn planned(text: &str) -> Plan {
    let mut sources = Sources::default();
    let source = sources.add("job.toml", text);
    let shop_source = sources.add("shop.toml", "name = 'Bench'");
    let job = job::load(source, &sources, &CATALOG)
        .unwrap_or_else(|mistakes| panic!("{}", render(&mistakes, &sources, false)));
    let shop = shop::load(shop_source, &sources, &CATALOG).unwrap();
    let library = StepLibrary::embedded(&mut sources).unwrap();
    let inputs = Inputs {
        job: &job,
        shop: &shop,
        catalog: &CATALOG,
        library: &library,
    };
    plan::make(inputs, Extras::NONE)
}
