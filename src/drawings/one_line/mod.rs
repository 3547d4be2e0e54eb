//! The one-line diagram: every source, device, bus and load, and the lead that joins it to what it
//! hangs on, one line standing for each conductor.
//!
//! Trees grow from the batteries' poles; what closes a ring is named once more where it does. Each
//! row has its own height, so that nothing can lie over anything else whatever the job, and rows go
//! on over as many pages as they need.

mod pages;
mod symbol;
mod tree;

use super::shape::{at, bold, dashed, line, words};
use super::{Anchor, Drawing, Ink, Scene, Shape};
use pages::{BESIDE, LEFT, Page, STEP, Set, WIDTH, foot};
use tree::{By, Protector, Row};

/// The diagram of a plan, page by page.
pub fn one_line(scene: Scene<'_>) -> Vec<Drawing> {
    let rows = tree::rows(scene);
    let pages = pages::pages(&rows);
    let count = pages.len();
    let drawn = pages.iter().enumerate();
    drawn
        .map(|(index, page)| Drawing {
            name: one_line_name(index),
            title: match count {
                1 => "One-line diagram".to_owned(),
                _ => format!("One-line diagram, sheet {} of {count}", index + 1),
            },
            told: told(&rows, page),
            width: WIDTH,
            height: page.height,
            true_size: false,
            shapes: shapes(&rows, page),
        })
        .collect()
}

/// Names of the sheets of a diagram.
pub fn one_line_names(scene: Scene<'_>) -> Vec<String> {
    let sheets = pages::pages(&tree::rows(scene)).len();
    (0..sheets).map(one_line_name).collect()
}

fn one_line_name(sheet: usize) -> String {
    format!("one-line-diagram-{}", sheet + 1)
}

/// A sheet in sentences.
fn told(rows: &[Row], page: &Page) -> String {
    let own = page.rows.iter().filter(|set| !set.repeated);
    let sentences = own.map(|set| {
        let row = &rows[set.row];
        let parent = row.parent.map_or("", |parent| rows[parent].name.as_str());
        match &row.by {
            By::Start => format!("{}.", row.name),
            By::Lead { told, .. } | By::Metal { told } => {
                format!("{parent} to {}: {told}.", row.name)
            }
        }
    });
    sentences.collect::<Vec<_>>().join(" ")
}

fn shapes(rows: &[Row], page: &Page) -> Vec<Shape> {
    let mut shapes = Vec::new();
    for (index, set) in page.rows.iter().enumerate() {
        shapes.extend(trunk(rows, page, index));
        if !set.repeated {
            shapes.extend(joining(&rows[set.row], set));
        } else if set.level > 0 {
            shapes.push(level_line(
                set,
                parent_x(set),
                symbol_x(set) - symbol::HALF,
                Ink::Grey,
            ));
        }
        let ink = if set.repeated || rows[set.row].again.is_some() {
            Ink::Grey
        } else {
            Ink::Black
        };
        shapes.extend(symbol::item(
            rows[set.row].item,
            at(symbol_x(set), set.middle),
            ink,
        ));
        shapes.extend(writing(set));
    }
    shapes
}

fn symbol_x(set: &Set) -> f64 {
    LEFT + STEP * set.level as f64
}

fn parent_x(set: &Set) -> f64 {
    symbol_x(set) - STEP
}

/// The line down from an item to the last that hangs on it on this page, and on to the next page
/// where more do.
fn trunk(rows: &[Row], page: &Page, index: usize) -> Option<Shape> {
    let set = &page.rows[index];
    let below = &page.rows[index + 1..];
    // Whatever stands no deeper ends the branch.
    let own = below.iter().take_while(|other| other.level > set.level);
    let children = own
        .clone()
        .filter(|other| other.level == set.level + 1 && rows[other.row].parent == Some(set.row));
    let last = children.last()?.middle;
    let reaches_the_end = own.count() == below.len();
    let shown = page.rows.last().map_or(0, |last| last.row);
    let later = rows.iter().enumerate().skip(shown + 1);
    let mut later = later.filter(|(_, row)| row.parent == Some(set.row));
    let foot = match reaches_the_end && later.next().is_some() {
        true => page.height,
        false => last,
    };
    let x = symbol_x(set);
    let top = set.middle + symbol::HALF;
    Some(line(vec![at(x, top), at(x, foot)], Ink::Black, WIRE))
}

/// Width of the line of a conductor.
const WIRE: f64 = 0.35;

fn level_line(set: &Set, from: f64, to: f64, ink: Ink) -> Shape {
    line(vec![at(from, set.middle), at(to, set.middle)], ink, WIRE)
}

/// The line from the trunk to an item, with what protects it.
fn joining(row: &Row, set: &Set) -> Vec<Shape> {
    let (from, to) = (parent_x(set), symbol_x(set) - symbol::HALF);
    match &row.by {
        By::Start => Vec::new(),
        By::Metal { .. } => vec![dashed(
            vec![at(from, set.middle), at(to, set.middle)],
            Ink::Black,
            WIRE,
        )],
        By::Lead { guard: None, .. } => vec![level_line(set, from, to, Ink::Black)],
        By::Lead {
            guard: Some(guard), ..
        } => guarded(*guard, set, from, to),
    }
}

fn guarded(guard: Protector, set: &Set, from: f64, to: f64) -> Vec<Shape> {
    let centre = (from + to) / 2.0;
    let (left, right) = symbol::gap(guard);
    let mut shapes = vec![
        level_line(set, from, centre - left, Ink::Black),
        level_line(set, centre + right, to, Ink::Black),
    ];
    shapes.extend(symbol::protector(guard, at(centre, set.middle), Ink::Black));
    shapes
}

fn writing(set: &Set) -> Vec<Shape> {
    let x = symbol_x(set) + BESIDE;
    let lines = set.lines.iter().enumerate();
    lines
        .map(|(index, text)| {
            let place = at(x, foot(set, index));
            match index {
                0 if !set.repeated => bold(place, text.clone(), Anchor::Start),
                _ => words(place, text.clone(), Anchor::Start, Ink::Grey),
            }
        })
        .collect()
}
