//! Writes documents as one page for a browser, complete in itself.
//!
//! The page needs nothing from elsewhere, and its security policy forbids it to fetch anything or
//! to run anything but the one script that is in it. It never scrolls sideways: wide tables and
//! drawings keep to a frame of their own.

mod body;
mod contents;
mod policy;
mod table;
mod tick;

use super::block::Document;
use super::{Label, escape};
use crate::drawings::svg::without_markup as escaped;
use body::Body;

const STYLE: &str = include_str!("style.css");
const SCRIPT: &str = include_str!("ticks.js");

/// Writes a document as a page of its own, headed by the job and its status.
pub fn write(document: &Document, label: &Label) -> String {
    let body = Body::of(document, &label.job, 1);
    let script = body.boxes > 0;
    let main = format!("<article>\n{}</article>\n", body.html);
    page(&document.title, label, "", &main, script)
}

/// Writes the documents of a job as one page, with a table of contents.
pub fn write_all(documents: &[&Document], label: &Label) -> String {
    let job = escape::clean(&label.job);
    let body = |document: &&Document| Body::of(document, &label.job, 2);
    let written: Vec<Body> = documents.iter().map(body).collect();
    let mut main = format!("<h1>{}</h1>\n", escaped(&job));
    for body in &written {
        main.push_str(&contents::article(body));
    }
    page(&job, label, &contents::navigation(&written), &main, true)
}

fn page(title: &str, label: &Label, navigation: &str, main: &str, script: bool) -> String {
    let title = escaped(title);
    let job = escaped(&escape::clean(&label.job));
    let status = escaped(&escape::clean(&label.status));
    let line = |words: &Option<String>, [open, close]: [&str; 2]| match words {
        Some(words) => format!("{open}{}{close}\n", escaped(&escape::clean(words))),
        None => String::new(),
    };
    let header = line(&label.stationery.header, ["<p class=\"quiet\">", "</p>"]);
    let footer = line(&label.stationery.footer, ["<footer>", "</footer>"]);
    let policy = policy::of(STYLE, script.then_some(SCRIPT));
    let (class, back) = match navigation {
        "" => ("", ""),
        _ => (" class=\"pack\"", "<a href=\"#contents\">Contents</a>"),
    };
    let script = match script {
        true => format!("<script>{SCRIPT}</script>\n"),
        false => String::new(),
    };
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"{policy}\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <title>{title}</title>\n<style>{STYLE}</style>\n</head>\n<body{class}>\n\
         <a class=\"skip\" href=\"#main\">Skip to the text</a>\n\
         <header class=\"head\"><span>{job}</span><strong>{status}</strong>{back}</header>\n\
         {navigation}<main id=\"main\" tabindex=\"-1\">\n{header}{main}</main>\n{footer}{script}</body>\n</html>\n"
    )
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use super::*;
    use crate::documents::{markdown, samples};

    fn page(source: &str) -> String {
        let label = Label::new("Van <12>", "Draft & \"unchecked\"");
        write(&markdown::parse("A <title>", source), &label)
    }

    #[test]
    fn markup_in_text_comes_out_as_text() {
        let page = page(
            "\\<script>alert(1)\\</script> &amp; \"x\"\n\n| ☐ | a |\n|--|--|\n| ☐ | say \"go\" |\n",
        );
        assert_eq!(page.matches("<script").count(), 1, "{page}");
        assert!(page.contains("&lt;script&gt;alert(1)&lt;/script&gt; &amp; &quot;x&quot;"));
        assert!(page.contains("<title>A &lt;title&gt;</title>"));
        assert!(
            page.contains("Van &lt;12&gt;") && page.contains("Draft &amp; &quot;unchecked&quot;")
        );
        assert!(page.contains("aria-label=\"say &quot;go&quot;\""), "{page}");
    }

    #[test]
    fn a_page_without_boxes_runs_nothing() {
        let page = page("Text.\n");
        assert!(
            !page.contains("<script") && !page.contains("script-src"),
            "{page}"
        );
    }

    #[test]
    fn every_opened_tag_is_closed() {
        let documents: Vec<_> = samples::all()
            .into_iter()
            .map(|(_, document)| document)
            .collect();
        let label = Label::new("Job", "Draft");
        let mut pages: Vec<String> = documents.iter().map(|one| write(one, &label)).collect();
        pages.push(write_all(&documents.iter().collect::<Vec<_>>(), &label));
        for page in pages {
            for tag in [
                "table", "tr", "td", "th", "li", "ol", "ul", "div", "p", "strong", "h2", "label",
                "article", "nav", "main", "details", "summary", "button", "span",
            ] {
                let opened = page.matches(&format!("<{tag}>")).count()
                    + page.matches(&format!("<{tag} ")).count();
                assert_eq!(opened, page.matches(&format!("</{tag}>")).count(), "{tag}");
            }
        }
    }

    #[test]
    fn numbers_stand_at_the_right_and_pages_break() {
        let page = page("|a|b|\n|--|-:|\n|x|1|\n\n***\n\n3. three\n");
        assert!(
            page.contains("<th scope=\"col\" class=\"right\">b</th>"),
            "{page}"
        );
        assert!(page.contains("<td data-head=\"b\" class=\"right\"><span>1</span></td>"));
        assert!(page.contains("<hr class=\"page\">") && page.contains("<ol start=\"3\">"));
    }

    #[test]
    fn no_heading_skips_a_level() {
        let page = page("# A\n\n#### B\n\n## C\n");
        assert!(page.contains("<h1>A</h1>"), "{page}");
        assert!(
            page.contains(">B</h2>") && page.contains(">C</h2>"),
            "{page}"
        );
    }
}
