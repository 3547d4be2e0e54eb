//! Mistakes in a step library.
#![allow(clippy::unwrap_used)]

use super::*;

/// The mistakes of a library of two files: one good caution, and a text.
fn mistakes(text: &str) -> String {
    let mut sources = Sources::default();
    let library = format!("{SOUND}\n{text}");
    let source = sources.add("steps.toml", library);
    render(
        &load(&[vec![source]], &sources).unwrap_err(),
        &sources,
        false,
    )
}

const SOUND: &str = r#"
access = { open = "90 %", easy = "100 %", awkward = "150 %", hard = "200 %" }
[[caution]]
name = "eyes"
short = "Eyes"
text = "Eyes"
source = "common practice"
[[step]]
name = "gather"
stage = "prepare"
per = "job"
rest = true
title = "Gather"
text = "Gather"
minutes = "5 min"
source = "common practice"
"#;

fn step(keys: &str) -> String {
    format!(
        "[[step]]\nname = 'next'\nstage = 'cut'\nper = 'end'\nminutes = '1 min'\n\
         source = 'common practice'\n{keys}\n"
    )
}

#[test]
fn unknown_names_are_reported_in_their_line() {
    let told = mistakes(&step(
        "title = 'a'\ntext = 'b'\nneeds = ['gathr']\ncautions = ['eye']",
    ));
    assert!(told.contains("no kind of step `gathr`"), "{told}");
    assert!(told.contains("did you mean `gather`"), "{told}");
    assert!(told.contains("there is no caution `eye`"), "{told}");
    assert!(told.contains("steps.toml:26:10"), "{told}");
}

#[test]
fn bad_templates_are_reported() {
    let told = mistakes(&step(
        "title = '{{ end.lugg }}'\ntext = '{% if %}'\nwhen = 'job.titel'",
    ));
    assert!(
        told.contains("no value `end.lugg`") && told.contains("`end.lug`"),
        "{told}"
    );
    assert!(told.contains("this template cannot be used"), "{told}");
    assert!(told.contains("no value `job.titel`"), "{told}");
    let told = mistakes(&step("title = '{{ end.lug | shout }}'\ntext = 'b'"));
    assert!(told.contains("shout"), "{told}");
}

#[test]
fn steps_that_wait_for_themselves_are_reported() {
    let circle = step("title = 'a'\ntext = 'b'\nneeds = ['other']")
        + &step("title = 'a'\ntext = 'b'\nafter_all = ['next']")
            .replace("'next'\nstage", "'other'\nstage");
    let told = mistakes(&circle);
    assert!(
        told.contains("`next` wait for themselves") && told.contains("`other`"),
        "{told}"
    );
    assert!(!told.contains("`gather` wait"), "{told}");
}

#[test]
fn a_library_without_access_or_rest_is_reported() {
    let mut sources = Sources::default();
    let source = sources.add("steps.toml", step("title = 'a'\ntext = 'b'"));
    let told = render(
        &load(&[vec![source]], &sources).unwrap_err(),
        &sources,
        false,
    );
    assert!(told.contains("lacks the key `access`"), "{told}");
    assert!(told.contains("no other step uses"), "{told}");
}

#[test]
fn a_later_layer_takes_the_place_of_a_step() {
    let mut sources = Sources::default();
    let base = sources.add("base.toml", SOUND);
    let own = sources.add(
        "own.toml",
        "[[step]]\nname = 'gather'\nstage = 'prepare'\nper = 'job'\nrest = true\ntitle = 'Own'\n\
         text = 'Own'\nminutes = '7 min'\nsource = 'common practice'",
    );
    let library = load(&[vec![base], vec![own]], &sources).unwrap();
    assert_eq!(library.steps.len(), 1);
    assert_eq!(library.steps[0].title.value, "Own");
}
