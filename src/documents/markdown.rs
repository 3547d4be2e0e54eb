//! Reads Markdown into the document model.
//!
//! Only what the templates use is understood: headings, paragraphs, tables,
//! lists, tick lists, block quotes (cautions) and thematic breaks. Anything else
//! keeps its words and loses its form, so nothing a template says can go missing.

use super::block::{Align, Block, Column, Document, List, Style, Table, Text, TickItem, push};
use super::escape;
use crate::drawings::Drawing;
use pulldown_cmark::{Alignment, Event, HeadingLevel, OffsetIter, Options, Parser, Tag, TagEnd};
use std::iter::Peekable;
use std::sync::Arc;

/// Reads a Markdown text as a document.
///
/// A thematic break drawn with hyphens (`---`) is a line across the page; one
/// drawn with asterisks (`***`) starts a new page.
pub fn parse(title: &str, markdown: &str) -> Document {
    parse_illustrated(title, markdown, &[])
}

/// Reads a Markdown text as a document; a paragraph that is a picture (`![words](drawings/NAME.svg)`)
/// becomes the drawing of that name, and its words alone where there is none.
pub fn parse_illustrated(title: &str, markdown: &str, drawings: &[Arc<Drawing>]) -> Document {
    let options = Options::ENABLE_TABLES | Options::ENABLE_TASKLISTS;
    let mut reader = Reader {
        source: markdown,
        drawings,
        events: Parser::new_ext(markdown, options)
            .into_offset_iter()
            .peekable(),
        box_seen: None,
    };
    Document {
        title: escape::clean(title),
        blocks: reader.blocks(),
    }
}

/// Walks the events of the Markdown parser; each method reads one construct up
/// to and including its end.
struct Reader<'source> {
    source: &'source str,
    drawings: &'source [Arc<Drawing>],
    events: Peekable<OffsetIter<'source>>,
    /// The tick box met in the list item being read.
    box_seen: Option<bool>,
}

impl Reader<'_> {
    /// Reads blocks until the enclosing construct ends, which is read as well.
    fn blocks(&mut self) -> Vec<Block> {
        let mut blocks = Vec::new();
        while let Some((event, _)) = self.events.peek() {
            match event {
                Event::End(_) => {
                    self.events.next();
                    break;
                }
                Event::Start(tag) if is_block(tag) => {
                    let tag = tag.clone();
                    self.events.next();
                    self.block(tag, &mut blocks);
                }
                Event::Rule => blocks.extend(self.thematic_break()),
                Event::TaskListMarker(ticked) => {
                    self.box_seen = Some(*ticked);
                    self.events.next();
                }
                // The items of a tight list hold bare words.
                _ => {
                    let text = self.words();
                    if !text.is_empty() {
                        blocks.push(Block::Paragraph(text));
                    }
                }
            }
        }
        blocks
    }

    /// Reads the block that `tag` opened.
    fn block(&mut self, tag: Tag, blocks: &mut Vec<Block>) {
        match tag {
            Tag::Heading { level, .. } => {
                let level = heading_level(level);
                let text = self.text();
                blocks.push(Block::Heading { level, text });
            }
            Tag::Paragraph | Tag::CodeBlock(_) | Tag::HtmlBlock => {
                let drawing = self.drawing_ahead();
                let text = self.text();
                blocks.push(drawing.map_or(Block::Paragraph(text), Block::Drawing));
            }
            Tag::BlockQuote(_) => blocks.push(Block::Caution(self.blocks())),
            Tag::List(start) => blocks.push(self.list(start)),
            Tag::Table(alignments) => blocks.push(self.table(&alignments)),
            _ => blocks.extend(self.blocks()),
        }
    }

    /// The drawing that the paragraph being read starts with.
    fn drawing_ahead(&mut self) -> Option<Arc<Drawing>> {
        let Some((Event::Start(Tag::Image { dest_url, .. }), _)) = self.events.peek() else {
            return None;
        };
        let name = dest_url.strip_prefix("drawings/")?.strip_suffix(".svg")?;
        let mut drawings = self.drawings.iter();
        drawings.find(|drawing| drawing.name == name).cloned()
    }

    /// Tells a rule from a page break by the character it is drawn with.
    fn thematic_break(&mut self) -> Option<Block> {
        let (_, range) = self.events.next()?;
        let drawn = self.source.get(range).unwrap_or_default();
        Some(if drawn.contains('*') {
            Block::PageBreak
        } else {
            Block::Rule
        })
    }

    /// Reads the items of a list; one tick box makes the whole a tick list.
    fn list(&mut self, start: Option<u64>) -> Block {
        let mut items = Vec::new();
        let mut has_boxes = false;
        while let Some((event, _)) = self.events.next() {
            if matches!(event, Event::End(TagEnd::List(_))) {
                break;
            }
            let outer_box = self.box_seen.take();
            let blocks = self.blocks();
            let ticked = std::mem::replace(&mut self.box_seen, outer_box);
            has_boxes |= ticked.is_some();
            items.push((ticked.unwrap_or(false), blocks));
        }
        if has_boxes {
            let tick_item = |(ticked, blocks)| TickItem { ticked, blocks };
            Block::TickList(items.into_iter().map(tick_item).collect())
        } else {
            let items = items.into_iter().map(|(_, blocks)| blocks).collect();
            Block::List(List { start, items })
        }
    }

    fn table(&mut self, alignments: &[Alignment]) -> Block {
        let mut columns = Vec::new();
        let mut rows = Vec::new();
        while let Some((event, _)) = self.events.next() {
            match event {
                Event::Start(Tag::TableHead) => {
                    let heads = self.cells();
                    columns = heads
                        .into_iter()
                        .zip(alignments)
                        .map(|(head, alignment)| Column {
                            head,
                            align: align(*alignment),
                        })
                        .collect();
                }
                Event::Start(Tag::TableRow) => rows.push(self.cells()),
                _ => break,
            }
        }
        Block::Table(Table { columns, rows })
    }

    fn cells(&mut self) -> Vec<Text> {
        let mut cells = Vec::new();
        while let Some((Event::Start(Tag::TableCell), _)) = self.events.next() {
            cells.push(self.text());
        }
        cells
    }

    /// Reads words up to the end of the construct they stand in.
    fn text(&mut self) -> Text {
        let text = self.words();
        self.events.next();
        text
    }

    /// Reads words up to the next block or the end of the enclosing construct.
    fn words(&mut self) -> Text {
        let mut text = Text::new();
        let mut styles: Vec<Style> = Vec::new();
        while let Some((event, _)) = self.events.peek() {
            let style = styles.last().copied().unwrap_or(Style::Plain);
            match event {
                Event::Start(tag) if is_block(tag) => break,
                Event::Start(Tag::Strong) => styles.push(Style::Strong),
                Event::Start(Tag::Emphasis) => styles.push(Style::Emphasis),
                // A link or a picture keeps its words.
                Event::Start(_) => styles.push(style),
                Event::End(_) if styles.is_empty() => break,
                Event::End(_) => {
                    styles.pop();
                }
                Event::Text(words) | Event::Html(words) | Event::InlineHtml(words) => {
                    push(&mut text, words, style);
                }
                Event::Code(words) => push(&mut text, words, Style::Code),
                Event::SoftBreak => push(&mut text, " ", style),
                Event::HardBreak => push(&mut text, "\n", style),
                Event::TaskListMarker(ticked) => self.box_seen = Some(*ticked),
                _ => break,
            }
            self.events.next();
        }
        trim_line_ends(&mut text);
        text
    }
}

/// Code blocks end in a line feed that would print as an empty line.
fn trim_line_ends(text: &mut Text) {
    if let Some(last) = text.last_mut() {
        let kept = last.text.trim_end_matches('\n').len();
        last.text.truncate(kept);
    }
}

fn is_block(tag: &Tag) -> bool {
    !matches!(
        tag,
        Tag::Strong | Tag::Emphasis | Tag::Strikethrough | Tag::Link { .. } | Tag::Image { .. }
    )
}

fn heading_level(level: HeadingLevel) -> u8 {
    match level {
        HeadingLevel::H1 => 1,
        HeadingLevel::H2 => 2,
        HeadingLevel::H3 => 3,
        HeadingLevel::H4 => 4,
        HeadingLevel::H5 => 5,
        HeadingLevel::H6 => 6,
    }
}

fn align(alignment: Alignment) -> Align {
    match alignment {
        Alignment::None | Alignment::Left => Align::Left,
        Alignment::Center => Align::Center,
        Alignment::Right => Align::Right,
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use super::*;
    use crate::documents::block::{Span, plain};
    use proptest::prelude::*;

    fn words(text: &str) -> Text {
        vec![Span::new(text, Style::Plain)]
    }

    #[test]
    fn breaks_are_told_apart_by_their_character() {
        let document = parse("t", "a\n\n---\n\n***\n\nb");
        assert_eq!(document.blocks[1..3], [Block::Rule, Block::PageBreak]);
    }

    #[test]
    fn tick_boxes_are_read_in_tight_and_loose_lists() {
        for source in ["- [ ] one\n- [x] two\n", "- [ ] one\n\n- [x] two\n"] {
            let document = parse("t", source);
            let [Block::TickList(items)] = document.blocks.as_slice() else {
                panic!("{document:?}");
            };
            assert_eq!(
                items.iter().map(|i| i.ticked).collect::<Vec<_>>(),
                [false, true]
            );
            assert_eq!(items[1].blocks, [Block::Paragraph(words("two"))]);
        }
    }

    #[test]
    fn a_tick_list_within_a_step_leaves_the_step_alone() {
        let document = parse("t", "4. Fit it.\n   - [ ] tight\n\n   > Mind the edge.\n");
        let [Block::List(list)] = document.blocks.as_slice() else {
            panic!("{document:?}");
        };
        assert_eq!(list.start, Some(4));
        assert!(matches!(
            list.items[0].as_slice(),
            [Block::Paragraph(_), Block::TickList(_), Block::Caution(_)]
        ));
    }

    #[test]
    fn styles_and_hard_breaks_are_kept() {
        let document = parse("t", "a **b** *c* `d`\\\ne");
        let [Block::Paragraph(text)] = document.blocks.as_slice() else {
            panic!("{document:?}");
        };
        assert_eq!(plain(text), "a b c d\ne");
        assert_eq!(text[1], Span::new("b", Style::Strong));
        assert_eq!(text[3], Span::new("c", Style::Emphasis));
        assert_eq!(text[5], Span::new("d", Style::Code));
    }

    #[test]
    fn short_rows_are_filled_up() {
        let document = parse("t", "|a|b|\n|--|-:|\n|1|\n");
        let [Block::Table(table)] = document.blocks.as_slice() else {
            panic!("{document:?}");
        };
        assert_eq!(table.rows[0].len(), 2);
        assert_eq!(table.columns[1].align, Align::Right);
    }

    proptest! {
        #[test]
        fn any_markdown_is_read_to_its_end(source in "([-*#>| `\\[\\]x0-9.a<&\n]|  |- \\[ \\] ){0,60}") {
            let closing = format!("{source}\n\n\n# The end\n");
            let document = parse("t", &closing);
            prop_assert!(!document.blocks.is_empty());
        }
    }
}
