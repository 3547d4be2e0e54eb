//! Writes a document as one page for a browser, complete in itself.
//!
//! The page needs nothing from elsewhere, and its security policy forbids it to
//! fetch or run anything. It never scrolls sideways: wide tables keep to a frame
//! of their own.

mod table;

use super::block::{Block, Document, List, Span, Style, TickItem, plain};
use super::{Label, escape, quantity};
use crate::drawings::svg::{self, without_markup as escaped};

const STYLE: &str = include_str!("style.css");

/// Writes a document as an HTML page headed by the job and its status.
pub fn write(document: &Document, label: &Label) -> String {
    let mut page = String::new();
    page.push_str("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n");
    page.push_str("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n");
    page.push_str("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
    let title = escaped(&document.title);
    page.push_str(&format!(
        "<title>{title}</title>\n<style>\n{STYLE}</style>\n"
    ));
    let job = escaped(&escape::clean(&label.job));
    let status = escaped(&escape::clean(&label.status));
    page.push_str("</head>\n<body>\n");
    page.push_str(&format!(
        "<header><span>{job}</span><strong>{status}</strong></header>\n"
    ));
    page.push_str(&format!(
        "<main>\n{}</main>\n</body>\n</html>\n",
        blocks(&document.blocks)
    ));
    page
}

fn blocks(content: &[Block]) -> String {
    content.iter().map(block).collect()
}

fn block(content: &Block) -> String {
    match content {
        Block::Heading { level, text } => format!("<h{level}>{}</h{level}>\n", spans(text)),
        Block::Paragraph(text) => format!("<p>{}</p>\n", spans(text)),
        Block::Table(content) => table::table(content),
        Block::List(content) => list(content),
        Block::TickList(items) => tick_list(items),
        Block::Caution(content) => {
            format!(
                "<div class=\"caution\" role=\"note\">\n{}</div>\n",
                blocks(content)
            )
        }
        Block::Drawing(drawing) => {
            format!("<figure>\n{}</figure>\n", svg::element(drawing))
        }
        Block::Rule => "<hr>\n".to_string(),
        Block::PageBreak => "<hr class=\"page\">\n".to_string(),
    }
}

fn list(content: &List) -> String {
    let items: String = content
        .items
        .iter()
        .map(|item| format!("<li>{}</li>\n", blocks(item)))
        .collect();
    match content.start {
        Some(1) => format!("<ol>\n{items}</ol>\n"),
        Some(start) => format!("<ol start=\"{start}\">\n{items}</ol>\n"),
        None => format!("<ul>\n{items}</ul>\n"),
    }
}

/// The boxes can be ticked on the screen as on paper; nothing is kept.
fn tick_list(items: &[TickItem]) -> String {
    let items: String = items
        .iter()
        .map(|item| {
            let checked = if item.ticked { " checked" } else { "" };
            let name = item.blocks.first().map(words).unwrap_or_default();
            let name = escaped(&name);
            let content = blocks(&item.blocks);
            format!("<li><input type=\"checkbox\" aria-label=\"{name}\"{checked}><div>{content}</div></li>\n")
        })
        .collect();
    format!("<ul class=\"ticks\">\n{items}</ul>\n")
}

fn words(content: &Block) -> String {
    match content {
        Block::Heading { text, .. } | Block::Paragraph(text) => plain(text),
        _ => String::new(),
    }
}

fn spans(text: &[Span]) -> String {
    text.iter()
        .map(|span| {
            let words = quantity::held_together(&span.text);
            let words = escaped(&words).replace('\n', "<br>\n");
            match span.style {
                Style::Plain => words,
                Style::Strong => format!("<strong>{words}</strong>"),
                Style::Emphasis => format!("<em>{words}</em>"),
                Style::Code => format!("<code>{words}</code>"),
            }
        })
        .collect()
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
        let page = page("\\<script>alert(1)\\</script> &amp; \"x\"\n\n- [ ] say \"go\"\n");
        assert!(!page.contains("<script"), "{page}");
        assert!(page.contains("&lt;script&gt;alert(1)&lt;/script&gt; &amp; &quot;x&quot;"));
        assert!(page.contains("<title>A &lt;title&gt;</title>"));
        assert!(
            page.contains("Van &lt;12&gt;") && page.contains("Draft &amp; &quot;unchecked&quot;")
        );
        assert!(page.contains("aria-label=\"say &quot;go&quot;\""));
    }

    #[test]
    fn every_opened_tag_is_closed() {
        for (name, document) in samples::all() {
            let page = write(&document, &Label::new("Job", "Draft"));
            for tag in [
                "table", "tr", "td", "th", "li", "ol", "ul", "div", "p", "strong", "h2",
            ] {
                let opened = page.matches(&format!("<{tag}>")).count()
                    + page.matches(&format!("<{tag} ")).count();
                assert_eq!(
                    opened,
                    page.matches(&format!("</{tag}>")).count(),
                    "{tag} in {name}"
                );
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
}
