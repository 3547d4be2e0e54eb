//! Writes a drawing as SVG 1.1 (W3C), text as text.
//!
//! Black is the colour of the text around it, so that a drawing within a dark page stays readable.

use std::fmt::Write as _;

use super::{Anchor, Dash, Drawing, Ink, Point, Shape};

/// The whole of a file.
pub fn file(drawing: &Drawing) -> String {
    format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{}",
        element(drawing)
    )
}

/// The element alone, to stand within a page.
pub fn element(drawing: &Drawing) -> String {
    let (width, height) = (shown(drawing.width), shown(drawing.height));
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
         viewBox=\"0 0 {width} {height}\" role=\"img\" font-family=\"sans-serif\">\n\
         <title>{}</title>\n<desc>{}</desc>\n",
        escaped(&drawing.title),
        escaped(&drawing.told)
    );
    for shape in &drawing.shapes {
        out.push_str(&written(shape));
    }
    out.push_str("</svg>\n");
    out
}

fn written(shape: &Shape) -> String {
    match shape {
        Shape::Line {
            points,
            ink,
            width,
            dash,
        } => {
            let broken = match dash {
                Dash::Solid => "",
                Dash::Dashed => " stroke-dasharray=\"2 1.2\"",
            };
            format!(
                "<polyline points=\"{}\" fill=\"none\" {} stroke-width=\"{}\" \
                 stroke-linejoin=\"round\"{broken}/>\n",
                listed(points),
                paint("stroke", *ink),
                shown(*width)
            )
        }
        Shape::Area { points, ink } => format!(
            "<polygon points=\"{}\" {}/>\n",
            listed(points),
            paint("fill", *ink)
        ),
        Shape::Circle {
            centre,
            radius,
            ink,
            width,
        } => format!(
            "<circle cx=\"{}\" cy=\"{}\" r=\"{}\" fill=\"none\" {} stroke-width=\"{}\"/>\n",
            shown(centre.x),
            shown(centre.y),
            shown(*radius),
            paint("stroke", *ink),
            shown(*width)
        ),
        Shape::Words {
            at,
            words,
            size,
            anchor,
            ink,
            bold,
        } => {
            let anchor = match anchor {
                Anchor::Start => "start",
                Anchor::Middle => "middle",
                Anchor::End => "end",
            };
            let weight = if *bold { " font-weight=\"bold\"" } else { "" };
            format!(
                "<text x=\"{}\" y=\"{}\" font-size=\"{}\" text-anchor=\"{anchor}\" {}{weight}>{}</text>\n",
                shown(at.x),
                shown(at.y),
                shown(*size),
                paint("fill", *ink),
                escaped(words)
            )
        }
    }
}

/// A colour that reads on white and on black paper.
fn paint(what: &str, ink: Ink) -> String {
    let (colour, opacity) = match ink {
        Ink::Black => ("currentColor", "1"),
        Ink::Grey => ("currentColor", "0.7"),
        Ink::Line => ("currentColor", "0.3"),
        Ink::Pale => ("currentColor", "0.1"),
        Ink::Cool => ("#2f6fb0", "0.3"),
        Ink::Warm => ("#d99a1c", "0.4"),
        Ink::Hot => ("#c8451b", "0.5"),
        Ink::Blue => ("#2f7fd0", "1"),
        Ink::Red => ("#d0451b", "1"),
    };
    format!("{what}=\"{colour}\" {what}-opacity=\"{opacity}\"")
}

fn listed(points: &[Point]) -> String {
    let mut out = String::new();
    for point in points {
        let space = if out.is_empty() { "" } else { " " };
        let _ = write!(out, "{space}{},{}", shown(point.x), shown(point.y));
    }
    out
}

/// To the hundredth of a millimetre, without idle zeros.
fn shown(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    match text {
        "" | "-0" => "0".to_owned(),
        text => text.to_owned(),
    }
}

/// Text that no reader takes for markup; signs that XML forbids are left out.
fn escaped(words: &str) -> String {
    let shown = words.chars().filter_map(|letter| match letter {
        '\n' | '\t' => Some(' '),
        control if control.is_control() => None,
        // What turns the direction of writing would carry over into the words beside it.
        '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{200e}' | '\u{200f}' => None,
        letter => Some(letter),
    });
    without_markup(&shown.collect::<String>())
}

/// Text in which the signs that XML and HTML take for markup stand for themselves.
pub fn without_markup(words: &str) -> String {
    let mut escaped = String::with_capacity(words.len());
    for letter in words.chars() {
        match letter {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\'' => escaped.push_str("&#39;"),
            letter => escaped.push(letter),
        }
    }
    escaped
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn markup_in_names_comes_out_as_text() {
        let drawing = Drawing {
            name: "x".to_owned(),
            title: "<script>\u{1b}[31m\"&'".to_owned(),
            told: "]]>\u{202e}".to_owned(),
            width: 10.0,
            height: 5.5,
            true_size: false,
            shapes: vec![Shape::Words {
                at: Point { x: 1.0, y: 2.005 },
                words: "a</text><script>".to_owned(),
                size: 3.0,
                anchor: Anchor::Start,
                ink: Ink::Black,
                bold: false,
            }],
        };
        let text = file(&drawing);
        assert!(!text.contains("<script"), "{text}");
        assert!(
            text.contains("a&lt;/text&gt;&lt;script&gt;</text>"),
            "{text}"
        );
        assert!(text.contains("<desc>]]&gt;</desc>"), "{text}");
        assert!(
            text.contains("&lt;script&gt;[31m&quot;&amp;&#39;"),
            "{text}"
        );
        assert!(text.contains("viewBox=\"0 0 10 5.5\""), "{text}");
    }

    #[test]
    fn idle_zeros_are_left_out() {
        let given = [1.0, -0.001, 0.1, 12.345, 100.0];
        assert_eq!(given.map(shown), ["1", "0", "0.1", "12.35", "100"]);
    }
}
