//! The same bytes every time, and names that come out inert.

use longlead::documents::pdf::PaperSize;
use longlead::documents::{self, Form, Label};

use super::support::{Planned, root};

const DOCUMENTS: [(&str, &str); 12] = [
    ("bill_of_materials", "Bill of materials"),
    ("shopping_list", "Shopping list"),
    ("cut_list", "Cut list"),
    ("crimp_schedule", "Crimp schedule"),
    ("labels", "Labels"),
    ("sizing_report", "Sizing report"),
    ("volts", "Volts"),
    ("faults", "Faults"),
    ("checks", "Checks"),
    ("route_sheet", "Route sheet"),
    ("drill_templates", "Drill templates"),
    ("install_plan", "Install plan"),
];

fn forms() -> [Form; 5] {
    let text = |width| Form::Text {
        width,
        colour: false,
    };
    [
        text(80),
        text(120),
        Form::Markdown,
        Form::Html,
        Form::Pdf(PaperSize::A4),
    ]
}

fn written(planned: &Planned, document: (&str, &str), form: Form) -> Vec<u8> {
    let view = planned.view();
    let label = Label::new(&view.title, view.status);
    documents::write(
        document.0,
        document.1,
        &view,
        &planned.drawings(),
        &label,
        form,
    )
    .unwrap()
}

/// What is worked out side by side is put together in its own order.
#[test]
fn any_number_of_processors_gives_the_same_plan() {
    let path = root().join("templates/jobs/harbour-launch.toml");
    let text = std::fs::read_to_string(&path).unwrap();
    let plan = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads);
        let pool = pool.build().unwrap();
        pool.install(|| serde_json::to_string(&Planned::of_text(&text).view()).unwrap())
    };
    assert_eq!(plan(1), plan(5));
}

#[test]
fn two_runs_give_the_same_bytes_in_every_form() {
    let path = root().join("templates/jobs/weekend-van.toml");
    let text = std::fs::read_to_string(&path).unwrap();
    let (first, second) = (Planned::of_text(&text), Planned::of_text(&text));
    for document in DOCUMENTS {
        for form in forms() {
            let (one, two) = (
                written(&first, document, form),
                written(&second, document, form),
            );
            assert!(one == two, "{} as {form:?}", document.1);
        }
    }
    let json = |planned: &Planned| serde_json::to_string(&planned.view()).unwrap();
    assert!(json(&first) == json(&second));
}

#[test]
fn every_document_says_whether_the_plan_is_ready() {
    let folder = root().join("tests/jobs");
    let ready = Planned::of_file(&root().join("templates/jobs/weekend-van.toml"));
    let broken = Planned::of_file(&folder.join("broken/weekend-van-bare-charge-lead.toml"));
    for document in DOCUMENTS {
        let text = |planned| String::from_utf8(written(planned, document, Form::Markdown)).unwrap();
        assert!(text(ready).contains("**READY TO BUILD**"), "{}", document.1);
        assert!(
            text(broken).contains("**NOT READY TO BUILD**"),
            "{}",
            document.1
        );
    }
}

#[test]
fn no_line_of_text_is_wider_than_asked() {
    let planned = Planned::of_file(&root().join("tests/jobs/odd/strange-names.toml"));
    for document in DOCUMENTS {
        for width in [60, 80, 120] {
            let form = Form::Text {
                width,
                colour: false,
            };
            let text = String::from_utf8(written(planned, document, form)).unwrap();
            for line in text.lines() {
                let columns = unicode_width::UnicodeWidthStr::width(line);
                assert!(columns <= width, "{} at {width}: {line}", document.1);
            }
        }
    }
}

#[test]
fn strange_names_do_not_become_markup() {
    let planned = Planned::of_file(&root().join("tests/jobs/odd/strange-names.toml"));
    for document in DOCUMENTS {
        let page = String::from_utf8(written(planned, document, Form::Html)).unwrap();
        let body = page.split("<body").nth(1).unwrap();
        // The page's own script is the only one.
        let scripts = body.matches("<script").count();
        assert!(scripts <= 1 && !body.contains("<b>"), "{}", document.1);
    }
}
