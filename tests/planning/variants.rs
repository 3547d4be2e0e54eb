//! A variant is the job with something changed: the same plan as the job written out by hand.

use longlead::compare::{Column, Comparison, Mark};
use longlead::documents::view::PlanView;
use longlead::job::Job;

use super::support::{Planned, WORKSHOP, root};

/// A lamp and a pump on one battery.
const JOB: &str = r#"
title = "A lamp and a pump"
system_voltage = "12 V"
setting = "road vehicle"

[climate]
cold = "-10 C"
hot = "40 C"

[[space]]
name = "bay"
temperature = "40 C"

[[place]]
name = "tray"
space = "bay"

[[place]]
name = "wing"
space = "bay"

[[place]]
name = "tail"
space = "bay"

[[leg]]
from = "tray"
to = "wing"
length = "1.35 m"
space = "bay"

[[leg]]
from = "wing"
to = "tail"
length = "2.2 m"
space = "bay"

[[battery]]
name = "battery"
place = "tray"
chemistry = "flooded"
voltage = "12 V"
capacity = "60 Ah"
cold_crank = "540 A"

[[load]]
name = "lamp"
place = "wing"
kind = "constant current"
current = "5 A"
stud = "M5"

[[load]]
name = "pump"
place = "tail"
kind = "constant current"
current = "12 A"
inrush = "30 A"
inrush_time = "300 ms"
stud = "M5"

[[lead]]
name = "lamp feed"
from = "battery +"
to = "lamp +"

[[lead]]
name = "lamp return"
from = "lamp -"
to = "battery -"

[[lead]]
name = "pump feed"
from = "battery +"
to = "pump +"

[[lead]]
name = "pump return"
from = "pump -"
to = "battery -"
"#;

/// The plan of the one variant in a text, as programs see it.
fn of_variant(text: &str) -> String {
    let base = Planned::of_text(text);
    let variant = base.job.variants.first().unwrap();
    shown(&Planned::of_job(variant.job.clone()))
}

/// A plan without the name of its variant.
fn shown(planned: &Planned) -> String {
    let job = Job {
        variant: None,
        ..planned.job.clone()
    };
    let view = PlanView::of(&planned.plan, &job, &WORKSHOP.catalog);
    serde_json::to_string_pretty(&view).unwrap()
}

/// That a variant, given as its keys, plans as the job does in which `by_hand` puts texts in the
/// place of others.
fn same(changes: &str, by_hand: &[(&str, &str)]) {
    let variant = format!("{JOB}\n[[variant]]\nname = \"other\"\n{changes}");
    let mut written = JOB.to_owned();
    for (old, new) in by_hand {
        assert_eq!(written.matches(old).count(), 1, "{old}");
        written = written.replace(old, new);
    }
    let (variant, written) = (of_variant(&variant), shown(&Planned::of_text(&written)));
    assert!(variant == written, "{changes}");
    let untouched = shown(&Planned::of_text(JOB));
    assert_eq!(variant == untouched, by_hand.is_empty(), "{changes}");
}

#[test]
fn a_variant_without_changes_gives_the_same_plan() {
    same("note = \"Nothing differs.\"", &[]);
}

#[test]
fn a_key_of_a_lead_changes() {
    same(
        "[[variant.lead]]\nname = \"lamp feed\"\nsize = \"6 mm2\"",
        &[("to = \"lamp +\"", "to = \"lamp +\"\nsize = \"6 mm2\"")],
    );
}

#[test]
fn figures_of_a_load_and_a_leg_change() {
    same(
        "[[variant.load]]\nname = \"pump\"\ncurrent = \"20 A\"\n\
         [[variant.leg]]\nfrom = \"wing\"\nto = \"tail\"\nlength = \"3 m\"",
        &[("\"12 A\"", "\"20 A\""), ("\"2.2 m\"", "\"3 m\"")],
    );
}

#[test]
fn keys_at_the_top_change() {
    same(
        "system_voltage = \"24 V\"\nsetting = \"small craft\"\n\
         [[variant.battery]]\nname = \"battery\"\nvoltage = \"24 V\"",
        &[
            ("system_voltage = \"12 V\"", "system_voltage = \"24 V\""),
            ("\"road vehicle\"", "\"small craft\""),
            ("\nvoltage = \"12 V\"", "\nvoltage = \"24 V\""),
        ],
    );
}

#[test]
fn single_tables_change_and_come_anew() {
    same(
        "[variant.climate]\ncold = \"-25 C\"\n[variant.rules]\nend_slack = \"80 mm\"",
        &[(
            "cold = \"-10 C\"\nhot = \"40 C\"",
            "cold = \"-25 C\"\nhot = \"40 C\"\n[rules]\nend_slack = \"80 mm\"",
        )],
    );
}

#[test]
fn things_are_taken_away() {
    let pump = JOB.find("[[load]]\nname = \"pump\"").unwrap();
    let end = JOB[pump..].find("[[lead]]").unwrap();
    let load = &JOB[pump..pump + end];
    let leads = &JOB[JOB.find("[[lead]]\nname = \"pump feed\"").unwrap()..];
    same(
        "[[variant.load]]\nname = \"pump\"\nremove = true\n\
         [[variant.lead]]\nname = \"pump feed\"\nremove = true\n\
         [[variant.lead]]\nname = \"pump return\"\nremove = true",
        &[(load, ""), (leads, "")],
    );
}

#[test]
fn things_are_added() {
    let load = "[[load]]\nname = \"horn\"\nplace = \"wing\"\nkind = \"constant current\"\n\
                current = \"8 A\"\nstud = \"M5\"\n";
    let leads = "[[lead]]\nname = \"horn feed\"\nfrom = \"battery +\"\nto = \"horn +\"\n\
                 [[lead]]\nname = \"horn return\"\nfrom = \"horn -\"\nto = \"battery -\"\n";
    let added = format!("{load}{leads}").replace("[[", "[[variant.");
    same(
        &added,
        &[
            (
                "[[lead]]\nname = \"lamp feed\"",
                &format!("{load}[[lead]]\nname = \"lamp feed\""),
            ),
            (
                "to = \"battery -\"\n\n[[lead]]\nname = \"pump feed\"",
                "to = \"battery -\"\n\n[[lead]]\nname = \"pump feed\"",
            ),
            (
                "from = \"pump -\"\nto = \"battery -\"\n",
                &format!("from = \"pump -\"\nto = \"battery -\"\n{leads}"),
            ),
        ],
    );
}

#[test]
fn another_way_and_another_place() {
    let places = "[[place]]\nname = \"sill\"\nspace = \"bay\"\n";
    let legs = "[[leg]]\nfrom = \"tray\"\nto = \"sill\"\nlength = \"1 m\"\nspace = \"bay\"\n\
                [[leg]]\nfrom = \"sill\"\nto = \"tail\"\nlength = \"3 m\"\nspace = \"bay\"\n";
    let added = format!("{places}{legs}").replace("[[", "[[variant.");
    same(
        &format!("{added}[[variant.lead]]\nname = \"pump feed\"\nvia = [\"sill\"]"),
        &[
            (
                "[[leg]]\nfrom = \"tray\"",
                &format!("{places}[[leg]]\nfrom = \"tray\""),
            ),
            ("[[battery]]", &format!("{legs}[[battery]]")),
            ("to = \"pump +\"", "to = \"pump +\"\nvia = [\"sill\"]"),
        ],
    );
}

#[test]
fn keys_go_back_to_what_they_are_when_absent() {
    same(
        "[[variant.load]]\nname = \"pump\"\nunset = [\"inrush\", \"inrush_time\"]",
        &[("inrush = \"30 A\"\ninrush_time = \"300 ms\"\n", "")],
    );
}

#[test]
fn states_are_given() {
    let state =
        "[[state]]\nname = \"pumping\"\nengine = \"off\"\nseason = \"cold\"\nloads = [\"pump\"]\n";
    same(
        &state.replace("[[", "[[variant."),
        &[(
            "[[lead]]\nname = \"lamp feed\"",
            &format!("{state}[[lead]]\nname = \"lamp feed\""),
        )],
    );
}

#[test]
fn protection_changes() {
    same(
        "[[variant.lead]]\nname = \"pump feed\"\nprotect = \"30 A\"\nsize = \"10 mm2\"",
        &[(
            "to = \"pump +\"",
            "to = \"pump +\"\nprotect = \"30 A\"\nsize = \"10 mm2\"",
        )],
    );
}

#[test]
fn the_order_of_keys_and_tables_does_not_matter() {
    let lead = "[[variant.lead]]\nname = \"lamp feed\"\nsize = \"6 mm2\"\ncolour = \"red\"\n";
    let turned = "[[variant.lead]]\ncolour = \"red\"\nsize = \"6 mm2\"\nname = \"lamp feed\"\n";
    let load = "[[variant.load]]\nname = \"pump\"\ncurrent = \"20 A\"\n";
    let variant = |rest: String| of_variant(&format!("{JOB}\n[[variant]]\nname = \"v\"\n{rest}"));
    assert_eq!(
        variant(format!("{lead}{load}")),
        variant(format!("{load}{turned}"))
    );
}

fn compared(text: &str) -> Comparison {
    let base = Planned::of_text(text);
    let column = |name: &str, planned: &Planned| {
        Column::of(name, None, &planned.job, &planned.plan, &WORKSHOP.catalog)
    };
    let mut columns = vec![column("as written", &base)];
    for variant in &base.job.variants {
        columns.push(column(&variant.name, &Planned::of_job(variant.job.clone())));
    }
    Comparison::of(&base.job.title, columns)
}

#[test]
fn what_does_not_differ_is_neither_better_nor_worse() {
    let same = compared(&format!("{JOB}\n[[variant]]\nname = \"same\""));
    let second = same.rows.iter().map(|row| row.cells[1].mark);
    assert!(second.into_iter().all(|mark| mark == Mark::Same));
    assert!(same.first.contains("as written"), "{}", same.first);
    assert!(same.others[0].contains("buys nothing that these figures show"));
}

#[test]
fn better_and_worse_are_marked_and_the_cheapest_is_named() {
    let text = format!(
        "{JOB}\n[[variant]]\nname = \"thick\"\n\
         [[variant.lead]]\nname = \"pump feed\"\nsize = \"16 mm2\"\n\
         [[variant]]\nname = \"bare\"\n\
         [[variant.lead]]\nname = \"pump feed\"\nprotect = \"none\"\n"
    );
    let found = compared(&text);
    let mark = |figure: &str, plan: usize| {
        let row = found
            .rows
            .iter()
            .find(|row| row.figure.to_string() == figure);
        row.unwrap().cells[plan].mark
    };
    assert_eq!(mark("price", 1), Mark::Worse);
    assert_eq!(mark("mass of cable", 1), Mark::Worse);
    assert_eq!(mark("not protected", 1), Mark::Same);
    // Cheaper, but not to be built: the cheapest is told among those that are ready.
    assert_eq!(mark("price", 2), Mark::Better);
    assert_eq!(mark("checks that fail", 2), Mark::Worse);
    assert!(
        found.first.contains("READY TO BUILD: “as written”"),
        "{}",
        found.first
    );
    assert!(
        found.others[1].contains("“bare” is NOT READY TO BUILD"),
        "{}",
        found.others[1]
    );
}

#[test]
fn the_variants_of_the_demo_jobs_are_ready() {
    for name in ["patrol-pickup", "harbour-launch", "weekend-van"] {
        let base = Planned::of_file(&root().join(format!("templates/jobs/{name}.toml")));
        assert_eq!(base.job.variants.len(), 2, "{name}");
        for variant in &base.job.variants {
            let planned = Planned::of_job(variant.job.clone());
            let view = planned.view();
            assert!(view.ready, "{name}: {}", variant.name);
            assert!(view.title.contains(&variant.name));
        }
    }
}
