//! Jobs of any size: one battery, a tree of buses, each with loads out and back.

use std::fmt::Write as _;

/// Leads of each bus: its own two feeders, and two for each of its loads.
pub const LEADS_OF_A_BUS: usize = 2 + 2 * LOADS_OF_A_BUS;
const LOADS_OF_A_BUS: usize = 4;
/// Buses that a bus feeds.
const BRANCHING: usize = 3;
/// All loads together draw no more than this, so that cables of the catalog carry it.
const MOST_A: f64 = 160.0;
const MOST_OF_A_LOAD_A: f64 = 12.0;

/// The text of a job with so many buses.
pub fn job(buses: usize) -> String {
    let mut text = HEAD.to_owned();
    let amps = (MOST_A / (buses * LOADS_OF_A_BUS) as f64).min(MOST_OF_A_LOAD_A);
    for bus in 0..buses {
        add_bus(&mut text, bus);
        for load in 0..LOADS_OF_A_BUS {
            // Loads differ, so that no two leads ask for quite the same.
            let part = 0.6 + 0.4 * ((bus * 7 + load * 3) % 10) as f64 / 9.0;
            add_load(&mut text, bus, load, amps * part);
        }
    }
    add_state(&mut text, "all on", "cold", buses, |_| true);
    add_state(&mut text, "first half", "hot", buses, |load| load < 2);
    add_state(&mut text, "second half", "cold", buses, |load| load >= 2);
    text
}

const HEAD: &str = r#"title = "A tree of buses"
system_voltage = "24 V"
setting = "road vehicle"
climate = { cold = "-10 C", hot = "35 C" }

[[space]]
name = "body"
temperature = "40 C"

[[place]]
name = "tray"
space = "body"

[[battery]]
name = "battery"
place = "tray"
chemistry = "absorbed glass mat"
voltage = "24 V"
capacity = "200 Ah"
internal_resistance = "4 mohm"
"#;

fn add_bus(text: &mut String, bus: usize) {
    let parent = (bus > 0).then(|| (bus - 1) / BRANCHING);
    let from = parent.map_or("tray".to_owned(), |parent| format!("place {parent}"));
    add_place(
        text,
        &format!("place {bus}"),
        &from,
        0.4 + 0.1 * (bus % 7) as f64,
    );
    for (sign, polarity) in [("plus", "positive"), ("minus", "negative")] {
        let _ = write!(
            text,
            "\n[[bus]]\nname = \"{sign} {bus}\"\nplace = \"place {bus}\"\npolarity = \"{polarity}\"\n"
        );
    }
    let plus = parent.map_or("battery +".to_owned(), |parent| format!("plus {parent}"));
    let minus = parent.map_or("battery -".to_owned(), |parent| format!("minus {parent}"));
    add_lead(text, &plus, &format!("plus {bus}"));
    add_lead(text, &format!("minus {bus}"), &minus);
}

fn add_load(text: &mut String, bus: usize, load: usize, amps: f64) {
    let name = format!("load {bus}.{load}");
    let place = format!("spot {bus}.{load}");
    add_place(
        text,
        &place,
        &format!("place {bus}"),
        0.5 + 0.2 * load as f64,
    );
    let demand = if load == 0 {
        format!(
            "kind = \"constant power\"\npower = \"{:.1} W\"",
            amps * 24.0
        )
    } else {
        format!("kind = \"constant current\"\ncurrent = \"{amps:.2} A\"")
    };
    let _ = write!(
        text,
        "\n[[load]]\nname = \"{name}\"\nplace = \"{place}\"\n{demand}\nstud = \"M6\"\n"
    );
    add_lead(text, &format!("plus {bus}"), &format!("{name} +"));
    add_lead(text, &format!("{name} -"), &format!("minus {bus}"));
}

fn add_place(text: &mut String, place: &str, from: &str, metres: f64) {
    let _ = write!(
        text,
        "\n[[place]]\nname = \"{place}\"\nspace = \"body\"\n\n[[leg]]\nfrom = \"{from}\"\n\
         to = \"{place}\"\nlength = \"{metres:.1} m\"\nspace = \"body\"\n"
    );
}

fn add_lead(text: &mut String, from: &str, to: &str) {
    let _ = write!(
        text,
        "\n[[lead]]\nname = \"{from} to {to}\"\nfrom = \"{from}\"\nto = \"{to}\"\n"
    );
}

fn add_state(
    text: &mut String,
    name: &str,
    season: &str,
    buses: usize,
    is_on: impl Fn(usize) -> bool,
) {
    let loads = (0..buses).flat_map(|bus| (0..LOADS_OF_A_BUS).map(move |load| (bus, load)));
    let on = loads.filter(|(_, load)| is_on(*load));
    let on: Vec<String> = on
        .map(|(bus, load)| format!("\"load {bus}.{load}\""))
        .collect();
    let _ = write!(
        text,
        "\n[[state]]\nname = \"{name}\"\nengine = \"off\"\nseason = \"{season}\"\nloads = [{}]\n",
        on.join(", ")
    );
}
