//! What is wrong with a step library as a whole.

use rayon::prelude::*;

use super::facts::Facts;
use super::library::{Per, StepFile, StepLibrary};
use super::template::Texts;
use crate::diagnostic::{Diagnostic, Problem, Span, Spanned, Subject};

/// What the library as a whole lacks; there is no better place to point at than its start.
pub fn gaps(library: &StepLibrary, start: Span) -> Vec<Diagnostic> {
    let mut mistakes = Vec::new();
    let mut report = |problem, span| mistakes.push(Diagnostic::new(problem, span));
    if library.access.is_none() {
        let expected = "a table of access factors".to_owned();
        let (key, table) = ("access", "step library");
        report(
            Problem::MissingKey {
                key,
                table,
                expected,
            },
            start,
        );
    }
    let rests: Vec<&StepFile> = library.steps.iter().filter(|step| step.rest).collect();
    if rests.is_empty() {
        let reason = "no kind of step names the parts that no other step uses";
        let help = "set `rest = true` in one kind of step for the whole job";
        report(Problem::contradiction_with_help(reason, help), start);
    }
    for step in rests.iter().skip(1) {
        let reason = "a second kind of step names the parts that no other step uses";
        report(Problem::contradiction(reason), step.name.span);
    }
    for step in rests {
        if step.per != Per::Job || step.when.is_some() {
            let reason = "a step with `rest = true` must be made for every job";
            let help = "set `per = \"job\"` and take away `when`";
            report(
                Problem::contradiction_with_help(reason, help),
                step.name.span,
            );
        }
    }
    mistakes
}

/// References that lead nowhere, or round in a circle.
pub fn dangling(library: &StepLibrary) -> Vec<Diagnostic> {
    let mut mistakes = Vec::new();
    let kinds: Vec<&str> = library.steps.iter().map(|row| row.name.as_str()).collect();
    let cautions: Vec<&str> = library
        .cautions
        .iter()
        .map(|row| row.name.as_str())
        .collect();
    for step in &library.steps {
        for need in step.needs.iter().chain(&step.after_all) {
            find(Subject::StepKind, need, &kinds, &mut mistakes);
        }
        for caution in &step.cautions {
            find(Subject::Caution, caution, &cautions, &mut mistakes);
        }
    }
    mistakes.extend(circles(library));
    mistakes
}

fn find(subject: Subject, name: &Spanned<String>, known: &[&str], mistakes: &mut Vec<Diagnostic>) {
    if known.contains(&name.as_str()) {
        return;
    }
    let problem = Problem::unknown_name(subject, name, known.iter().copied());
    mistakes.push(Diagnostic::new(problem, name.span));
}

/// Kinds that need themselves, straight or by way of others: whatever is left once every kind
/// whose needs are met has been struck off, and then every kind that nothing left needs.
fn circles(library: &StepLibrary) -> Vec<Diagnostic> {
    let mut left: Vec<&StepFile> = library.steps.iter().collect();
    loop {
        let before = left.len();
        let standing = left.clone();
        left.retain(|step| standing.iter().any(|other| needs(step, other)));
        let standing = left.clone();
        left.retain(|step| standing.iter().any(|other| needs(other, step)));
        if left.len() == before {
            break;
        }
    }
    let circle = |step: &&StepFile| {
        let reason = format!("steps of the kind `{}` wait for themselves", *step.name);
        let names: Vec<String> = left.iter().map(|row| format!("`{}`", *row.name)).collect();
        let help = format!("break the circle among {}", names.join(", "));
        let problem = Problem::contradiction_with_help(reason, help);
        Diagnostic::new(problem, step.name.span)
    };
    left.iter().map(circle).collect()
}

fn needs(step: &StepFile, other: &StepFile) -> bool {
    let mut needed = step.needs.iter().chain(&step.after_all);
    needed.any(|need| need.value == other.name.value)
}

/// Templates and expressions that cannot be read, or that name values which are not there.
pub fn templates(library: &StepLibrary) -> Vec<Diagnostic> {
    let texts = Texts::new();
    let steps = library.steps.par_iter().flat_map_iter(|step| {
        let facts = Facts::sample(step.per);
        let written = step.readings.iter().chain(&step.second_person);
        let written = step.paragraphs().chain(&step.hold_points).chain(written);
        let of_texts = written.flat_map(|text| template(&texts, text, &facts));
        let when = step.when.iter();
        let of_when = when.flat_map(|when| expression(&texts, when, &facts));
        of_texts.chain(of_when).collect::<Vec<Diagnostic>>()
    });
    let mut mistakes: Vec<Diagnostic> = steps.collect();
    let facts = Facts::sample(Per::Job);
    for when in library.cautions.iter().filter_map(|row| row.when.as_ref()) {
        mistakes.extend(expression(&texts, when, &facts));
    }
    mistakes
}

fn template(texts: &Texts<'_>, text: &Spanned<String>, facts: &Facts) -> Vec<Diagnostic> {
    let known = facts.names();
    match texts.unknown_in_template(text, &known) {
        Ok(names) if names.is_empty() => unusable(texts.fill(text, facts).map(drop), text.span),
        Ok(names) => unknown(&names, &known, text.span),
        Err(error) => unusable(Err(error), text.span),
    }
}

fn expression(texts: &Texts<'_>, text: &Spanned<String>, facts: &Facts) -> Vec<Diagnostic> {
    let known = facts.names();
    match texts.unknown_in_expression(text, &known) {
        Ok(names) if names.is_empty() => {
            unusable(texts.judge(Some(text), facts).map(drop), text.span)
        }
        Ok(names) => unknown(&names, &known, text.span),
        Err(error) => unusable(Err(error), text.span),
    }
}

fn unusable(outcome: Result<(), minijinja::Error>, span: Span) -> Vec<Diagnostic> {
    let report = |error: minijinja::Error| {
        let reason = match error.detail() {
            Some(detail) => format!("this template cannot be used: {}: {detail}", error.kind()),
            None => format!("this template cannot be used: {}", error.kind()),
        };
        Diagnostic::new(Problem::contradiction(reason), span)
    };
    outcome.err().map(report).into_iter().collect()
}

fn unknown(names: &[String], known: &[String], span: Span) -> Vec<Diagnostic> {
    let report = |name: &String| {
        let known = known.iter().map(String::as_str);
        let problem = Problem::unknown_name(Subject::Fact, name, known);
        Diagnostic::new(problem, span)
    };
    names.iter().map(report).collect()
}
