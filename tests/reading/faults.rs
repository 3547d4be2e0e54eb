//! Several faults in one file: each is told once, and none causes another message.

use super::support::{full_catalog, read_job, small_catalog, text};

/// The smallest right job with some of its lines put differently.
fn job_with(changes: &[(&str, &str)]) -> String {
    let mut job = text("tests/files/valid/job.toml");
    for (from, to) in changes {
        assert!(job.contains(from), "the smallest job has no `{from}`");
        job = job.replacen(from, to, 1);
    }
    job
}

/// Headlines of the messages, in the order of the file.
fn headlines(job: &str) -> Vec<String> {
    let message = read_job("job.toml", job, &small_catalog()).expect_err("the job is read");
    let lines = message.lines();
    let errors = lines.filter_map(|line| line.strip_prefix("error: "));
    errors.map(str::to_owned).collect()
}

#[test]
fn five_faults_of_writing_give_five_messages() {
    let job = job_with(&[
        ("temperature =", "temprature ="),
        ("\"1.35 m\"", "1.35"),
        ("\"flooded\"", "\"floded\""),
        ("current = \"5 A\"", "current = \"5 V\""),
        ("stud = \"M5\"\n", ""),
    ]);
    assert_eq!(
        headlines(&job),
        [
            "a space has no key `temprature`",
            "not a length: the unit is missing; units taken: m, cm, mm, ft, in",
            "`floded` is not a battery chemistry",
            "this load lacks the key `stud`",
            "not a current: `V` is not a unit for this; units taken: A, mA, kA",
        ]
    );
}

#[test]
fn five_faults_of_naming_give_five_messages() {
    let job = job_with(&[
        ("to = \"wing\"", "to = \"wnig\""),
        (
            "length = \"1.35 m\"\nspace = \"bay\"",
            "length = \"0 m\"\nspace = \"bya\"",
        ),
        ("place = \"tray\"", "place = \"trya\""),
        ("to = \"lamp +\"", "to = \"lapm +\""),
    ]);
    assert_eq!(
        headlines(&job),
        [
            "there is no place `wnig`",
            "the length of this leg is out of range",
            "there is no space `bya`",
            "there is no place `trya`",
            "there is no terminal `lapm +`",
        ]
    );
}

#[test]
fn a_battery_in_an_unknown_place_still_has_its_terminals() {
    let job = job_with(&[("place = \"tray\"", "place = \"nowhere\"")]);
    assert_eq!(headlines(&job), ["there is no place `nowhere`"]);
}

#[test]
fn a_missing_leg_is_told_once_for_all_leads_that_it_cuts_off() {
    let leg = "[[leg]]\nfrom = \"tray\"\nto = \"wing\"\nlength = \"1.35 m\"\nspace = \"bay\"\n";
    let job = job_with(&[(leg, "")]);
    assert_eq!(headlines(&job), ["no way leads from `tray` to `wing`"]);
}

#[test]
fn a_slip_of_syntax_is_not_judged_further() {
    let job = job_with(&[
        ("[[place]]", "[[place]"),
        ("place = \"wing\"", "place = \"x\""),
    ]);
    assert_eq!(headlines(&job).len(), 1);
}

#[test]
fn figures_that_would_stop_the_arithmetic_are_refused() {
    for (from, to, told) in [
        (
            "\"540 A\"",
            "\"0 A\"",
            "the `cold_crank` of `battery` is out of range",
        ),
        (
            "\"60 Ah\"",
            "\"0 Ah\"",
            "the `capacity` of `battery` is out of range",
        ),
        (
            "voltage = \"12 V\"\ncapacity",
            "voltage = \"-12 V\"\ncapacity",
            "the `voltage` of `battery` is out of range",
        ),
        (
            "\"5 A\"",
            "\"0 A\"",
            "the `current` of `lamp` is out of range",
        ),
        (
            "\"1.35 m\"",
            "\"900 km\"",
            "not a length: `km` is not a unit for this; units taken: m, cm, mm, ft, in",
        ),
        (
            "\"1.35 m\"",
            "\"900000 m\"",
            "the length of this leg is out of range",
        ),
    ] {
        assert_eq!(headlines(&job_with(&[(from, to)])), [told]);
    }
}

#[test]
fn a_number_too_long_to_hold_is_refused_in_words() {
    let digits = "9".repeat(400);
    let job = job_with(&[("\"5 A\"", &format!("\"{digits} A\""))]);
    let headlines = headlines(&job);
    assert_eq!(headlines.len(), 1);
    assert!(headlines[0].starts_with("not a current"), "{headlines:?}");
}

/// A misspelt key, two bad quantities, a doubled name, a bad word, a lacking key, and three names
/// that nothing bears: faults of reading, of names and of figures come in one run.
#[test]
fn faults_of_every_phase_come_in_one_run() {
    let text = text("tests/files/nine-faults.toml");
    let message = read_job("nine.toml", &text, &full_catalog()).unwrap_err();
    assert_eq!(message.matches("error: ").count(), 9, "{message}");
    assert!(message.ends_with("9 mistakes found; nothing was written\n"));
}
