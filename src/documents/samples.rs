//! Documents as long and as awkward as real ones, for the tests of the writers.
#![allow(clippy::unwrap_used)]

use super::block::Document;
use super::markdown;
use super::template::Templates;
use serde_json::{Value, json};

/// Every sample with its name.
pub(super) fn all() -> Vec<(&'static str, Document)> {
    [
        ("bill_of_materials", BILL_OF_MATERIALS, bill_of_materials()),
        ("install_plan", INSTALL_PLAN, install_plan()),
        ("cut_list", CUT_LIST, cut_list()),
    ]
    .into_iter()
    .map(|(name, template, view)| {
        (
            name,
            markdown::parse(&title(name), &filled(template, &view)),
        )
    })
    .collect()
}

/// The Markdown of a template filled in.
pub(super) fn filled(template: &str, view: &Value) -> String {
    let mut templates = Templates::none();
    templates.add("sample", template).unwrap();
    templates.render("sample", view).unwrap()
}

fn title(name: &str) -> String {
    let spaced = name.replace('_', " ");
    spaced[..1].to_uppercase() + &spaced[1..]
}

const BILL_OF_MATERIALS: &str = "\
# Bill of materials

Everything the job needs, with **{{ spare | fixed(0) }} %** spare cable. Prices are in € and carry no tax.

| Item | Part no. | Description | Size | Qty | Unit | Price | Total |
|-----:|----------|-------------|------|----:|------|------:|------:|
{% for part in parts %}
| {{ loop.index }} | {{ part.number }} | {{ part.description }} | {{ part.size }} | {{ part.quantity }} | {{ part.unit }} | {{ part.price | fixed(2) }} | {{ part.total | fixed(2) }} |
{% endfor %}

**Total: {{ total | fixed(2) }} €**
";

const INSTALL_PLAN: &str = "\
# Install plan

For {{ vehicle }}. Work from the top to the bottom; tick each step as it is done.

> **Caution.** A {{ volts }} V battery can deliver more than {{ amperes }} A into a short circuit. Take off rings and watches, and cover the terminals with the caps supplied.

## Before starting

{% for check in checks %}
- [ ] {{ check }}
{% endfor %}
- [x] Drawings printed

{% for stage in stages %}
## Stage {{ loop.index }}: {{ stage.name }}

{% for step in stage.steps %}
{{ loop.index }}. {{ step.text }}
{% if step.caution %}

   > {{ step.caution }}

{% endif %}
{% if step.ticks %}

{% for tick in step.ticks %}
   - [ ] {{ tick }}
{% endfor %}

{% endif %}
{% endfor %}

{% endfor %}
***

## Sign-off

| Check | Limit | Measured | Passed |
|-------|------:|---------:|:------:|
{% for row in measured %}
| {{ row.check }} | {{ row.limit }} |  | ☐ |
{% endfor %}

---

*Name, date and signature:*
";

const CUT_LIST: &str = "\
# Cut list

Lengths are in mm and include the allowance for both lugs.

{% for reel in reels %}
## {{ reel.cable }}

| Cable | From | To | Length | Marker |
|-------|------|----|-------:|--------|
{% for cut in reel.cuts %}
| `{{ cut.name }}` | {{ cut.from }} | {{ cut.to }} | {{ cut.length | millimetres }} | {{ cut.marker }} |
{% endfor %}

Cut from this reel: **{{ reel.length | fixed(2) }} m**

{% endfor %}
";

fn bill_of_materials() -> Value {
    let described = [
        (
            "TL-50-8-CU",
            "Copper tube lug, tinned, inspection hole",
            "50 mm² – M8",
            "pc",
            1.85,
        ),
        (
            "FH-STRIP-M8",
            "Fuse holder for bolt-down fuse with insulating cover, IP66, stackable",
            "M8",
            "pc",
            14.9,
        ),
        (
            "F-250-58V",
            "Bolt-down fuse, interrupting rating ≥ 2000 A",
            "250 A",
            "pc",
            7.4,
        ),
        (
            "CBL-50-RD",
            "Fine-strand copper cable, class 6, red, −40 °C…+105 °C",
            "50 mm²",
            "m",
            9.6,
        ),
        (
            "CBL-50-BK",
            "Fine-strand copper cable, class 6, black",
            "50 mm²",
            "m",
            9.6,
        ),
        (
            "HS-19/6",
            "Heat-shrink tube, adhesive-lined, red",
            "19.1 mm → 6 mm",
            "m",
            5.25,
        ),
        (
            "SHUNT-500A-50mV-CLASS-0.5",
            "Current shunt, 500 A / 50 mV (100 µΩ ± 0.5 %)",
            "M10",
            "pc",
            32.0,
        ),
        (
            "GR-16",
            "Grommet | rubber, *oil-resistant* <EPDM> & closed",
            "Ø 16 mm",
            "pc",
            0.4,
        ),
    ];
    let part = |index: usize| {
        let (number, description, size, unit, price) = described[index % described.len()];
        let quantity = 1 + index * 7 % 23;
        json!({
            "number": number, "description": description, "size": size, "unit": unit,
            "price": price, "quantity": quantity, "total": price * quantity as f64,
        })
    };
    let parts: Vec<Value> = (0..40).map(part).collect();
    json!({ "spare": 10.0, "parts": parts, "total": 3184.65 })
}

fn install_plan() -> Value {
    let step = |text: &str, caution: Option<&str>, ticks: &[&str]| json!({ "text": text, "caution": caution, "ticks": ticks });
    let steps = vec![
        step(
            "Mark the run along the left chassis rail and drill the clip holes (Ø 6.5 mm) every 300 mm.",
            None,
            &[],
        ),
        step(
            "Deburr each hole, paint the bare edges and fit the grommets.",
            Some("Never pull a cable through a hole whose edge is still bare."),
            &["Grommet G1 seated", "Grommet G2 seated"],
        ),
        step(
            "Pull cable C01 from the battery box to the main fuse. Keep the bend radius ≥ 6 × the cable's diameter.",
            None,
            &[],
        ),
        step(
            "Torque the M8 studs to 12 N·m ± 10 % and mark each with paint.",
            None,
            &["Stud F1+", "Stud F1−", "Stud B+"],
        ),
        step(
            "Measure the voltage drop at 200 A: Δ U ≤ 0.25 V, √2 × the RMS value where the current ripples.",
            None,
            &[],
        ),
    ];
    let stage = |name: &str| json!({ "name": name, "steps": steps });
    let measured = |check: &str, limit: &str| json!({ "check": check, "limit": limit });
    json!({
        "vehicle": "Delivery van 12 [long wheelbase]",
        "volts": 48, "amperes": 2000,
        "checks": ["Battery isolated and the key taken out", "Gloves and goggles at hand", "Torque wrench calibrated within 12 months"],
        "stages": [stage("Battery to main fuse"), stage("Main fuse to inverter"), stage("Ground strap")],
        "measured": [
            measured("Resistance, battery − to chassis", "≤ 500 µΩ"),
            measured("Insulation, + to chassis", "≥ 1 MΩ"),
            measured("Drop at full load", "≤ 0.25 V"),
        ],
    })
}

fn cut_list() -> Value {
    let cut = |index: usize| {
        json!({
            "name": format!("C{index:02}"), "from": "Battery +", "to": "Main fuse F1, stud A",
            "length": 0.815 + index as f64 * 0.24, "marker": format!("{index} red / {index} red"),
        })
    };
    let reel = |cable: &str, count: usize| {
        let cuts: Vec<Value> = (1..=count).map(cut).collect();
        json!({ "cable": cable, "length": 12.42, "cuts": cuts })
    };
    json!({ "reels": [reel("50 mm² red", 9), reel("50 mm² black", 7), reel("16 mm² red", 14)] })
}

mod looks {
    //! Writes the samples to files, for a look at them by eye:
    //! `SAMPLES=some/folder cargo test samples`.

    use super::all;
    use crate::documents::pdf::PaperSize;
    use crate::documents::{Label, html, pdf, terminal};

    #[test]
    fn samples_are_written_where_asked() {
        let Some(folder) = std::env::var_os("SAMPLES") else {
            return;
        };
        let folder = std::path::PathBuf::from(folder);
        for (name, document) in all() {
            let label = Label::new(
                "Delivery van 12, 48 V auxiliary supply",
                "DRAFT – not checked",
            );
            let page = html::write(&document, &label);
            std::fs::write(folder.join(format!("{name}.html")), page).unwrap();
            let print = pdf::write(&document, &label, PaperSize::A4).unwrap();
            std::fs::write(folder.join(format!("{name}.pdf")), print).unwrap();
            for width in [60, 80, 120] {
                let text = terminal::write(&document, width, false);
                std::fs::write(folder.join(format!("{name}.{width}.txt")), text).unwrap();
            }
        }
    }
}
