//! Drawings, read back as a person with a ruler would read them.

use std::collections::BTreeSet;

use longlead::drawings::{Anchor, Dash, Drawing, Ink, Point, Shape, svg};

use super::support::{Planned, files};

fn jobs() -> Vec<&'static Planned> {
    let folders = ["templates/jobs", "tests/jobs/odd", "tests/jobs/traps"];
    let paths = folders.into_iter().flat_map(files);
    paths.map(|path| Planned::of_file(&path)).collect()
}

/// Left, top, right and bottom of words. Letters of this face are narrower than this on average.
fn box_of(shape: &Shape) -> Option<[f64; 4]> {
    let Shape::Words {
        at,
        words,
        size,
        anchor,
        ..
    } = shape
    else {
        return None;
    };
    let width = 0.56 * size * words.chars().count() as f64;
    let left = match anchor {
        Anchor::Start => at.x,
        Anchor::Middle => at.x - width / 2.0,
        Anchor::End => at.x - width,
    };
    Some([left, at.y - 0.72 * size, left + width, at.y + 0.2 * size])
}

fn words(drawing: &Drawing) -> Vec<&str> {
    let words = drawing.shapes.iter().filter_map(|shape| match shape {
        Shape::Words { words, .. } => Some(words.as_str()),
        _ => None,
    });
    words.collect()
}

#[test]
fn nothing_leaves_the_paper_and_no_words_hide_others() {
    for planned in jobs() {
        for drawing in planned.drawings() {
            let name = &drawing.name;
            let inside = |point: &Point| {
                (-0.01..=drawing.width + 0.01).contains(&point.x)
                    && (-0.01..=drawing.height + 0.01).contains(&point.y)
            };
            for shape in &drawing.shapes {
                if let Shape::Line { points, .. } | Shape::Area { points, .. } = shape {
                    assert!(points.iter().all(inside), "{name}: {shape:?}");
                }
            }
            let boxes: Vec<[f64; 4]> = drawing.shapes.iter().filter_map(box_of).collect();
            for (index, one) in boxes.iter().enumerate() {
                assert!(
                    one[0] >= -0.5 && one[2] <= drawing.width + 0.5,
                    "{name}: {one:?}"
                );
                assert!(
                    one[1] >= -0.01 && one[3] <= drawing.height + 0.01,
                    "{name}: {one:?}"
                );
                for other in &boxes[index + 1..] {
                    let apart = one[2] <= other[0]
                        || other[2] <= one[0]
                        || one[3] <= other[1] + 0.01
                        || other[3] <= one[1] + 0.01;
                    assert!(apart, "{name}: {one:?} {other:?} {:?}", words(&drawing));
                }
            }
        }
    }
}

#[test]
fn every_drawing_is_well_formed_and_has_a_file_of_its_own() {
    for planned in jobs() {
        let mut names = BTreeSet::new();
        for drawing in planned.drawings() {
            let text = svg::file(&drawing);
            let document = roxmltree::Document::parse(&text).unwrap();
            let written = document
                .descendants()
                .filter(|node| node.has_tag_name("text"));
            let written = written.map(|node| node.text().unwrap_or("").to_owned());
            assert_eq!(written.collect::<Vec<_>>(), words(&drawing));
            assert!(names.insert(drawing.name.clone()), "{} twice", drawing.name);
        }
    }
}

#[test]
fn a_strip_map_shows_every_clamp_panel_and_place_of_its_lead() {
    for planned in jobs() {
        let (job, plan) = (&planned.job, &planned.plan);
        let drawings = planned.drawings();
        let ways = plan.route.leads.iter();
        let ways = ways.filter(|way| !way.way.legs.is_empty());
        for (way, map) in ways.zip(&drawings) {
            let name = &job.lead(way.lead).name;
            assert!(
                map.title.ends_with(name.as_str()),
                "{} for {name}",
                map.title
            );
            let all = words(map).join(" ");
            for place in &way.way.places {
                let place = &job.place(*place).name;
                assert!(all.contains(place.as_str()), "{place} is not in {all}");
            }
            for crossing in &way.crossings {
                let panel = &job.panel(crossing.panel).name;
                assert!(
                    all.contains(&format!("through {panel}")),
                    "{panel} is not in {all}"
                );
            }
            let clamps = plan.fittings.clamps.iter();
            let held = clamps
                .filter(|clamp| way.way.legs.contains(&clamp.leg) && clamp.leads.contains(name));
            // Distances of clamps are the words that end at the left of the strip.
            let shown = map.shapes.iter().filter(|shape| {
                matches!(
                    shape,
                    Shape::Words {
                        anchor: Anchor::End,
                        ..
                    }
                )
            });
            assert_eq!(shown.count(), held.count(), "{name}");
        }
    }
}

#[test]
fn drill_templates_are_true_to_size() {
    let mut drilled = 0;
    for planned in jobs() {
        let drawings = planned.drawings();
        let passages = planned.plan.fittings.passages.iter();
        let holes: BTreeSet<u64> = passages
            .filter_map(|passage| passage.hole)
            .map(|hole| (hole.mm() * 1e3).round() as u64)
            .collect();
        let sheet = drawings.iter().find(|drawing| drawing.true_size);
        assert_eq!(sheet.is_some(), !holes.is_empty());
        let Some(sheet) = sheet else {
            continue;
        };
        let circles = sheet.shapes.iter().filter_map(|shape| match shape {
            Shape::Circle { radius, .. } => Some((radius * 2e3).round() as u64),
            _ => None,
        });
        assert_eq!(circles.collect::<BTreeSet<u64>>(), holes);
        let bar = sheet.shapes.iter().find_map(|shape| match shape {
            Shape::Line { points, .. } => Some(points[1].x - points[0].x),
            _ => None,
        });
        assert!((bar.unwrap() - 100.0).abs() < 1e-9);
        drilled += holes.len();
    }
    assert!(drilled > 5, "{drilled}");
}

/// A scale read from two of its marks: the logarithm of a value from a distance.
fn logarithm(marks: &[(f64, f64)], distance: f64) -> f64 {
    let ((near, low), (far, high)) = (marks[0], marks[marks.len() - 1]);
    low.log10() + (high.log10() - low.log10()) * (distance - near) / (far - near)
}

#[test]
fn a_plot_read_with_a_ruler_gives_the_opening_time_of_the_plan() {
    let mut read = 0;
    for planned in jobs() {
        let guards = planned.plan.protection.guards.iter();
        for guard in guards {
            let Some(time) = guard.opens_within_s.filter(|time| *time > 2e-3) else {
                continue;
            };
            let name = longlead::drawings::time_current_name(&planned.job, guard.lead);
            let drawings = planned.drawings();
            let plot = drawings
                .iter()
                .find(|drawing| drawing.name == name)
                .unwrap();
            let numbers = |anchor: Anchor| -> Vec<(f64, f64)> {
                let marks = plot.shapes.iter().filter_map(|shape| match shape {
                    Shape::Words {
                        at,
                        words,
                        anchor: found,
                        ..
                    } if *found == anchor => {
                        let place = if anchor == Anchor::Middle {
                            at.x
                        } else {
                            at.y - 1.1
                        };
                        Some((place, words.parse().ok()?))
                    }
                    _ => None,
                });
                marks.collect()
            };
            let (amps, seconds) = (numbers(Anchor::Middle), numbers(Anchor::End));
            let opens = plot.shapes.iter().find_map(|shape| match shape {
                Shape::Line {
                    points,
                    ink: Ink::Blue,
                    width,
                    dash: Dash::Solid,
                } if *width > 0.6 => Some(points),
                _ => None,
            });
            let fault = guard.fault_far.a().log10();
            let pair = opens.unwrap().windows(2).find(|pair| {
                logarithm(&amps, pair[0].x) <= fault && fault <= logarithm(&amps, pair[1].x)
            });
            let Some([before, after]) = pair else {
                panic!(
                    "{name}: the curve is not drawn at {} A",
                    guard.fault_far.a()
                );
            };
            let seen = (logarithm(&seconds, before.y) + logarithm(&seconds, after.y)) / 2.0;
            // Half a step of the drawn curve, where it is steepest.
            assert!(
                (seen - time.log10()).abs() < 0.2,
                "{name}: {} for {time}",
                10f64.powf(seen)
            );
            read += 1;
        }
    }
    assert!(read > 20, "{read}");
}

#[test]
fn the_one_line_diagram_names_every_lead_device_and_load() {
    for planned in jobs() {
        let drawings = planned.drawings();
        let sheets = drawings.iter();
        let sheets = sheets.filter(|drawing| drawing.name.starts_with("one-line-diagram"));
        let told: Vec<&str> = sheets.map(|sheet| sheet.told.as_str()).collect();
        let told = told.join(" ");
        for lead in &planned.job.leads {
            let start = format!(": {}, ", lead.name);
            assert!(told.contains(&start), "{start} in {told}");
        }
        for device in &planned.job.devices {
            assert!(told.contains(device.given.name.value.as_str()), "{told}");
        }
    }
}
