//! Prints laid-out pages into the operations of a PDF page.

use super::face::Face;
use super::page::{Area, HALF_CAPITAL, Ink, Item, Mark, Pages};
use printpdf::{
    Color, FontId, Line, LineDashPattern, LinePoint, Op, PaintMode, PdfFontHandle, PdfPage, Point,
    Polygon, PolygonRing, Pt, Rect, Rgb, TextItem, TextMatrix, WindingOrder,
};

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
        Mark::Stroke {
            points,
            ink,
            width,
            dashed,
        } => {
            let line = Line {
                points: corners(area, points, page_height),
                is_closed: false,
            };
            vec![
                Op::SetOutlineColor { col: color(*ink) },
                Op::SetOutlineThickness { pt: Pt(*width) },
                Op::SetLineDashPattern {
                    dash: dashes(*dashed),
                },
                Op::DrawLine { line },
                Op::SetLineDashPattern {
                    dash: dashes(false),
                },
            ]
        }
        Mark::Shade { points, ink } => {
            let ring = PolygonRing {
                points: corners(area, points, page_height),
            };
            let polygon = Polygon {
                rings: vec![ring],
                mode: PaintMode::Fill,
                winding_order: WindingOrder::NonZero,
            };
            vec![
                Op::SetFillColor { col: color(*ink) },
                Op::DrawPolygon { polygon },
            ]
        }
    }
}

/// Points of a line or polygon as the format wants them.
fn corners(area: &Area, points: &[(f32, f32)], page_height: f32) -> Vec<LinePoint> {
    let placed = points.iter().map(|(right, down)| LinePoint {
        p: Point {
            x: Pt(area.left + right),
            y: Pt(page_height - area.top - down),
        },
        bezier: false,
    });
    placed.collect()
}

fn dashes(dashed: bool) -> LineDashPattern {
    if dashed {
        LineDashPattern {
            offset: 0.0,
            pattern: [5.0, 3.0].into_iter().collect(),
        }
    } else {
        LineDashPattern::default()
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
        Ink::Cool => (0.8, 0.88, 0.95),
        Ink::Warm => (0.98, 0.88, 0.65),
        Ink::Hot => (0.95, 0.7, 0.6),
        Ink::Blue => (0.1, 0.4, 0.75),
        Ink::Red => (0.75, 0.2, 0.05),
    };
    Color::Rgb(Rgb {
        r,
        g,
        b,
        icc_profile: None,
    })
}
