//! The steps and their order.
#![allow(clippy::unwrap_used)]

use super::*;

fn position(method: &Method, wanted: impl Fn(&Step) -> bool) -> usize {
    method.steps.iter().position(wanted).unwrap()
}

pub(super) fn of_kind<'a>(method: &'a Method, kind: &'a str) -> impl Iterator<Item = &'a Step> {
    method.steps.iter().filter(move |step| step.kind == kind)
}

#[test]
fn every_step_waits_for_what_it_needs() {
    for job in [PICKUP, BOAT, ONE_LEAD] {
        let bench = Bench::new(job);
        let method = bench.order();
        for (index, step) in method.steps.iter().enumerate() {
            assert_eq!(step.number, index + 1);
            assert!(
                step.needs.iter().all(|need| *need < step.number),
                "{}",
                step.title
            );
            let paragraphs = [&step.title, &step.particulars, &step.text].into_iter();
            for text in paragraphs.chain(&step.hold_points) {
                assert!(!text.contains("cannot be shown"), "{text}");
            }
        }
        assert!(
            method
                .steps
                .iter()
                .skip(1)
                .all(|step| !step.needs.is_empty())
        );
    }
}

#[test]
fn the_negative_is_the_first_off_and_the_last_on() {
    for job in [PICKUP, BOAT, ONE_LEAD] {
        let method = Bench::new(job).order();
        assert_eq!(method.steps[0].kind, "read");
        let first_off = position(&method, |step| step.title.starts_with("Take the "));
        assert_eq!(method.steps[first_off].kind, "negative off");
        let positive_off = position(&method, |step| step.kind == "positive off");
        let last_negative_off = method
            .steps
            .iter()
            .rposition(|step| step.kind == "negative off");
        assert!(last_negative_off.unwrap() < positive_off);
        let makes = |step: &Step| {
            step.kind == "connect"
                || step.kind == "join batteries"
                || step.kind.starts_with("connect battery")
        };
        let last_on = method.steps.iter().rposition(makes).unwrap();
        assert_eq!(method.steps[last_on].kind, "connect battery negative");
        let first_power = position(&method, |step| step.kind == "first power");
        assert!(last_on < first_power);
    }
}

#[test]
fn tests_stand_before_the_first_power() {
    let method = Bench::new(PICKUP).order();
    let last = |kind: &str| {
        method
            .steps
            .iter()
            .rposition(|step| step.kind == kind)
            .unwrap()
    };
    let first = |kind: &str| position(&method, |step| step.kind == kind);
    let of = |kind: &str, lead: &str| {
        position(&method, |step| {
            step.kind == kind && step.title.contains(lead)
        })
    };
    for lead in ["`main feed", "`charge", "`radio feed"] {
        assert!(of("insulation", lead) < of("connect", lead), "{lead}");
    }
    assert!(last("prove lead") < first("no short"));
    assert!(last("no short") < first("connect battery positive"));
    assert!(last("connect battery positive") < first("connect battery negative"));
    assert!(last("first power") < first("measure state"));
    assert_eq!(
        of_kind(&method, "measure state").count(),
        // The first instant of a crank is over before a meter shows it.
        Bench::new(PICKUP)
            .job
            .states
            .iter()
            .filter(|state| state.engine != crate::job::Engine::Locked)
            .count()
    );
}

#[test]
fn the_trial_comes_before_the_last_cut() {
    let method = Bench::new(PICKUP).order();
    let of = |kind: &str| {
        position(&method, |step| {
            step.kind == kind && step.title.contains("`radio feed")
        })
    };
    let order = [
        "string",
        "cut",
        "make first end",
        "lay",
        "make last end",
        "insulation",
        "prove lead",
    ];
    let places: Vec<usize> = order.iter().map(|kind| of(kind)).collect();
    assert!(places.is_sorted(), "{places:?}");
}

#[test]
fn everything_that_was_fitted_has_its_step() {
    for job in [PICKUP, BOAT, ONE_LEAD] {
        let bench = Bench::new(job);
        let method = bench.order();
        let fittings = &bench.fittings;
        let count = |kinds: &[&str]| {
            let steps = method.steps.iter();
            steps
                .filter(|step| kinds.contains(&step.kind.as_str()))
                .count()
        };
        let sections: usize = bench
            .route
            .leads
            .iter()
            .map(|lead| lead.sections.len())
            .sum();
        assert_eq!(count(&["cut"]), sections);
        assert_eq!(count(&["lay"]), sections);
        assert_eq!(
            count(&["make first end", "make last end"]),
            fittings.ends.len()
        );
        assert_eq!(count(&["drill panel"]), fittings.passages.len());
        assert_eq!(
            count(&["fit grommet", "fit feed-through"]),
            fittings.passages.len()
        );
        let joints = [
            "connect",
            "connect battery positive",
            "join batteries",
            "connect battery negative",
        ];
        assert_eq!(count(&joints), fittings.joints.len());
        assert_eq!(count(&["mount bus"]), fittings.buses.len());
        assert_eq!(count(&["mount box"]), fittings.enclosures.len());
        assert_eq!(count(&["sleeve lead"]), fittings.sleevings.len());
        let guards = bench.protection.guards.len();
        assert_eq!(count(&["mount breaker", "mount fuse holder"]), guards);
    }
}

#[test]
fn steps_name_the_real_thing() {
    let bench = Bench::new(PICKUP);
    let method = bench.order();
    for end in &bench.fittings.ends {
        let (lug, die) = (end.lug.as_ref().unwrap(), end.die.as_ref().unwrap());
        let named = |step: &Step| {
            step.kind.starts_with("make ")
                && step.part_ids.contains(lug)
                && step
                    .title
                    .contains(&format!("die {die}, {} crimp", end.crimps))
                && step.title.contains(&format!("end at `{}`", end.terminal))
        };
        assert!(method.steps.iter().any(named), "{}", end.terminal);
    }
    for joint in &bench.fittings.joints {
        let torque = bench.job.units.torque(joint.torque.value.unwrap());
        let named = |step: &Step| {
            step.title.contains(&format!("`{}`", joint.name)) && step.title.contains(&torque)
        };
        assert!(method.steps.iter().any(named), "{}", joint.name);
    }
    for passage in &bench.fittings.passages {
        let hole = bench.job.units.drill(passage.hole.unwrap());
        let named = |step: &Step| step.kind == "drill panel" && step.title.ends_with(&hole);
        assert!(method.steps.iter().any(named), "{hole}");
    }
}

#[test]
fn bad_access_takes_longer() {
    let easy = Bench::new(PICKUP).order();
    let hard = Bench::new(&PICKUP.replace("access = \"awkward\"", "access = \"hard\"")).order();
    let lay = |method: &Method| {
        let mut steps = of_kind(method, "lay");
        steps
            .find(|step| step.title.contains("main feed"))
            .unwrap()
            .minutes
    };
    assert!(lay(&hard) > lay(&easy));
    let sum: f64 = easy.steps.iter().map(|step| step.minutes).sum();
    assert!((easy.minutes - sum).abs() < 1e-6);
}

#[test]
fn cautions_stand_where_they_bite() {
    let pickup = Bench::new(PICKUP).order();
    let boat = Bench::new(BOAT).order();
    let says = |method: &Method, word: &str| method.cautions.iter().any(|text| text.contains(word));
    for word in [
        "hydrogen",
        "jack",
        "brake lines",
        "hot-air",
        "eye protection",
        "Local codes",
    ] {
        assert!(says(&pickup, word), "{word}");
    }
    assert!(says(&boat, "lithium") && !says(&pickup, "lithium"));
    assert!(!says(&boat, "jack") && !says(&boat, "Airbags"));
    let drill = of_kind(&pickup, "drill panel").next().unwrap();
    assert!(drill.cautions.iter().any(|text| text.contains("fuel line")));
}

#[test]
fn the_same_job_gives_the_same_steps() {
    let bench = Bench::new(PICKUP);
    assert_eq!(bench.order(), bench.order());
    assert_eq!(Bench::new(PICKUP).order(), bench.order());
}

#[test]
fn sixty_leads_on_a_bus_that_nothing_fits_still_make_a_plan() {
    let bus = "bus = [{ name = \"b\", place = \"here\", polarity = \"negative\" }]\nlead = [";
    let lead = |number| format!("\n{{ name = \"lead {number}\", from = \"b\", to = \"frame\" }},");
    let leads: String = (0..60).map(lead).collect();
    let bench = Bench::new(&ONE_LEAD.replace("lead = [", &format!("{bus}{leads}\n")));
    let method = bench.order();
    assert!(!bench.fittings.misfits.is_empty());
    assert_eq!(of_kind(&method, "cut").count(), 61);
    assert_eq!(of_kind(&method, "prove lead").count(), 61);
    for step in &method.steps {
        assert!(step.needs.iter().all(|need| *need < step.number));
        assert!(!step.text.contains("cannot be shown"));
    }
}

#[test]
fn names_are_shown_letter_for_letter() {
    let boat = Bench::new(BOAT).order();
    assert!(boat.steps[0].text.contains("launch <`é`>"));
    let job = ONE_LEAD.replace("\"earth\"", "\"{{ job.title }} & <b>\"");
    let one = Bench::new(&job).order();
    let mut cuts = of_kind(&one, "cut");
    assert!(
        cuts.next()
            .unwrap()
            .title
            .contains("`{{ job.title }} & <b>`")
    );
}

#[test]
fn nothing_comes_between_the_batteries_until_the_system_is_dead() {
    let method = Bench::new(BOAT).order();
    let first = position(&method, |step| step.kind == "negative off");
    let dead = position(&method, |step| step.kind == "dead");
    let between = &method.steps[first..dead];
    assert!(between.iter().all(|step| step.kind.ends_with(" off")));
}
