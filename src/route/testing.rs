//! A small catalog with round figures, and jobs made of places and legs only.
#![allow(clippy::unwrap_used, clippy::panic)]

use super::{LeadRoute, Route, trace};
use crate::catalog::{Catalog, load};
use crate::check::{Check, CheckRule, Verdict};
use crate::diagnostic::{Sources, render};
use crate::job::{self, Job};

/// Every rule that a setting must have, with round figures.
const RULES: &[(&str, &str)] = &[
    ("support_spacing", "'450 mm'"),
    ("support_spacing_battery", "'450 mm'"),
    ("support_near_end", "'200 mm'"),
    ("support_near_bend", "'150 mm'"),
    ("protection_distance", "'178 mm'"),
    ("protection_distance_sheathed", "'1 m'"),
    ("protection_most", "'100 %'"),
    ("protection_least", "'125 %'"),
    ("starter_unprotected", "true"),
    ("manual_reset_only", "false"),
    ("lugs_per_stud", "4"),
    ("spare_studs", "1"),
    ("drop_critical", "'3 %'"),
    ("drop_ordinary", "'10 %'"),
    ("drop_intermittent", "'10 %'"),
    ("drop_charging", "'3 %'"),
    ("cranking_drop_positive", "'500 mV'"),
    ("cranking_drop_return", "'200 mV'"),
    ("cranking_least_cell", "'1.6 V'"),
    ("least_size", "'0.75 mm2'"),
    ("clad_aluminium", "false"),
    ("gap_hot_surface", "'100 mm'"),
    ("gap_moving_part", "'50 mm'"),
    ("gap_fuel_line", "'150 mm'"),
    ("gap_brake_line", "'50 mm'"),
    ("master_switch_stops", "false"),
    ("joint_resistance", "'0.05 mohm'"),
    ("tolerance_length", "'2 %'"),
    ("tolerance_conductor", "'2 %'"),
    ("tolerance_joint", "'50 %'"),
    ("tolerance_load", "'5 %'"),
    ("tolerance_charge", "'5 %'"),
    ("tolerance_battery", "'10 %'"),
    ("tolerance_regulation", "'1 %'"),
    ("tolerance_temperature", "'5 K'"),
    ("end_slack", "'50 mm'"),
    ("flex_loop", "'150 mm'"),
    ("remake_allowance", "'25 mm'"),
    ("lug_take_up", "'20 mm'"),
    ("measuring_tolerance", "'2 %'"),
    ("cutting_step", "'10 mm'"),
    ("cutting_step_imperial", "'0.5 in'"),
    ("link_length", "'150 mm'"),
    ("terminal_headroom", "'20 mm'"),
    ("crank_time", "'30 s'"),
    ("crank_tries", "3"),
    ("crank_rest", "'1 min'"),
    ("locked_time", "'200 ms'"),
    ("fault_limit", "'160 C'"),
    ("aged_resistance", "'150 %'"),
    ("fault_contact", "'1 mohm'"),
    ("self_limiting", "'120 %'"),
    ("selectivity", "false"),
    ("device_step_up", "'160 %'"),
    ("precharge_time", "'10 s'"),
    ("precharge_current", "'5 A'"),
    ("model_doubt", "'10 K'"),
];

/// What counts on the way.
const ROUTING: &[(&str, u32)] = &[
    ("hot surface", 200),
    ("moving part", 150),
    ("fuel line", 150),
    ("brake line", 75),
    ("road debris", 75),
    ("chafe", 50),
    ("heat", 200),
    ("open", 100),
    ("easy", 100),
    ("awkward", 150),
    ("hard", 250),
];

/// Two families: `plain` stands 105 C and `hot` 150 C. `auto` takes `plain` only.
pub fn catalog() -> Catalog {
    let mut text = String::new();
    for (word, percent) in ROUTING {
        text += &format!(
            "[[routing]]\nword = '{word}'\nfactor = '{percent} %'\n\
             citation = 'test'\nbasis = 'common practice'\n"
        );
    }
    for (family, rating) in [("plain", 105), ("hot", 150)] {
        text += &format!(
            "[[cable]]\nid = '{family}'\ndescription = 'cable'\nsource = 'invented'\n\
             family = '{family}'\nsize = '25 mm2'\nconductor_class = 5\nmaterial = 'copper'\n\
             insulation = 'PVC'\nmax_resistance = '0.78 ohm/km'\nouter_diameter = '10 mm'\nrating = '{rating} C'\n\
             min_bend_radius = '50 mm'\nmass_per_length = '0.3 kg/m'\ncolours = ['red']\n"
        );
    }
    text += "[[ampacity_table]]\nname = 'none'\ncitation = 'invented'\nbasis = 'common practice'\n\
             ambient = '30 C'\nratings = ['105 C']\nrow = [{ size = '25 mm2', currents = ['150 A'] }]\n\
             engine_ambient = '50 C'\nengine_factors = ['85 %']\n";
    text += "[[setting]]\nsetting = 'road vehicle'\nampacity_table = 'none'\n\
             auto_families = ['plain']\n";
    for (rule, value) in RULES {
        text +=
            &format!("{rule} = {{ value = {value}, citation = 'test', basis = 'published' }}\n");
    }
    let mut sources = Sources::default();
    let layer = vec![sources.add("catalog.toml", text)];
    load(&[layer], &sources).unwrap_or_else(|found| panic!("{}", render(&found, &sources, false)))
}

/// A job with the spaces `cabin` (30 C) and `engine bay` (90 C), a place in the cabin for each of
/// `places` with a chassis point of the same name, and whatever `rest` adds.
pub fn job(places: &[&str], rest: &str) -> Job {
    let mut text = String::from(
        "title = 'test'\nsystem_voltage = '12 V'\nsetting = 'road vehicle'\n\
         climate = { cold = '-15 C', hot = '40 C' }\n\
         [[space]]\nname = 'cabin'\ntemperature = '30 C'\n\
         [[space]]\nname = 'engine bay'\ntemperature = '90 C'\nengine_space = true\n\
         [[space]]\nname = 'furnace'\ntemperature = '105 C'\n\
         [[panel]]\nname = 'floor'\nthickness = '1 mm'\nmaterial = 'steel'\n\
         [[panel]]\nname = 'shelf'\nthickness = '1 mm'\nmaterial = 'plywood'\n\
         passage = 'grommet'\n",
    );
    for place in places {
        text += &format!(
            "[[place]]\nname = \"{place}\"\nspace = 'cabin'\n\
             [[chassis]]\nname = \"{place}\"\nplace = \"{place}\"\nstud = 'M8'\n"
        );
    }
    text += rest;
    let mut sources = Sources::default();
    let id = sources.add("job.toml", text);
    job::load(id, &sources, &catalog())
        .unwrap_or_else(|found| panic!("{}", render(&found, &sources, false)))
}

/// A leg in the cabin.
pub fn leg(from: &str, to: &str, metres: f64) -> String {
    leg_with(from, to, metres, "")
}

/// A leg with further keys, in the cabin unless they name a space.
pub fn leg_with(from: &str, to: &str, metres: f64, keys: &str) -> String {
    let space = if keys.contains("space =") {
        ""
    } else {
        "space = 'cabin'\n"
    };
    format!("[[leg]]\nfrom = \"{from}\"\nto = \"{to}\"\nlength = '{metres} m'\n{space}{keys}\n")
}

/// A lead called `lead`, with further keys.
pub fn lead(from: &str, to: &str, keys: &str) -> String {
    format!("[[lead]]\nname = 'lead'\nfrom = \"{from}\"\nto = \"{to}\"\n{keys}\n")
}

/// The outcome for such a job.
pub fn traced(places: &[&str], rest: &[String]) -> (Job, Route) {
    let job = job(places, &rest.concat());
    let route = trace(&job, &catalog());
    (job, route)
}

/// The names of the places that a lead passes.
pub fn places_of(job: &Job, lead: &LeadRoute) -> Vec<String> {
    let places = lead.way.places.iter();
    places.map(|place| job.place(*place).name.clone()).collect()
}

/// The checks of a rule with a verdict.
pub fn checks(route: &Route, rule: CheckRule, verdict: Verdict) -> Vec<&Check> {
    let checks = route.checks.iter();
    checks
        .filter(|check| check.rule == rule && check.verdict == verdict)
        .collect()
}
