//! Prints laid-out pages into the operations of a PDF page.

use super::face::Face;
use super::page::{Area, Ink, Item, Mark, Pages};
use printpdf::{
    Color, FontId, Line, LinePoint, Op, PaintMode, PdfFontHandle, PdfPage, Point, Pt, Rect, Rgb,
    TextItem, TextMatrix,
};

/// Half the height of a capital, as a part of the letter size: it centres the
/// words within their line.
const HALF_CAPITAL: f32 = 0.357;

/// The name of a face's font within the file. It is fixed so that the same
/// document gives the same bytes.
pub(super) fn font_id(face: Face) -> FontId {
    FontId(face.name().to_string())
}

/// The pages as operations, measured from the bottom left as the format wants.
pub(super) fn pdf_pages(pages: &Pages) -> Vec<PdfPage> {
    let paint = |items: &Vec<Item>| {
        let operations = items.iter().flat_map(|item| operations(item, pages.height));
        PdfPage::new(
            Pt(pages.width).into(),
            Pt(pages.height).into(),
            operations.collect(),
        )
    };
    pages.pages.iter().map(paint).collect()
}

fn operations(item: &Item, page_height: f32) -> Vec<Op> {
    let area = &item.area;
    match &item.mark {
        Mark::Words {
            words,
            face,
            size,
            ink,
        } => {
            let baseline = area.top + area.height / 2.0 + HALF_CAPITAL * size;
            let place = TextMatrix::Translate(Pt(area.left), Pt(page_height - baseline));
            vec![
                Op::StartTextSection,
                Op::SetFillColor { col: color(*ink) },
                Op::SetFont {
                    font: PdfFontHandle::External(font_id(*face)),
                    size: Pt(*size),
                },
                Op::SetTextMatrix { matrix: place },
                Op::ShowText {
                    items: vec![TextItem::Text(words.clone())],
                },
                Op::EndTextSection,
            ]
        }
        Mark::Fill(ink) => vec![
            Op::SetFillColor { col: color(*ink) },
            Op::DrawRectangle {
                rectangle: rectangle(area, page_height, PaintMode::Fill),
            },
        ],
        Mark::TickBox { ticked } => tick_box(area, page_height, *ticked),
    }
}

fn tick_box(area: &Area, page_height: f32, ticked: bool) -> Vec<Op> {
    let mut operations = vec![
        Op::SetOutlineColor {
            col: color(Ink::Black),
        },
        Op::SetOutlineThickness { pt: Pt(0.8) },
        Op::DrawRectangle {
            rectangle: rectangle(area, page_height, PaintMode::Stroke),
        },
    ];
    if ticked {
        let corner = |right: f32, down: f32| LinePoint {
            p: Point {
                x: Pt(area.left + area.width * right),
                y: Pt(page_height - area.top - area.height * down),
            },
            bezier: false,
        };
        let line = Line {
            points: vec![corner(0.2, 0.55), corner(0.42, 0.78), corner(0.82, 0.22)],
            is_closed: false,
        };
        operations.push(Op::SetOutlineThickness { pt: Pt(1.2) });
        operations.push(Op::DrawLine { line });
    }
    operations
}

fn rectangle(area: &Area, page_height: f32, mode: PaintMode) -> Rect {
    let bottom = page_height - area.bottom();
    Rect {
        mode: Some(mode),
        ..Rect::from_xywh(Pt(area.left), Pt(bottom), Pt(area.width), Pt(area.height))
    }
}

fn color(ink: Ink) -> Color {
    let (r, g, b) = match ink {
        Ink::Black => (0.0, 0.0, 0.0),
        Ink::Grey => (0.35, 0.35, 0.35),
        Ink::Line => (0.75, 0.75, 0.75),
        Ink::Band => (0.95, 0.95, 0.95),
        Ink::Warning => (0.75, 0.35, 0.0),
    };
    Color::Rgb(Rgb {
        r,
        g,
        b,
        icc_profile: None,
    })
}
