//! Drill templates: every hole at its true size, to be laid on the work.

use std::collections::BTreeMap;

use super::lettering::{broken, letters_within};
use super::shape::{at, bold, line, words};
use super::{Anchor, Drawing, Ink, Scene, Shape};
use crate::quantity::Length;

/// The name of the drawing.
pub const DRILL_TEMPLATES: &str = "drill-templates";

const WIDTH: f64 = 170.0;
/// Room round a hole.
const AROUND: f64 = 8.0;
/// Length of the bar that proves the size of the print.
const BAR: f64 = 100.0;
/// Room for the words of a hole.
const HEAD: f64 = 11.0;

/// One page of holes: each size once, with where it is wanted. Nothing where no hole is drilled.
pub fn drill_templates(scene: Scene<'_>) -> Option<Drawing> {
    let holes = holes(scene);
    if holes.is_empty() {
        return None;
    }
    let mut shapes = bar();
    let mut top = 18.0;
    for hole in &holes {
        shapes.extend(template(hole, top));
        top += hole.height();
    }
    let told = holes
        .iter()
        .map(|hole| format!("{}: {}", hole.size, hole.wanted.join("; ")));
    Some(Drawing {
        name: DRILL_TEMPLATES.to_owned(),
        title: "Drill templates, true size".to_owned(),
        told: told.collect::<Vec<_>>().join(". "),
        width: WIDTH,
        height: top,
        true_size: true,
        shapes,
    })
}

/// Holes of one diameter.
struct Hole {
    diameter: Length,
    /// The same in the job's units.
    size: String,
    wanted: Vec<String>,
}

impl Hole {
    /// Where its words start.
    fn left(&self) -> f64 {
        9.0 + 2.0 * AROUND + self.diameter.mm()
    }

    /// Where it is wanted, in lines that fit beside it.
    fn lines(&self) -> Vec<String> {
        let letters = letters_within(WIDTH - self.left());
        let wanted = self.wanted.iter();
        wanted.flat_map(|text| broken(text, letters)).collect()
    }

    fn height(&self) -> f64 {
        let beside = HEAD + 4.6 * self.lines().len() as f64;
        (self.diameter.mm() + 2.0 * AROUND).max(beside)
    }
}

/// Every diameter in panels, smallest first.
fn holes(scene: Scene<'_>) -> Vec<Hole> {
    let mut by_size: BTreeMap<u64, Hole> = BTreeMap::new();
    for passage in &scene.plan.fittings.passages {
        let Some(diameter) = passage.hole else {
            continue;
        };
        let panel = scene.job.panel(passage.panel);
        let lead = &scene.job.lead(passage.lead).name;
        let text = format!(
            "{}, {} {}, for the {} of {lead}",
            panel.name,
            panel.material,
            scene.job.units.on_calliper(panel.thickness),
            passage.kind
        );
        // Micrometres tell diameters apart and can be sorted.
        let key = (diameter.mm() * 1e3).round() as u64;
        let hole = by_size.entry(key).or_insert(Hole {
            diameter,
            size: scene.job.units.drill(diameter),
            wanted: Vec::new(),
        });
        hole.wanted.push(text);
    }
    by_size.into_values().collect()
}

/// A bar of known length: a printer that shrinks pages would spoil the holes.
fn bar() -> Vec<Shape> {
    let (left, foot) = (5.0, 12.0);
    let mut shapes = vec![
        words(
            at(left, 5.0),
            format!(
                "Print at 100 %. This bar must measure {BAR:.0} mm; if it does not, do not drill by this page."
            ),
            Anchor::Start,
            Ink::Black,
        ),
        line(vec![at(left, foot), at(left + BAR, foot)], Ink::Black, 0.4),
    ];
    for tens in 0..=10 {
        let x = left + f64::from(tens) * BAR / 10.0;
        let high = if tens % 5 == 0 { 3.0 } else { 1.6 };
        shapes.push(line(vec![at(x, foot), at(x, foot - high)], Ink::Black, 0.3));
    }
    shapes
}

fn template(hole: &Hole, top: f64) -> Vec<Shape> {
    let radius = hole.diameter.mm() / 2.0;
    let centre = at(5.0 + AROUND + radius, top + AROUND + radius);
    let reach = radius + 5.0;
    let mut shapes = vec![
        Shape::Circle {
            centre,
            radius,
            ink: Ink::Black,
            width: 0.3,
        },
        line(
            vec![
                at(centre.x - reach, centre.y),
                at(centre.x + reach, centre.y),
            ],
            Ink::Grey,
            0.15,
        ),
        line(
            vec![
                at(centre.x, centre.y - reach),
                at(centre.x, centre.y + reach),
            ],
            Ink::Grey,
            0.15,
        ),
    ];
    let left = hole.left();
    shapes.push(bold(
        at(left, top + 6.0),
        format!("hole {}", hole.size),
        Anchor::Start,
    ));
    for (index, text) in hole.lines().iter().enumerate() {
        let foot = at(left, top + HEAD + 4.6 * index as f64);
        shapes.push(words(foot, text, Anchor::Start, Ink::Black));
    }
    shapes
}
