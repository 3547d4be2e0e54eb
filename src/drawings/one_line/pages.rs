//! Rows of the diagram set on pages: how deep each stands, and what is said again at the head of a
//! page that goes on.

use super::tree::{By, Elsewhere, Row};
use crate::drawings::lettering::{broken, letters_within};
use crate::drawings::shape::LETTERS;

/// Width of a page in millimetres.
pub const WIDTH: f64 = 170.0;
/// Most height of a page; fits A4 and Letter with heading, head and foot.
const HEIGHT: f64 = 218.0;
/// The same of the first, which has the title of the document over it.
const FIRST_HEIGHT: f64 = 160.0;
/// Room from level to level.
pub const STEP: f64 = 15.0;
/// Left of the symbols of the first level.
pub const LEFT: f64 = 5.0;
/// Between the middle of a symbol and the words at its right.
pub const BESIDE: f64 = 5.6;
/// From line to line of words.
pub const LINE: f64 = 4.1;
/// Over the first line of words of a row, and under its last.
const PADDING: f64 = 2.2;
/// Lines of words of a row.
const MOST_LINES: usize = 4;

/// A row where it stands.
#[derive(Debug, Clone)]
pub struct Set {
    /// The row, by position.
    pub row: usize,
    /// How deep it stands, from nothing.
    pub level: usize,
    /// Top of it.
    pub top: f64,
    /// Where its symbol stands.
    pub middle: f64,
    /// Its words, line by line; the first is its name.
    pub lines: Vec<String>,
    /// Whether it only says what stands on an earlier page or higher up.
    pub repeated: bool,
}

/// A page of rows.
#[derive(Debug, Clone, Default)]
pub struct Page {
    /// The rows, from the top down.
    pub rows: Vec<Set>,
    /// Its height.
    pub height: f64,
}

impl Page {
    fn add(&mut self, row: usize, level: usize, lines: Vec<String>, repeated: bool) {
        let top = self.height;
        self.height += height(&lines);
        self.rows.push(Set {
            row,
            level,
            top,
            middle: top + PADDING + LINE,
            lines,
            repeated,
        });
    }
}

fn height(lines: &[String]) -> f64 {
    // A symbol needs the room of two lines.
    LINE * lines.len().max(2) as f64 + 2.0 * PADDING
}

/// Sets all rows on as many pages as they need.
pub fn pages(rows: &[Row]) -> Vec<Page> {
    let levels = levels(rows);
    let mut pages = Vec::new();
    let mut page = Page::default();
    for (index, row) in rows.iter().enumerate() {
        let lines = lines(row, levels[index]);
        let most = if pages.is_empty() {
            FIRST_HEIGHT
        } else {
            HEIGHT
        };
        // The head of a branch stays with what comes first on it.
        let next = rows.get(index + 1);
        let next = next.filter(|next| next.parent == Some(index));
        let first = next.map_or(0.0, |next| height(&self::lines(next, levels[index + 1])));
        let full = page.height + height(&lines) + first > most;
        if full && !page.rows.is_empty() {
            pages.push(std::mem::take(&mut page));
            for ancestor in ancestors(rows, index) {
                let level = levels[ancestor];
                page.add(ancestor, level, repeated(&rows[ancestor], level), true);
            }
        }
        page.add(index, levels[index], lines, false);
    }
    if !page.rows.is_empty() {
        pages.push(page);
    }
    pages
}

/// How deep each row stands.
fn levels(rows: &[Row]) -> Vec<usize> {
    let mut levels: Vec<usize> = Vec::with_capacity(rows.len());
    for row in rows {
        levels.push(row.parent.map_or(0, |parent| levels[parent] + 1));
    }
    levels
}

/// What a row hangs on, from the left on.
fn ancestors(rows: &[Row], row: usize) -> Vec<usize> {
    let parents = std::iter::successors(rows[row].parent, |at| rows[*at].parent);
    let mut found: Vec<usize> = parents.collect();
    found.reverse();
    found
}

fn lines(row: &Row, level: usize) -> Vec<String> {
    let name = match row.again {
        Some(Elsewhere::Above) => format!("{} (see above)", row.name),
        Some(Elsewhere::Below) => format!("{} (see below)", row.name),
        None => row.name.clone(),
    };
    let told = match &row.by {
        By::Start => String::new(),
        By::Lead { told, .. } | By::Metal { told } => told.clone(),
    };
    let letters = room(level);
    let mut lines = broken(&within(&name, letters * 2), letters);
    if !told.is_empty() {
        lines.extend(broken(&told, letters));
    }
    cut_short(lines, letters)
}

fn repeated(row: &Row, level: usize) -> Vec<String> {
    let letters = room(level);
    cut_short(
        broken(
            &format!("{}, continued", within(&row.name, letters)),
            letters,
        ),
        letters,
    )
}

/// How many letters fit beside the symbol of a level.
fn room(level: usize) -> usize {
    let left = LEFT + STEP * level as f64 + BESIDE + super::symbol::HALF;
    letters_within(WIDTH - left)
}

/// Words that cannot be broken are cut, and lines that are too many.
fn cut_short(lines: Vec<String>, letters: usize) -> Vec<String> {
    let mut lines: Vec<String> = lines.iter().map(|line| within(line, letters)).collect();
    if lines.len() > MOST_LINES {
        lines.truncate(MOST_LINES);
        if let Some(last) = lines.last_mut() {
            *last = within(&format!("{last} …"), letters);
        }
    }
    lines
}

fn within(text: &str, letters: usize) -> String {
    if text.chars().count() <= letters {
        return text.to_owned();
    }
    let kept: String = text.chars().take(letters.saturating_sub(1)).collect();
    format!("{}…", kept.trim_end())
}

/// Where the words of a line stand, on the letters' foot.
pub fn foot(set: &Set, line: usize) -> f64 {
    set.top + PADDING + LINE * line as f64 + LETTERS
}
