//! Draws mistakes for a person: file, line, column, the line itself with a caret, and the way out.

use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet};

use super::{Diagnostic, Sources};

/// Every mistake, in the order of files and lines, and a closing count.
pub fn render(diagnostics: &[Diagnostic], sources: &Sources, colour: bool) -> String {
    let mut ordered: Vec<&Diagnostic> = diagnostics.iter().collect();
    ordered.sort_by_key(|diagnostic| diagnostic.span);
    let renderer = if colour {
        Renderer::styled()
    } else {
        Renderer::plain()
    };
    let mut text = String::new();
    for diagnostic in &ordered {
        text.push_str(&one(diagnostic, sources, &renderer));
        text.push_str("\n\n");
    }
    let count = ordered.len();
    let noun = if count == 1 { "mistake" } else { "mistakes" };
    text.push_str(&format!("{count} {noun} found; nothing was written\n"));
    text
}

fn one(diagnostic: &Diagnostic, sources: &Sources, renderer: &Renderer) -> String {
    let source = sources.get(diagnostic.span.source);
    let title = diagnostic.problem.to_string();
    let expected = diagnostic.problem.expected();
    let mut primary = AnnotationKind::Primary.span(diagnostic.span.start..diagnostic.span.end);
    if !expected.is_empty() {
        primary = primary.label(expected);
    }
    let mut snippet = Snippet::source(&source.text)
        .path(&source.path)
        .annotation(primary);
    let (here, elsewhere): (Vec<_>, Vec<_>) = diagnostic
        .related
        .iter()
        .partition(|(span, _)| span.source == diagnostic.span.source);
    for (span, why) in here {
        let mark = AnnotationKind::Context.span(span.start..span.end);
        snippet = snippet.annotation(mark.label(why));
    }
    let mut group = Level::ERROR.primary_title(title).element(snippet);
    for (span, why) in elsewhere {
        let other = sources.get(span.source);
        let mark = AnnotationKind::Context.span(span.start..span.end);
        group = group.element(
            Snippet::source(&other.text)
                .path(&other.path)
                .annotation(mark.label(why)),
        );
    }
    if let Some(help) = diagnostic.problem.help() {
        group = group.element(Level::HELP.message(help));
    }
    renderer.render(&[group]).to_string()
}
