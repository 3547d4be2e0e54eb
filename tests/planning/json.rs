//! The names that programs rely on.

use serde_json::Value;

use super::support::{Planned, root};

fn plan() -> Value {
    let path = root().join("templates/jobs/patrol-pickup.toml");
    serde_json::to_value(Planned::of_file(&path).view()).unwrap()
}

fn assert_keys(value: &Value, keys: &[&str]) {
    for key in keys {
        assert!(value.get(key).is_some(), "no `{key}` in {value:.200}");
    }
}

#[test]
fn the_plan_has_the_names_that_others_rely_on() {
    let plan = plan();
    assert_eq!(plan["status"], "READY TO BUILD");
    let leads = [
        "name",
        "from",
        "to",
        "path",
        "routed_length_m",
        "cut_length_m",
        "cable",
        "area_mm2",
        "ends",
    ];
    assert_keys(&plan["leads"][0], &leads);
    let ends = ["terminal", "lug", "die", "sleeve", "boot", "strip_mm"];
    assert_keys(&plan["leads"][0]["ends"][0], &ends);
    assert_keys(&plan["states"][0], &["name", "terminals", "leads"]);
    assert_keys(&plan["states"][0]["terminals"][0], &["name", "volts"]);
    assert_keys(
        &plan["states"][0]["leads"][0],
        &["name", "amps", "drop_v", "watts"],
    );
    let checks = [
        "rule", "subject", "verdict", "value", "limit", "unit", "source",
    ];
    assert_keys(&plan["checks"][0], &checks);
    let bill = [
        "currency",
        "lines",
        "goods_total",
        "delivery",
        "tax",
        "total",
    ];
    assert_keys(&plan["bill"], &bill);
    let lines = [
        "part",
        "description",
        "quantity",
        "unit",
        "supplier",
        "packs",
        "unit_price",
        "line_total",
    ];
    assert_keys(&plan["bill"]["lines"][0], &lines);
    let steps = [
        "number", "title", "needs", "minutes", "tools", "parts", "cautions",
    ];
    assert_keys(&plan["steps"][0], &steps);
}

#[test]
fn money_is_text_and_verdicts_are_words() {
    let plan = plan();
    for key in ["goods_total", "delivery", "tax", "total"] {
        assert!(plan["bill"][key].is_string(), "{key}");
    }
    for line in plan["bill"]["lines"].as_array().unwrap() {
        assert!(line["unit_price"].is_string() && line["line_total"].is_string());
    }
    for check in plan["checks"].as_array().unwrap() {
        let verdict = check["verdict"].as_str().unwrap();
        assert!(["pass", "fail", "open"].contains(&verdict));
    }
}
