//! Which documents there are, and each in every form.

use std::sync::Arc;

use rayon::prelude::*;
use serde::Serialize;

use super::arguments::{DocumentName, FormName};
use super::error::CommandError;
use super::input::Loaded;
use super::output::json;
use super::quote::{Beside, offered};
use super::templates::names_of;
use crate::diagnostic::Diagnostic;
use crate::documents::block::Document;
use crate::documents::pdf::PaperSize;
use crate::documents::view::{CostingView, CustomerView, PlanView};
use crate::documents::{self, DocumentError, Form, Label, html, quote_rows, template};
use crate::drawings::{self, Drawing, Scene};
use crate::plan::{Plan, Status};
use crate::quote::{self, Quote, Request};

/// A plan with everything that documents are written from.
pub struct Pack<'a> {
    /// What it was made from.
    pub loaded: &'a Loaded,
    /// The plan.
    pub plan: &'a Plan,
    /// The plan as readers see it.
    pub view: PlanView,
    /// Every drawing.
    pub drawings: Vec<Arc<Drawing>>,
    /// Number and date of the quote.
    request: Request,
    /// Variants offered beside the plan in the quote.
    beside: Vec<Beside<'a>>,
}

/// A document before it has a form.
pub struct ReadDocument {
    /// Which one.
    pub name: DocumentName,
    /// Its blocks.
    pub document: Document,
    /// What heads its pages.
    pub label: Label,
}

impl DocumentName {
    /// The documents that people read, in the order of the pack.
    pub const READ: [Self; 18] = [
        Self::Bill,
        Self::Shopping,
        Self::Quote,
        Self::Costing,
        Self::Cuts,
        Self::Crimps,
        Self::Labels,
        Self::Sizing,
        Self::Volts,
        Self::Faults,
        Self::Checks,
        Self::Route,
        Self::Drill,
        Self::Diagram,
        Self::Layout,
        Self::Install,
        Self::Readings,
        Self::Spares,
    ];

    /// Those of them that show what the work is worth, and to whom: they are handed over one by one.
    const MONEY: [Self; 2] = [Self::Quote, Self::Costing];

    /// Those of them that have rows for a spreadsheet.
    pub const ROWS: [Self; 9] = [
        Self::Bill,
        Self::Shopping,
        Self::Quote,
        Self::Costing,
        Self::Cuts,
        Self::Labels,
        Self::Faults,
        Self::Readings,
        Self::Spares,
    ];

    /// Title, which is also the file name with spaces as dashes.
    pub fn title(self) -> &'static str {
        match self {
            Self::Bill => "Bill of materials",
            Self::Shopping => "Shopping list",
            Self::Quote => "Quote",
            Self::Costing => "Costing",
            Self::Cuts => "Cut list",
            Self::Crimps => "Crimp schedule",
            Self::Labels => "Labels",
            Self::Sizing => "Sizing report",
            Self::Volts => "Volts",
            Self::Faults => "Faults",
            Self::Checks => "Checks",
            Self::Route => "Route sheet",
            Self::Drill => "Drill templates",
            Self::Diagram => "One-line diagram",
            Self::Layout => "Layout",
            Self::Install => "Install plan",
            Self::Readings => "Readings sheet",
            Self::Spares => "Spares kit",
            Self::Plan => "Plan",
            Self::Circuit => "Circuit",
        }
    }

    /// Name of the file without its ending.
    pub fn file_stem(self) -> String {
        self.title().to_lowercase().replace(' ', "-")
    }

    fn template(self) -> String {
        self.title().to_lowercase().replace([' ', '-'], "_")
    }
}

impl<'a> Pack<'a> {
    /// The pack of a plan.
    pub fn of(loaded: &'a Loaded, plan: &'a Plan) -> Self {
        let scene = Scene {
            job: &loaded.job,
            plan,
            catalog: &loaded.catalog,
        };
        let (view, drawings) = rayon::join(
            || PlanView::of(plan, &loaded.job, &loaded.catalog),
            || drawings::all(scene).into_iter().map(Arc::new).collect(),
        );
        Self {
            loaded,
            plan,
            view,
            drawings,
            request: Request::default(),
            beside: Vec::new(),
        }
    }

    /// The same with the head of its quote, and with variants beside the plan.
    #[must_use]
    pub fn quoting(self, request: Request, beside: Vec<Beside<'a>>) -> Self {
        Self {
            request,
            beside,
            ..self
        }
    }

    /// Whether the plan, and all that is offered beside it, may be built.
    pub fn status(&self) -> Status {
        let plans = self.beside.iter().map(|beside| &beside.plan);
        let mut plans = plans.chain([self.plan]);
        match plans.all(|plan| plan.status() == Status::Ready) {
            true => Status::Ready,
            false => Status::NotReady,
        }
    }

    /// The prices.
    fn quote(&self) -> Result<Quote, CommandError> {
        let Loaded {
            job,
            shop,
            catalog,
            library,
            ..
        } = self.loaded;
        let offered = offered(job, self.plan, &self.beside);
        quote::price(&offered, shop, catalog, library, &self.request)
            .map_err(|mistakes| self.loaded.mistakes(&mistakes))
    }

    fn customer(&self) -> Result<CustomerView, CommandError> {
        Ok(CustomerView::of(
            &self.quote()?,
            &self.view.title,
            &self.loaded.shop,
        ))
    }

    fn costing(&self) -> Result<CostingView, CommandError> {
        Ok(CostingView::of(&self.quote()?, &self.view.title))
    }

    /// One document in a form that is made from its template.
    pub fn written(&self, name: DocumentName, form: Form) -> Result<Vec<u8>, CommandError> {
        match name {
            DocumentName::Quote => self.filled(name, &self.customer()?, self.status(), form),
            DocumentName::Costing => self.filled(name, &self.costing()?, self.status(), form),
            _ => self.filled(name, &self.view, self.plan.status(), form),
        }
    }

    fn label(&self, status: Status) -> Label {
        Label::new(&self.view.title, status.as_str()).on(&self.loaded.documents.stationery)
    }

    fn filled(
        &self,
        name: DocumentName,
        view: &impl Serialize,
        status: Status,
        form: Form,
    ) -> Result<Vec<u8>, CommandError> {
        let label = self.label(status);
        let (templates, template) = (&self.loaded.documents, name.template());
        let document = (template.as_str(), name.title());
        documents::write_by(&templates.all, document, view, &self.drawings, &label, form)
            .map_err(|error| templates.failed(&error, &names_of(view)))
    }

    /// Every document that people read, with what it may be relied on for.
    ///
    /// # Errors
    /// Every mistake in templates of the workshop's own.
    pub fn read(&self) -> Result<Vec<ReadDocument>, CommandError> {
        let (customer, costing) = (self.customer()?, self.costing()?);
        let view = template::made_ready(&self.view);
        let read = |name: &DocumentName| match name {
            DocumentName::Quote => self.parse(*name, &customer, self.status()),
            DocumentName::Costing => self.parse(*name, &costing, self.status()),
            _ => self.parse(*name, &view, self.plan.status()),
        };
        let read: Vec<_> = DocumentName::READ.par_iter().map(read).collect();
        let mut documents = Vec::new();
        let mut mistakes = Vec::new();
        for result in read {
            match result {
                Ok(document) => documents.push(document),
                Err(failure) => mistakes.push(failure),
            }
        }
        let mut diagnostics: Vec<Diagnostic> = Vec::new();
        for (error, known) in mistakes {
            let own = match &error {
                DocumentError::Template(error) => self.loaded.documents.mistake(error, &known),
                DocumentError::Pdf(_) => None,
            };
            match own {
                // What many documents include is at fault once.
                Some(mistake) if diagnostics.contains(&mistake) => {}
                Some(mistake) => diagnostics.push(mistake),
                None => return Err(self.loaded.documents.failed(&error, &known)),
            }
        }
        match diagnostics.is_empty() {
            true => Ok(documents),
            false => Err(self.loaded.documents.shown(&diagnostics)),
        }
    }

    fn parse(
        &self,
        name: DocumentName,
        view: &impl Serialize,
        status: Status,
    ) -> Result<ReadDocument, (DocumentError, Vec<String>)> {
        let template = name.template();
        let titled = (template.as_str(), name.title());
        let templates = &self.loaded.documents.all;
        let document = documents::read_by(templates, titled, view, &self.drawings)
            .map_err(|error| (error, names_of(view)))?;
        let label = self.label(status);
        Ok(ReadDocument {
            name,
            document,
            label,
        })
    }

    /// All documents for those who buy and build, as one page for a browser.
    pub fn page(&self, documents: &[ReadDocument]) -> String {
        let money = |read: &&ReadDocument| DocumentName::MONEY.contains(&read.name);
        let shown = documents.iter().filter(|read| !money(read));
        let shown: Vec<&Document> = shown.map(|read| &read.document).collect();
        let label = self.label(self.plan.status());
        html::write_all(&shown, &label)
    }

    /// The rows of a document that has rows.
    pub fn csv(&self, name: DocumentName) -> Result<String, CommandError> {
        let table = match name {
            DocumentName::Bill => documents::rows::bill(&self.view),
            DocumentName::Shopping => documents::rows::shopping(&self.view),
            DocumentName::Quote => quote_rows::customer(&self.customer()?),
            DocumentName::Costing => quote_rows::costing(&self.costing()?),
            DocumentName::Cuts => documents::rows::cuts(&self.view),
            DocumentName::Labels => documents::rows::labels(&self.view),
            DocumentName::Faults => documents::rows::faults(&self.view),
            DocumentName::Readings => documents::rows::readings(&self.view),
            DocumentName::Spares => documents::rows::spares(&self.view),
            other => return Err(no_such_form(other, FormName::Csv)),
        };
        documents::csv::write(&table.headers, &table.rows)
            .map_err(|error| CommandError::Machine(format!("error: {error}")))
    }

    /// The part of the plan that a document shows, as JSON.
    pub fn json(&self, name: DocumentName) -> Result<String, CommandError> {
        let view = &self.view;
        match name {
            DocumentName::Plan => {
                let mut plan = view.clone();
                plan.step_groups.clear();
                plan.check_groups.clear();
                plan.one_line.clear();
                json(&plan)
            }
            DocumentName::Bill => json(&view.bill),
            DocumentName::Shopping => json(&view.shopping),
            DocumentName::Quote => json(&self.customer()?),
            DocumentName::Costing => json(&self.costing()?),
            DocumentName::Cuts => json(&view.cuts),
            DocumentName::Crimps
            | DocumentName::Sizing
            | DocumentName::Route
            | DocumentName::Diagram => json(&view.leads),
            DocumentName::Labels => json(&view.labels),
            DocumentName::Volts => json(&view.volts),
            DocumentName::Faults => json(&view.faults),
            DocumentName::Checks => json(&view.checks),
            DocumentName::Drill => json(&view.passages),
            DocumentName::Layout => json(&view.layout),
            DocumentName::Install => json(&view.steps),
            DocumentName::Readings => json(&view.readings),
            DocumentName::Spares => json(&view.spares),
            DocumentName::Circuit => json(&view.states),
        }
    }

    /// A document in the form asked for.
    pub fn in_form(
        &self,
        name: DocumentName,
        form: FormName,
        text: Form,
        paper: PaperSize,
    ) -> Result<Vec<u8>, CommandError> {
        let readable = DocumentName::READ.contains(&name);
        match form {
            FormName::Json => Ok(self.json(name)?.into_bytes()),
            FormName::Csv => Ok(self.csv(name)?.into_bytes()),
            FormName::Text if readable => self.written(name, text),
            FormName::Md if readable => self.written(name, Form::Markdown),
            FormName::Html if readable => self.written(name, Form::Html),
            FormName::Pdf if readable => self.written(name, Form::Pdf(paper)),
            _ => Err(no_such_form(name, form)),
        }
    }
}

fn no_such_form(name: DocumentName, form: FormName) -> CommandError {
    let forms = match name {
        DocumentName::Plan => "json",
        DocumentName::Circuit => "spice, json",
        name if DocumentName::ROWS.contains(&name) => "text, md, html, pdf, csv, json",
        _ => "text, md, html, pdf, json",
    };
    let title = name.title().to_lowercase();
    let form = format!("{form:?}").to_lowercase();
    CommandError::Usage(format!(
        "error: there is no {title} as {form}; its forms are: {forms}"
    ))
}
