//! Lays a document out on pages: the text in the middle, the job and its status
//! at the head of every page but the first, which bears its title in its own text,
//! the page number at the foot.

use super::PaperSize;
use super::compose::{Measure, Setting, lines, pieces};
use super::face::Faces;
use super::flow::fill_pages;
use super::page::{Ink, Item, Mark, Pages};
use crate::documents::block::{Align, Document, Span, Style};
use crate::documents::{Label, escape};

/// 18 mm in points.
const MARGIN: f32 = 18.0 * 72.0 / 25.4;
/// The room for the head of a page, down to where the text starts.
const HEAD_HEIGHT: f32 = 36.0;
/// The room for the foot of a page, up to where the text ends.
const FOOT_HEIGHT: f32 = 20.0;
/// The room of the workshop's header, above the head.
const HEADER_HEIGHT: f32 = 16.0;

/// The room for "page 100 of 100".
const NUMBER_WIDTH: f32 = 90.0;

const TITLE: Setting = Setting {
    size: 9.0,
    leading: 12.0,
};
const SMALL: Setting = Setting {
    size: 8.0,
    leading: 11.0,
};

/// Lays a document out on paper of a size.
pub(super) fn lay_out(
    document: &Document,
    label: &Label,
    paper: PaperSize,
    faces: &Faces,
) -> Pages {
    let (width, height) = paper.points();
    let measure = Measure {
        left: MARGIN,
        width: width - 2.0 * MARGIN,
    };
    let header = label.stationery.header.as_deref();
    let below_header = MARGIN + header.map_or(0.0, |_| HEADER_HEIGHT);
    let top = below_header + HEAD_HEIGHT;
    let text_height = height - top - MARGIN - FOOT_HEIGHT;
    let pieces = pieces(&document.blocks, measure, faces);
    let (filled, bookmarks) = fill_pages(pieces, text_height, HEAD_HEIGHT);
    let count = filled.len();
    let head = head(document, label, measure, faces);
    let header = header.unwrap_or_default();
    let header = line(header, Style::Plain, measure, SMALL, Align::Left, faces);
    let number_at = Measure {
        left: measure.left + measure.width - NUMBER_WIDTH,
        width: NUMBER_WIDTH,
    };
    let footer_at = Measure {
        width: measure.width - NUMBER_WIDTH - 12.0,
        ..measure
    };
    let footer = label.stationery.footer.as_deref().unwrap_or_default();
    let footer = line(footer, Style::Plain, footer_at, SMALL, Align::Left, faces);
    let pages = filled.into_iter().enumerate().map(|(index, items)| {
        let number = format!("page {} of {count}", index + 1);
        let mut foot = line(&number, Style::Plain, number_at, SMALL, Align::Right, faces);
        foot.extend(footer.iter().cloned());
        let foot_top = height - MARGIN - SMALL.leading;
        let mut page = match index {
            0 => Vec::new(),
            _ => moved(&head, below_header),
        };
        page.extend(moved(&header, MARGIN));
        page.extend(items.into_iter().map(|item| item.moved(0.0, top)));
        page.extend(foot.into_iter().map(|item| item.moved(0.0, foot_top)));
        page
    });
    Pages {
        width,
        height,
        pages: pages.collect(),
        bookmarks,
    }
}

/// The title, below it the job at the left and its status at the right, and a
/// rule.
fn head(document: &Document, label: &Label, measure: Measure, faces: &Faces) -> Vec<Item> {
    let mut items = line(
        &document.title,
        Style::Strong,
        measure,
        TITLE,
        Align::Left,
        faces,
    );
    let second_line = TITLE.leading;
    let half = Measure {
        width: measure.width / 2.0 - 6.0,
        ..measure
    };
    let right_half = Measure {
        left: measure.left + measure.width / 2.0 + 6.0,
        ..half
    };
    let job = line(&label.job, Style::Plain, half, SMALL, Align::Left, faces);
    let status = line(
        &label.status,
        Style::Strong,
        right_half,
        SMALL,
        Align::Right,
        faces,
    );
    let below = job.into_iter().chain(status);
    items.extend(below.map(|item| item.moved(0.0, second_line)));
    let rule_top = second_line + SMALL.leading + 2.0;
    items.push(Item::fill(
        measure.left,
        rule_top,
        measure.width,
        0.6,
        Ink::Line,
    ));
    items
}

fn moved(items: &[Item], down: f32) -> Vec<Item> {
    let items = items.iter().cloned();
    items.map(|item| item.moved(0.0, down)).collect()
}

/// Words on one line, cut short with "…" where they do not fit.
fn line(
    words: &str,
    style: Style,
    measure: Measure,
    setting: Setting,
    align: Align,
    faces: &Faces,
) -> Vec<Item> {
    let words = faces.printable(&escape::clean(words), style.into());
    let fits = |words: &str| faces.width(words, style.into(), setting.size) <= measure.width;
    let mut shown = words.clone();
    let mut kept = words;
    while !fits(&shown) && kept.pop().is_some() {
        shown = format!("{}…", kept.trim_end());
    }
    let text = [Span::new(shown, style)];
    let (mut items, _) = lines(&text, measure, setting, align, faces);
    if style == Style::Plain {
        items.iter_mut().for_each(in_grey);
    }
    items
}

fn in_grey(item: &mut Item) {
    if let Mark::Words { ink, .. } = &mut item.mark {
        *ink = Ink::Grey;
    }
}
