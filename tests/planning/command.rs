//! The command line as its user meets it.

use std::fs;

use serde_json::Value;

use super::support::{Bench, root};

fn demo(name: &str) -> String {
    root()
        .join(format!("templates/jobs/{name}.toml"))
        .display()
        .to_string()
}

fn broken(name: &str) -> String {
    root()
        .join(format!("tests/jobs/broken/{name}.toml"))
        .display()
        .to_string()
}

#[test]
fn a_job_goes_from_new_to_a_pack_of_documents() {
    let bench = Bench::new("pack");
    bench.expect(0, &["new", "van.toml", "--like", "weekend-van"]);
    let (out, _) = bench.expect(0, &["plan", "van.toml", "--out", "pack"]);
    assert!(out.contains("READY TO BUILD") && out.contains("pack"));
    for file in [
        "bill-of-materials.pdf",
        "cut-list.csv",
        "plan.json",
        "pack.html",
    ] {
        assert!(bench.0.join("pack").join(file).exists(), "{file}");
    }
    let left_over = fs::read_dir(bench.0.join("pack")).unwrap();
    let temporary = left_over.filter(|entry| {
        entry
            .as_ref()
            .unwrap()
            .file_name()
            .to_string_lossy()
            .ends_with(".part")
    });
    assert_eq!(temporary.count(), 0);
}

#[test]
fn documents_that_are_there_are_not_overwritten_unasked() {
    let bench = Bench::new("replace");
    fs::create_dir(bench.0.join("pack")).unwrap();
    fs::write(bench.0.join("pack/plan.json"), "mine").unwrap();
    let job = demo("weekend-van");
    let (_, complaint) = bench.expect(1, &["plan", &job, "--out", "pack"]);
    assert!(complaint.contains("plan.json") && complaint.contains("--replace"));
    assert_eq!(
        fs::read_to_string(bench.0.join("pack/plan.json")).unwrap(),
        "mine"
    );
    assert_eq!(fs::read_dir(bench.0.join("pack")).unwrap().count(), 1);
    bench.expect(0, &["plan", &job, "--out", "pack", "--replace"]);
    assert_ne!(
        fs::read_to_string(bench.0.join("pack/plan.json")).unwrap(),
        "mine"
    );
}

#[test]
fn new_does_not_overwrite_and_knows_near_names() {
    let bench = Bench::new("new");
    fs::write(bench.0.join("mine.toml"), "mine").unwrap();
    let (_, complaint) = bench.expect(1, &["new", "mine.toml", "--like", "weekend-van"]);
    assert!(complaint.contains("is there already"));
    assert_eq!(
        fs::read_to_string(bench.0.join("mine.toml")).unwrap(),
        "mine"
    );
    let (_, complaint) = bench.expect(1, &["new", "other.toml", "--like", "weekend-vam"]);
    assert!(complaint.contains("did you mean `weekend-van`?"));
    assert!(!bench.0.join("other.toml").exists());
}

#[test]
fn a_plan_that_is_not_ready_exits_with_two_and_says_why() {
    let bench = Bench::new("broken");
    let job = broken("weekend-van-bare-charge-lead");
    let (out, _) = bench.expect(2, &["plan", &job, "--out", "pack"]);
    assert!(out.contains("NOT READY TO BUILD") && out.contains("fail protected"));
    let (out, _) = bench.expect(2, &["check", &job]);
    assert!(out.contains("fail: protected"));
    bench.expect(2, &["show", "bill", &job]);
}

#[test]
fn bad_input_exits_with_one_and_writes_nothing() {
    let bench = Bench::new("bad");
    fs::write(bench.0.join("bad.toml"), "titel = 'x'\n").unwrap();
    let (_, complaint) = bench.expect(1, &["plan", "bad.toml", "--out", "pack"]);
    assert!(complaint.contains("bad.toml:1:1") && complaint.contains("did you mean `title`?"));
    assert!(!bench.0.join("pack").exists());
    let (_, complaint) = bench.expect(1, &["plan", "nowhere.toml", "--out", "pack"]);
    assert!(complaint.contains("there is no file `nowhere.toml`"));
    fs::write(bench.0.join("bytes.toml"), [0xff, 0xfe, 0x00]).unwrap();
    let (_, complaint) = bench.expect(1, &["check", "bytes.toml"]);
    assert!(complaint.contains("not a text file"));
    bench.expect(1, &["plan", "--no-such-option"]);
}

#[test]
fn with_no_job_named_plan_says_how_to_start() {
    let bench = Bench::new("start");
    let (_, complaint) = bench.expect(1, &["plan"]);
    assert!(complaint.contains("longlead new") && complaint.contains("patrol-pickup"));
}

#[test]
fn a_deck_for_each_state_or_for_one() {
    let bench = Bench::new("deck");
    let job = demo("patrol-pickup");
    let (all, _) = bench.expect(0, &["show", "circuit", &job, "--as", "spice"]);
    let decks = all.matches("* state: ").count();
    assert!(decks >= 3);
    assert!(all.starts_with("* state: ") && !all.contains(".nodeset"));
    let first = all
        .lines()
        .next()
        .unwrap()
        .trim_start_matches("* state: ")
        .to_owned();
    let one = ["show", "circuit", &job, "--as", "spice", "--state", &first];
    let (one, _) = bench.expect(0, &one);
    let named = format!("* state: {first}");
    assert_eq!(
        one.matches("* state: ").count(),
        one.matches(&named).count()
    );
    let corner = format!("* state: {first}, worst corner 1\n");
    assert!(one.contains(&corner));
    assert!(one.contains("* terminal: start battery + = ") && one.contains("print all"));
    let wrong = [
        "show", "circuit", &job, "--as", "spice", "--state", "flying",
    ];
    let (_, complaint) = bench.expect(1, &wrong);
    assert!(complaint.contains(&first));
}

/// Each point of a lead that the faults list has its largest and its smallest short.
#[test]
fn decks_of_dead_shorts_come_after_those_of_states() {
    let bench = Bench::new("short-deck");
    let job = demo("patrol-pickup");
    let (states, _) = bench.expect(0, &["show", "circuit", &job]);
    let (all, _) = bench.expect(0, &["show", "circuit", &job, "--shorts"]);
    let shorts = all.strip_prefix(&states).unwrap();
    assert!(!states.contains("* short\n") && !states.contains("Vshort"));
    let decks: Vec<&str> = shorts.split("* state: ").skip(1).collect();
    let (listed, _) = bench.expect(0, &["show", "faults", &job, "--as", "json"]);
    let listed: Value = serde_json::from_str(&listed).unwrap();
    let leads = listed["leads"].as_array().unwrap().iter();
    let points: usize = leads
        .map(|lead| lead["points"].as_array().unwrap().len())
        .sum();
    assert_eq!(decks.len(), 2 * points);
    assert!(decks.iter().all(|deck| deck.contains("\nVshort ")));
    let (solved, _) = bench.expect(0, &["show", "circuit", &job, "--as", "json", "--shorts"]);
    let solved: Vec<Value> = serde_json::from_str(&solved).unwrap();
    for deck in decks {
        let name = deck.lines().next().unwrap();
        let short = solved.iter().find(|one| one["name"] == name).unwrap();
        assert!(short["amps"].as_f64().unwrap() > 0.0, "{name}");
    }
    bench.expect(1, &["show", "faults", &job, "--shorts"]);
    bench.expect(
        1,
        &["show", "circuit", &job, "--shorts", "--state", "cranking"],
    );
}

#[test]
fn forms_that_a_document_does_not_have_are_refused_by_name() {
    let bench = Bench::new("forms");
    let job = demo("weekend-van");
    let (_, complaint) = bench.expect(1, &["show", "install", &job, "--as", "csv"]);
    assert!(complaint.contains("its forms are"));
    let (out, _) = bench.expect(0, &["show", "bill", &job, "--as", "csv"]);
    assert!(out.starts_with("part,description,"));
    let (out, _) = bench.expect(0, &["show", "cuts", &job, "--as", "csv"]);
    assert!(out.starts_with("roll,part,"));
}

#[test]
fn the_catalog_can_be_searched_explained_and_proved() {
    let bench = Bench::new("parts");
    let (out, _) = bench.expect(0, &["parts", "search", "lug", "50", "m8"]);
    assert!(out.contains("lug-50-fine-m8"));
    let (out, _) = bench.expect(0, &["parts", "explain", "lug-50-fine-m8"]);
    assert!(out.contains("Ampersand Works"));
    let (_, complaint) = bench.expect(1, &["parts", "explain", "lug-50-fine-m88"]);
    assert!(complaint.contains("did you mean"));
    let (out, _) = bench.expect(0, &["parts", "lint"]);
    assert!(out.contains("no holes"));
}

#[test]
fn a_folder_of_the_users_own_overrides_the_catalog() {
    let bench = Bench::new("own");
    fs::create_dir(bench.0.join("mine")).unwrap();
    let part = "[[label]]\nid = 'label-mine'\ndescription = 'My label'\nsource = 'invented'\n\
                min_cable = '1 mm'\nmax_cable = '40 mm'\n";
    fs::write(bench.0.join("mine/label.toml"), part).unwrap();
    let (out, _) = bench.expect(0, &["parts", "search", "label-mine", "--catalog", "mine"]);
    assert!(out.contains("My label"));
}

#[test]
fn every_reference_is_printed() {
    let bench = Bench::new("reference");
    for (file, key) in [
        ("job", "system_voltage"),
        ("shop", "labour_rate"),
        ("catalog", "strip"),
    ] {
        let (out, _) = bench.expect(0, &["reference", file]);
        assert!(out.contains(key), "{file}");
    }
}

#[test]
fn two_runs_write_the_same_files() {
    let bench = Bench::new("twice");
    let job = demo("harbour-launch");
    bench.expect(0, &["plan", &job, "--out", "one"]);
    bench.expect(0, &["plan", &job, "--out", "two", "--paper", "a4"]);
    let mut compared = 0;
    for within in ["", "drawings"] {
        for entry in fs::read_dir(bench.0.join("one").join(within)).unwrap() {
            let name = entry.unwrap().file_name();
            let file = |folder: &str| bench.0.join(folder).join(within).join(&name);
            if file("one").is_file() {
                let read = |folder: &str| fs::read(file(folder)).unwrap();
                assert!(read("one") == read("two"), "{}", name.display());
                compared += 1;
            }
        }
    }
    assert!(compared >= 60, "{compared}");
}

#[test]
fn a_quote_has_the_number_and_the_date_that_it_is_given() {
    let bench = Bench::new("quote");
    let job = demo("weekend-van");
    let given = ["--number", "Q-{year}-017", "--date", "2026-11-25"];
    let (out, _) = bench.expect(0, &[&["show", "quote", &job], &given[..]].concat());
    assert!(out.contains("Quote Q-2026-017") && out.contains("2026-12-25"));
    let (out, _) = bench.expect(0, &["show", "quote", &job]);
    assert!(!out.contains("2026"));
    let (_, complaint) = bench.expect(1, &["show", "quote", &job, "--number", "Q-{year}"]);
    assert!(complaint.contains("add --date"));
    let (_, complaint) = bench.expect(1, &["show", "quote", &job, "--date", "2026-02-30"]);
    assert!(complaint.contains("no such day"));
    let (_, complaint) = bench.expect(1, &["show", "cuts", &job, "--date", "2026-11-25"]);
    assert!(complaint.contains("go with `show quote`"));
    let beside = ["--beside", "small inverter"];
    let (out, _) = bench.expect(0, &[&["show", "quote", &job], &beside[..]].concat());
    assert!(out.contains("as planned, USD") && out.contains("small inverter, USD"));
    let beside = ["--beside", "small invertor"];
    let (_, complaint) = bench.expect(1, &[&["show", "quote", &job], &beside[..]].concat());
    assert!(complaint.contains("did you mean `small inverter`?"));
}

#[test]
fn a_deposit_of_more_than_is_to_be_paid_is_shown_in_the_shop_file() {
    let bench = Bench::new("deposit");
    let shop = fs::read_to_string(root().join("templates/shops/workbench.toml")).unwrap();
    let shop = shop.replacen("deposit = \"40 %\"", "deposit = \"99999.00\"", 1);
    fs::write(bench.0.join("shop.toml"), shop).unwrap();
    let job = demo("patrol-pickup");
    let arguments = ["plan", &job, "--shop", "shop.toml", "--out", "pack"];
    let (_, complaint) = bench.expect(1, &arguments);
    assert!(complaint.contains("shop.toml:") && complaint.contains("deposit of 99999.00 EUR"));
    assert!(!bench.0.join("pack").exists());
}

#[test]
fn a_folder_that_cannot_be_written_is_a_failure_of_the_machine() {
    let bench = Bench::new("unwritable");
    fs::write(bench.0.join("file"), "mine").unwrap();
    let (_, complaint) = bench.expect(3, &["plan", &demo("weekend-van"), "--out", "file/pack"]);
    assert!(complaint.contains("could not be written"));
}

#[test]
fn plans_are_compared_in_every_form() {
    let bench = Bench::new("compare");
    let job = demo("weekend-van");
    let in_form = |command: &[&str], form: &str| {
        let asked = [command, &["--as", form]].concat();
        bench.expect(0, &asked).0
    };
    let compare = ["compare", &job, "--variant", "small inverter"];
    let changes = ["changes", &job, "--variant", "small inverter"];
    for command in [&compare[..], &changes[..]] {
        assert!(in_form(command, "md").contains("small inverter"));
        assert!(in_form(command, "html").contains("</html>"));
        assert!(in_form(command, "pdf").starts_with("%PDF"));
        let json = in_form(command, "json");
        assert!(serde_json::from_str::<serde_json::Value>(&json).is_ok());
        let narrow = [command, &["--width", "60"]].concat();
        let (text, _) = bench.expect(0, &narrow);
        assert!(
            text.lines().all(|line| line.chars().count() <= 60),
            "{text}"
        );
    }
    let rows = in_form(&compare, "csv");
    assert!(rows.starts_with("figure,unit,plan,ready,value,difference,mark,at"));
    assert_eq!(rows.lines().count(), 1 + 12 * 2);
    bench.expect(
        1,
        &[
            "changes",
            &job,
            "--variant",
            "small inverter",
            "--as",
            "csv",
        ],
    );
}

#[test]
fn jobs_are_compared_with_each_other() {
    let bench = Bench::new("jobs");
    let (text, _) = bench.expect(
        0,
        &["compare", &demo("harbour-launch"), &demo("weekend-van")],
    );
    // Money in two currencies is neither better nor worse.
    assert!(
        text.contains("weekend-van") && text.contains(" USD"),
        "{text}"
    );
    let (_, complaint) = bench.expect(1, &["compare", &broken("patrol-pickup-thin-main")]);
    assert!(complaint.contains("no variants"), "{complaint}");
}

#[test]
fn what_is_asked_of_plans_must_be_there() {
    let bench = Bench::new("asked");
    let job = demo("weekend-van");
    for command in ["check", "compare", "changes"] {
        let (_, complaint) = bench.expect(1, &[command, &job, "--variant", "smal inverter"]);
        assert!(
            complaint.contains("did you mean `small inverter`?"),
            "{complaint}"
        );
        let (_, complaint) = bench.expect(1, &[command, &job, "--without", "fuse-t-301"]);
        assert!(
            complaint.contains("did you mean `fuse-t-300`?"),
            "{complaint}"
        );
    }
    let (_, complaint) = bench.expect(1, &["changes", &job]);
    assert!(complaint.contains("nothing is changed"), "{complaint}");
    let both = [
        "check",
        &job,
        "--without",
        "fuse-t-300",
        "--prefer",
        "fuse-t-300",
    ];
    let (_, complaint) = bench.expect(1, &both);
    assert!(complaint.contains("to be preferred"), "{complaint}");
}

#[test]
fn the_readme_shows_what_is_printed() {
    let bench = Bench::new("readme");
    let readme = fs::read_to_string(root().join("README.md")).unwrap();
    let job = demo("patrol-pickup");
    let (out, _) = bench.expect(0, &["plan", &job, "--out", "patrol-pickup-plan"]);
    assert!(readme.contains(&out), "the README should show:\n{out}");
    let slip = "title = \"A slip of the pen\"\nsystem_voltage = \"12\"\nsetting = \"road vehicel\"\n\
                climate = { cold = \"-15 C\", hot = \"40 C\" }\n";
    fs::write(bench.0.join("my-job.toml"), slip).unwrap();
    let (_, complaint) = bench.expect(1, &["check", "my-job.toml"]);
    assert!(
        readme.contains(complaint.trim_end()),
        "the README should show:\n{complaint}"
    );
}

#[test]
fn a_cable_check_says_what_a_cable_is_and_is_friendly_about_slips() {
    let bench = Bench::new("cable");
    // 400 strands of 0.40 mm weigh 456 g a metre in copper, and 170 g clad.
    let clad = [
        "cable",
        "--strands",
        "400 x 0.40 mm",
        "--weight",
        "170 g",
        "--sold-as",
        "50 mm2",
    ];
    let (out, _) = bench.expect(0, &clad);
    assert!(
        out.contains("It is copper-clad aluminium") && out.contains("it is not what it says"),
        "{out}"
    );
    let copper = [
        "cable",
        "--strands",
        "400 x 0.40 mm",
        "--weight",
        "456 g",
        "--as",
        "json",
    ];
    let (out, _) = bench.expect(0, &copper);
    let verdict: serde_json::Value = serde_json::from_str(&out).unwrap();
    assert_eq!(verdict["guesses"][0]["metal"], "copper");
    let (_, complaint) = bench.expect(1, &["cable"]);
    assert!(complaint.contains("nothing was measured"), "{complaint}");
    let slips = [
        "cable",
        "--weight",
        "5",
        "--length",
        "1 mm2",
        "--setting",
        "small crafts",
    ];
    let (_, complaint) = bench.expect(1, &slips);
    for part in [
        "--weight \"5\" is not a mass",
        "--length",
        "did you mean `small craft`?",
    ] {
        assert!(complaint.contains(part), "{complaint}");
    }
}

#[test]
fn the_stock_after_a_job_is_written_on_request_and_serves_the_next() {
    let bench = Bench::new("stock");
    let shop = root().join("templates/shops/workbench.toml");
    let (shop, job) = (shop.display().to_string(), demo("patrol-pickup"));
    let asked = ["stock", &job, "--shop", &shop, "--out", "after.toml"];
    bench.expect(0, &asked);
    let (_, complaint) = bench.expect(1, &asked);
    assert!(complaint.contains("there already"), "{complaint}");
    let before = fs::read_to_string(&shop).unwrap();
    let after = fs::read_to_string(bench.0.join("after.toml")).unwrap();
    assert!(before != after);
    for comment in before.lines().filter(|line| line.starts_with('#')) {
        assert!(after.contains(comment), "{comment} is lost");
    }
    bench.expect(0, &["check", &demo("weekend-van"), "--shop", "after.toml"]);
}

#[test]
fn what_a_workshop_has_at_head_and_foot_is_on_its_pages() {
    let bench = Bench::new("foot");
    let shop = fs::read_to_string(root().join("templates/shops/workbench.toml")).unwrap();
    assert!(!shop.contains("footer"), "the demo shop is nobody's");
    let footed = shop.replace(
        "[letterhead]\n",
        "[letterhead]\nheader = \"Shed & <Slip>\"\nfooter = \"Loft & <Locker>\"\n",
    );
    fs::write(bench.0.join("shop.toml"), footed).unwrap();
    let job = demo("weekend-van");
    for words in [
        vec!["show", "cuts", &job],
        vec!["compare", &job],
        vec!["plan", &job, "--out", "pack"],
    ] {
        let plain = ["--shop", "shop.toml"];
        let form: &[&str] = if words[0] == "plan" {
            &[]
        } else {
            &["--as", "html"]
        };
        let (out, _) = bench.expect(0, &[&words[..], &plain, form].concat());
        let page = match words[0] {
            "plan" => fs::read_to_string(bench.0.join("pack/pack.html")).unwrap(),
            _ => out,
        };
        let foot = "<footer>Loft &amp; &lt;Locker&gt;</footer>";
        assert_eq!(page.matches(foot).count(), 1, "{words:?}");
        let head = "<p class=\"quiet\">Shed &amp; &lt;Slip&gt;</p>";
        assert_eq!(page.matches(head).count(), 1, "{words:?}");
    }
}
