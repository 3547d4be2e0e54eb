//! What leads through a page of several documents.

use std::fmt::Write as _;

use super::body::Body;
use super::escaped;

/// A document with fewer headings of its own is not given a list of them.
const HEADINGS_WORTH_A_LIST: usize = 3;

/// The table of contents; the script adds how many boxes are ticked.
pub(super) fn navigation(written: &[Body]) -> String {
    let mut items = String::new();
    for body in written {
        let (id, title) = (&body.id, escaped(&body.title));
        let count = match body.boxes {
            0 => String::new(),
            boxes => format!(" <span class=\"count\" data-of=\"{id}\">{boxes} to tick</span>"),
        };
        let _ = writeln!(items, "<li><a href=\"#{id}\">{title}</a>{count}</li>");
    }
    let boxes: usize = written.iter().map(|body| body.boxes).sum();
    format!(
        "<nav id=\"contents\" aria-label=\"Contents\">\n<h2>Contents</h2>\n<ol>\n{items}</ol>\n\
         <p class=\"kept\" hidden>Ticks are kept on this device alone.</p>\n\
         <p class=\"lost\" hidden>This browser keeps no ticks: they go when the page is closed.</p>\n\
         {}</nav>\n",
        clearing("", boxes, "Clear all ticks")
    )
}

/// One document within the page.
pub(super) fn article(body: &Body) -> String {
    let (id, title) = (&body.id, escaped(&body.title));
    let mut parts = String::new();
    if body.parts.len() >= HEADINGS_WORTH_A_LIST {
        for (part, words) in &body.parts {
            let _ = writeln!(parts, "<li><a href=\"#{part}\">{words}</a></li>");
        }
        parts = format!(
            "<details class=\"parts\">\n<summary>In this document</summary>\n<ul>\n{parts}</ul>\n</details>\n"
        );
    }
    // What leads through the document stands below its first heading.
    let clear = clearing(id, body.boxes, "Clear the ticks of this document");
    let tools = match (parts.as_str(), clear.as_str()) {
        ("", "") => String::new(),
        _ => {
            let count = match body.boxes {
                0 => String::new(),
                boxes => format!("<span class=\"count\" data-of=\"{id}\">{boxes} to tick</span>\n"),
            };
            format!("<div class=\"tools\">\n{count}{clear}{parts}</div>\n")
        }
    };
    let (head, rest) = match body.html.split_once("</h2>\n") {
        Some((head, rest)) if head.starts_with("<h2>") => (format!("{head}</h2>\n"), rest),
        _ => (format!("<h2>{title}</h2>\n"), body.html.as_str()),
    };
    format!("<article id=\"{id}\" aria-label=\"{title}\">\n{head}{tools}{rest}</article>\n")
}

/// A button that empties the boxes of a document; it shows once the script runs.
fn clearing(id: &str, boxes: usize, words: &str) -> String {
    match boxes {
        0 => String::new(),
        _ => format!(
            "<button type=\"button\" class=\"clear\" data-of=\"{id}\" hidden>{words}</button>\n"
        ),
    }
}
