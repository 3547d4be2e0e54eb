//! A workshop's own folder of templates.

use std::collections::BTreeSet;
use std::fs;

use super::support::{Bench, Planned, root};

/// A bench with a shop file that names a folder, and files in that folder.
fn bench(name: &str, files: &[(&str, &str)]) -> (Bench, String) {
    let bench = Bench::new(name);
    fs::create_dir_all(bench.0.join("shop/mine/steps")).unwrap();
    let shop = fs::read_to_string(root().join("templates/shops/workbench.toml")).unwrap();
    let shop = shop.replacen("currency =", "templates = \"mine\"\ncurrency =", 1);
    fs::write(bench.0.join("shop/shop.toml"), shop).unwrap();
    for (file, text) in files {
        fs::write(bench.0.join("shop/mine").join(file), text).unwrap();
    }
    let job = root().join("templates/jobs/weekend-van.toml");
    (bench, job.display().to_string())
}

const SHOP: [&str; 2] = ["--shop", "shop/shop.toml"];

fn complaint(files: &[(&str, &str)], name: &str) -> String {
    let (bench, job) = bench(name, files);
    let (_, complaint) = bench.expect(1, &["plan", &job, SHOP[0], SHOP[1], "--out", "pack"]);
    assert!(!bench.0.join("pack").exists(), "{name}");
    complaint
}

#[test]
fn a_template_of_the_shop_takes_the_place_of_the_embedded_one() {
    let files = [
        (
            "labels.md",
            "# Labels\n\nOurs: {{ labels | length }} for {{ title }}\n{% include \"ours\" %}\n",
        ),
        ("ours.md", "\nWritten on the bench.\n"),
    ];
    let (bench, job) = bench("own-template", &files);
    let (text, _) = bench.expect(0, &["show", "labels", &job, SHOP[0], SHOP[1]]);
    assert!(
        text.contains("Ours: ") && text.contains("Written on the bench."),
        "{text}"
    );
    let (text, _) = bench.expect(0, &["show", "labels", &job, "--templates", "shop/mine"]);
    assert!(text.contains("Ours: "), "{text}");
    let (text, _) = bench.expect(0, &["show", "labels", &job]);
    assert!(!text.contains("Ours: "), "{text}");
}

#[test]
fn every_broken_template_is_shown_with_its_place_and_the_nearest_word() {
    let files = [
        ("labels.md", "# Labels\n\n{{ titel }}\n"),
        (
            "cut_list.md",
            "# Cut list\n\n{% for lead in leads %}\n- {{ lead.nmae }}\n{% endfor %}\n",
        ),
    ];
    let told = complaint(&files, "broken-names");
    for part in [
        "labels.md:3:4",
        "`titel` means nothing here",
        "did you mean `title`?",
        "cut_list.md:4:",
        "did you mean `name`?",
        "2 mistakes found",
    ] {
        assert!(told.contains(part), "{part}\n{told}");
    }
}

#[test]
fn a_template_that_is_no_template_is_shown_with_its_place() {
    let told = complaint(
        &[("labels.md", "# Labels\n\n{% for x in labels %}\n")],
        "broken-syntax",
    );
    assert!(
        told.contains("labels.md:") && told.contains("cannot be used"),
        "{told}"
    );
}

#[test]
fn a_template_that_no_document_uses_is_a_slip() {
    let told = complaint(&[("cutlist.md", "x\n")], "misnamed");
    assert!(
        told.contains("cutlist.md:1:1") && told.contains("did you mean `cut_list`?"),
        "{told}"
    );
}

#[test]
fn a_step_of_the_shop_is_made_and_a_wrong_one_is_shown() {
    let step = r#"
[[step]]
name = "photograph"
stage = "finish"
per = "job"
title = "Photograph every joint for the file of {{ job.title }}"
text = "One picture for each of the {{ job.joints }} joints."
after_all = ["connect"]
minutes = "10 min"
source = "the workshop's own"
"#;
    let (own, job) = bench("own-step", &[("steps/ours.toml", step)]);
    let (text, _) = own.expect(0, &["show", "install", &job, SHOP[0], SHOP[1]]);
    assert!(text.contains("Photograph every joint"), "{text}");
    let wrong = step.replace("\"connect\"", "\"conect\"");
    let told = complaint(&[("steps/ours.toml", &wrong)], "wrong-step");
    assert!(
        told.contains("ours.toml:8:") && told.contains("did you mean `connect`?"),
        "{told}"
    );
}

#[test]
fn a_folder_that_is_not_there_is_a_slip() {
    let (bench, job) = bench("no-folder", &[]);
    let (_, told) = bench.expect(1, &["show", "labels", &job, "--templates", "nowhere"]);
    assert!(told.contains("there is no folder `nowhere`"), "{told}");
}

#[test]
fn every_demo_job_asks_for_readings_and_tells_how_to_share_the_work() {
    for (job, kinds) in [
        ("harbour-launch", 40),
        ("patrol-pickup", 40),
        ("weekend-van", 35),
    ] {
        let path = root().join(format!("templates/jobs/{job}.toml"));
        let view = Planned::of_file(&path).view();
        let used: BTreeSet<&str> = view.steps.iter().map(|step| step.kind.as_str()).collect();
        assert!(used.len() >= kinds, "{job}: {} kinds of steps", used.len());
        let read = view.steps.iter().filter(|step| !step.readings.is_empty());
        assert!(read.count() >= view.leads.len(), "{job}");
        assert!(
            !view.sharing.evening.is_empty() && !view.sharing.together.is_empty(),
            "{job}"
        );
        assert!(view.steps.iter().all(|step| step.minutes > 0.0), "{job}");
    }
}
