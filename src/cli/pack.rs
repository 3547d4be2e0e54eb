//! Which documents there are, and each in every form.

use serde::Serialize;

use super::arguments::{DocumentName, FormName};
use super::error::CommandError;
use super::input::Loaded;
use crate::circuit;
use crate::documents::pdf::PaperSize;
use crate::documents::view::PlanView;
use crate::documents::{self, Form, Label};
use crate::plan::{Plan, wiring};

/// A plan with everything that documents are written from.
pub struct Pack<'a> {
    /// What it was made from.
    pub loaded: &'a Loaded,
    /// The plan.
    pub plan: &'a Plan,
    /// The plan as readers see it.
    pub view: PlanView,
}

impl DocumentName {
    /// The documents that people read, in the order of the pack.
    pub const READ: [Self; 11] = [
        Self::Bill,
        Self::Shopping,
        Self::Cuts,
        Self::Crimps,
        Self::Sizing,
        Self::Volts,
        Self::Faults,
        Self::Checks,
        Self::Route,
        Self::Install,
        Self::Spares,
    ];

    /// Title, which is also the file name with spaces as dashes.
    pub fn title(self) -> &'static str {
        match self {
            Self::Bill => "Bill of materials",
            Self::Shopping => "Shopping list",
            Self::Cuts => "Cut list",
            Self::Crimps => "Crimp schedule",
            Self::Sizing => "Sizing report",
            Self::Volts => "Volts",
            Self::Faults => "Faults",
            Self::Checks => "Checks",
            Self::Route => "Route sheet",
            Self::Install => "Install plan",
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
        self.title().to_lowercase().replace(' ', "_")
    }
}

impl<'a> Pack<'a> {
    /// The pack of a plan.
    pub fn of(loaded: &'a Loaded, plan: &'a Plan) -> Self {
        let view = PlanView::of(plan, &loaded.job, &loaded.catalog);
        Self { loaded, plan, view }
    }

    /// One document in a form that is made from its template.
    pub fn written(&self, name: DocumentName, form: Form) -> Result<Vec<u8>, CommandError> {
        let label = Label::new(&self.view.title, self.view.status);
        documents::write(&name.template(), name.title(), &self.view, &label, form)
            .map_err(|error| CommandError::Machine(format!("error: {error}")))
    }

    /// The rows of a document that has rows.
    pub fn csv(&self, name: DocumentName) -> Result<String, CommandError> {
        let table = match name {
            DocumentName::Bill => documents::rows::bill(&self.view),
            DocumentName::Cuts => documents::rows::cuts(&self.view),
            DocumentName::Faults => documents::rows::faults(&self.view),
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
                json(&plan)
            }
            DocumentName::Bill | DocumentName::Shopping => json(&view.bill),
            DocumentName::Cuts => json(&view.cuts),
            DocumentName::Crimps | DocumentName::Sizing | DocumentName::Route => json(&view.leads),
            DocumentName::Volts => json(&view.volts),
            DocumentName::Faults => json(&view.faults),
            DocumentName::Checks => json(&view.checks),
            DocumentName::Install => json(&view.steps),
            DocumentName::Spares => json(&view.spares),
            DocumentName::Circuit => json(&view.states),
        }
    }

    /// Decks for a circuit simulator, of one state or of all.
    pub fn decks(&self, state: Option<&str>) -> Result<String, CommandError> {
        let Loaded { job, catalog, .. } = self.loaded;
        let protection = Some(&self.plan.protection);
        let wired = wiring(
            job,
            &self.plan.route,
            &self.plan.sizing,
            protection,
            catalog,
        );
        let decks = circuit::decks(&wired);
        let states = job.states.iter();
        let names: Vec<String> = states.map(|state| format!("`{}`", state.name)).collect();
        let chosen: Vec<String> = decks
            .into_iter()
            .filter(|deck| state.is_none_or(|wanted| wanted == deck.state))
            .map(|deck| deck.text)
            .collect();
        match (chosen.is_empty(), state) {
            (true, Some(state)) => Err(CommandError::Usage(format!(
                "error: the job has no state `{state}`; its states are: {}",
                names.join(", ")
            ))),
            _ => Ok(chosen.join("\n")),
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
        DocumentName::Bill | DocumentName::Cuts | DocumentName::Faults | DocumentName::Spares => {
            "text, md, html, pdf, csv, json"
        }
        _ => "text, md, html, pdf, json",
    };
    let title = name.title().to_lowercase();
    let form = format!("{form:?}").to_lowercase();
    CommandError::Usage(format!(
        "error: there is no {title} as {form}; its forms are: {forms}"
    ))
}

fn json(view: &impl Serialize) -> Result<String, CommandError> {
    serde_json::to_string_pretty(view)
        .map(|text| text + "\n")
        .map_err(|error| CommandError::Machine(format!("error: {error}")))
}
