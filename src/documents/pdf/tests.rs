//! Tests of the printed pages.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use super::page::{Item, Mark};
use super::*;
use crate::documents::{markdown, samples};
use proptest::prelude::*;

fn label() -> Label {
    Label::new(
        "Delivery van 12, 48 V auxiliary supply",
        "DRAFT – not checked",
    )
}

fn laid_out(document: &Document, paper: PaperSize) -> Pages {
    layout::lay_out(document, &label(), paper, Faces::load().unwrap())
}

fn words_on(page: &[Item]) -> Vec<&str> {
    page.iter()
        .filter_map(|item| match &item.mark {
            Mark::Words { words, .. } => Some(words.as_str()),
            _ => None,
        })
        .collect()
}

fn right(item: &Item) -> f32 {
    item.area.left + item.area.width
}

/// Fails where an item leaves the margins or two pieces of text overlap.
fn assert_tidy(pages: &Pages, name: &str) {
    let margin = 51.0;
    for (number, page) in pages.pages.iter().enumerate() {
        for item in page {
            let area = item.area;
            let inside = area.left >= margin
                && area.top >= margin
                && right(item) <= pages.width - margin
                && area.bottom() <= pages.height - margin;
            assert!(inside, "{name}, page {number}: {item:?}");
        }
        let texts: Vec<&Item> = page.iter().filter(|item| item.mark.is_read()).collect();
        for (index, one) in texts.iter().enumerate() {
            for other in &texts[index + 1..] {
                let apart = right(one) <= other.area.left + 0.05
                    || right(other) <= one.area.left + 0.05
                    || one.area.bottom() <= other.area.top + 0.05
                    || other.area.bottom() <= one.area.top + 0.05;
                assert!(apart, "{name}, page {number}: {one:?} and {other:?}");
            }
        }
    }
}

#[test]
fn samples_are_tidy_on_both_papers() {
    for (name, document) in samples::all() {
        for paper in [PaperSize::A4, PaperSize::Letter] {
            assert_tidy(&laid_out(&document, paper), name);
        }
    }
}

#[test]
fn text_is_never_small() {
    for (_, document) in samples::all() {
        for item in laid_out(&document, PaperSize::A4).pages.iter().flatten() {
            if let Mark::Words { size, .. } = item.mark {
                assert!(size >= 8.0);
            }
        }
    }
}

#[test]
fn a_long_table_repeats_its_head() {
    let (_, document) = &samples::all()[0];
    let pages = laid_out(document, PaperSize::A4);
    assert!(pages.pages.len() >= 2);
    for page in &pages.pages {
        assert_eq!(
            words_on(page)
                .iter()
                .filter(|words| **words == "Part no.")
                .count(),
            1
        );
    }
    let last = words_on(pages.pages.last().unwrap());
    assert!(last.contains(&format!("page {0} of {0}", pages.pages.len()).as_str()));
}

#[test]
fn a_heading_never_ends_a_page() {
    // One more line of text at a time pushes the heading over the page's end.
    for count in 30..60 {
        let source = "word\n\n".repeat(count) + "## Heading\n\n| Head |\n|---|\n| row |\n";
        let pages = laid_out(&markdown::parse("t", &source), PaperSize::A4);
        let page = pages
            .pages
            .iter()
            .find(|page| words_on(page).contains(&"Heading"));
        let words = words_on(page.unwrap());
        assert!(
            words.contains(&"Head") && words.contains(&"row"),
            "{count}: {words:?}"
        );
    }
}

#[test]
fn a_row_taller_than_a_page_is_split_without_loss() {
    let cell = "word ".repeat(3000);
    let source = format!("| A | B |\n|---|---|\n| {cell} | {cell} |\n");
    let pages = laid_out(&markdown::parse("t", &source), PaperSize::A4);
    assert!(pages.pages.len() > 2);
    assert_tidy(&pages, "tall row");
    let all: Vec<&str> = pages.pages.iter().flat_map(|page| words_on(page)).collect();
    let printed = all
        .join(" ")
        .split(' ')
        .filter(|word| *word == "word")
        .count();
    assert_eq!(printed, 6000);
}

#[test]
fn a_caution_taller_than_a_page_keeps_its_bar() {
    let source = format!("> {}\n", "Mind the edge. ".repeat(1500));
    let pages = laid_out(&markdown::parse("t", &source), PaperSize::Letter);
    assert_tidy(&pages, "tall caution");
    for page in &pages.pages {
        assert!(
            page.iter()
                .any(|item| item.mark == Mark::Fill(page::Ink::Warning))
        );
    }
}

#[test]
fn a_page_break_starts_a_page_and_an_empty_document_has_one() {
    let broken = markdown::parse("t", "one:\n\n***\n\ntwo\n\n***\n");
    assert_eq!(laid_out(&broken, PaperSize::A4).pages.len(), 2);
    assert_eq!(
        laid_out(&markdown::parse("t", ""), PaperSize::A4)
            .pages
            .len(),
        1
    );
}

#[test]
fn an_overlong_label_is_cut_short() {
    let long = Label::new("job ".repeat(100), "status ".repeat(100));
    let document = markdown::parse(&"title ".repeat(100), "one\n\n***\n\ntwo\n");
    let pages = layout::lay_out(&document, &long, PaperSize::A4, Faces::load().unwrap());
    assert_tidy(&pages, "label");
    assert!(
        words_on(&pages.pages[1])
            .iter()
            .filter(|words| words.ends_with('…'))
            .count()
            == 3
    );
}

/// With equal digits after the point, the points stand below each other.
#[test]
fn figures_of_a_column_end_at_one_edge() {
    let source = "| Part | Price |\n|---|---:|\n| a | 1.50 |\n| b | 1022.25 |\n| c | 37.00 |\n";
    let pages = laid_out(&markdown::parse("t", source), PaperSize::A4);
    let right_edge = |wanted: &str| {
        let mut items = pages.pages[0].iter();
        let found =
            items.find(|item| matches!(&item.mark, Mark::Words { words, .. } if words == wanted));
        let area = found.unwrap().area;
        area.left + area.width
    };
    for figure in ["1022.25", "37.00", "Price"] {
        assert!(
            (right_edge("1.50") - right_edge(figure)).abs() < 0.05,
            "{figure}"
        );
    }
}

/// The first page bears its title in its own text.
#[test]
fn the_head_stands_on_every_page_but_the_first() {
    let document = markdown::parse("Running head", "one\n\n***\n\ntwo\n\n***\n\nthree\n");
    let pages = laid_out(&document, PaperSize::A4);
    let headed = pages
        .pages
        .iter()
        .map(|page| words_on(page).contains(&"Running head"));
    assert_eq!(headed.collect::<Vec<_>>(), [false, true, true]);
    let top = |page: &[Item]| {
        let text = page
            .iter()
            .filter(|item| matches!(item.mark, Mark::Words { .. }));
        text.map(|item| item.area.top).fold(f32::INFINITY, f32::min)
    };
    // Both begin at the margin of 18 mm.
    assert!((top(&pages.pages[0]) - top(&pages.pages[1])).abs() < 6.0);
}

#[test]
fn the_same_document_gives_the_same_small_file() {
    for (name, document) in samples::all() {
        let first = write(&document, &label(), PaperSize::A4).unwrap();
        let second = write(&document, &label(), PaperSize::A4).unwrap();
        assert!(first == second, "{name}");
        assert!(first.len() < 300 * 1024, "{name}: {} bytes", first.len());
        let text = String::from_utf8_lossy(&first);
        assert!(!text.contains("/ID") && !text.contains("Date"), "{name}");
    }
}

#[test]
fn headings_become_nested_bookmarks() {
    let (_, document) = &samples::all()[1];
    let bytes = write(document, &label(), PaperSize::A4).unwrap();
    let file = lopdf::Document::load_mem(&bytes).unwrap();
    let contents = file.get_toc().unwrap().toc;
    let levels: Vec<usize> = contents.iter().map(|entry| entry.level).collect();
    assert_eq!(levels, [1, 2, 2, 2, 2, 2], "{contents:?}");
    assert_eq!(contents[5].title, "Sign-off");
    assert_eq!(contents[5].page, file.get_pages().len());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn random_tables_stay_on_the_page(
        rows in proptest::collection::vec(proptest::collection::vec("[a-zΩ日W 0-9-]{0,60}", 9), 1..40),
        count in 1_usize..10,
    ) {
        let line = |cells: &[String]| format!("| {} |\n", cells[..count].join(" | "));
        let rule = format!("|{}\n", "---:|".repeat(count));
        let source = line(&rows[0]) + &rule + &rows[1..].iter().map(|row| line(row)).collect::<String>();
        assert_tidy(&laid_out(&markdown::parse("t", &source), PaperSize::A4), "random");
    }
}
