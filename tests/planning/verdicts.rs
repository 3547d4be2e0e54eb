//! Every job of the tree gets the verdict that its first line asks for.

use std::path::Path;

use longlead::check::{Check, Verdict};
use longlead::plan::Status;

use super::support::{Planned, files};

fn told(checks: &[Check]) -> String {
    let bad = checks.iter().filter(|check| check.verdict != Verdict::Pass);
    let lines: Vec<String> = bad
        .map(|check| {
            format!(
                "{} {}: {}: {}",
                check.verdict, check.rule, check.subject, check.note
            )
        })
        .collect();
    lines.join("\n")
}

fn judge(path: &Path) {
    let name = path.file_name().unwrap().display();
    let text = std::fs::read_to_string(path).unwrap();
    let plan = Planned::of_text(&text).plan;
    let wanted = text.lines().next().unwrap();
    if wanted == "# must pass" {
        assert_eq!(
            plan.status(),
            Status::Ready,
            "{name}\n{}",
            told(&plan.checks)
        );
        return;
    }
    let rule = wanted.strip_prefix("# must fail: ").unwrap_or_else(|| {
        panic!("{name}: the first line must say what is to happen, not `{wanted}`")
    });
    assert_eq!(plan.status(), Status::NotReady, "{name}");
    let failed = plan
        .checks
        .iter()
        .any(|check| check.verdict == Verdict::Fail && check.rule.as_str() == rule);
    assert!(
        failed,
        "{name}: nothing fails by the rule `{rule}`\n{}",
        told(&plan.checks)
    );
}

#[test]
fn the_demo_jobs_are_ready_to_build() {
    for path in files("templates/jobs") {
        let plan = &Planned::of_file(&path).plan;
        assert_eq!(
            plan.status(),
            Status::Ready,
            "{}\n{}",
            path.display(),
            told(&plan.checks)
        );
        assert!(plan.fittings.misfits.is_empty());
    }
}

#[test]
fn broken_demo_jobs_fail_the_check_they_name() {
    files("tests/jobs/broken")
        .iter()
        .for_each(|path| judge(path));
}

#[test]
fn odd_but_right_jobs_are_ready() {
    files("tests/jobs/odd").iter().for_each(|path| judge(path));
}

#[test]
fn traps_are_seen() {
    files("tests/jobs/traps")
        .iter()
        .for_each(|path| judge(path));
}

#[test]
fn random_networks_are_planned_without_a_stop() {
    for path in files("tests/simulator/jobs") {
        let planned = Planned::of_file(&path);
        assert_eq!(
            planned.plan.operation.states.len(),
            planned.job.states.len()
        );
    }
}
