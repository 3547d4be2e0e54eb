//! Reads the files that a plan is made from.

use std::io::IsTerminal;
use std::path::{Path, PathBuf};

use super::arguments::{Files, Workshop};
use super::error::CommandError;
use super::supply;
use super::templates::DocumentTemplates;
use crate::catalog::{self, Catalog};
use crate::diagnostic::{Diagnostic, SourceId, Sources, nearest, render};
use crate::job::{self, Job};
use crate::method::{self, StepLibrary, embedded_step_files};
use crate::plan::{self, Extras, Inputs, Plan};
use crate::record::{self, RecordFile};
use crate::shop::{self, ShopFile};

/// The shop that serves when the user names none.
const WORKBENCH: &str = include_str!("../../templates/shops/workbench.toml");

/// Everything that was read.
pub struct Loaded {
    /// The job, or the variant of it that was asked for. The job itself holds its variants.
    pub job: Job,
    /// The workshop.
    pub shop: ShopFile,
    /// Its file as written.
    pub shop_text: String,
    /// The catalog.
    pub catalog: Catalog,
    /// The steps of the work.
    pub library: StepLibrary,
    /// The templates of documents.
    pub documents: DocumentTemplates,
    /// The texts of all files, to show mistakes in.
    sources: Sources,
}

impl Loaded {
    /// Mistakes that only a plan brings to light.
    pub fn mistakes(&self, mistakes: &[Diagnostic]) -> CommandError {
        shown(mistakes, &self.sources)
    }

    /// Reads the record of a vehicle built by this job.
    ///
    /// # Errors
    /// All mistakes in it.
    pub fn record(&mut self, path: &Path) -> Result<RecordFile, CommandError> {
        let source = add(path, &mut self.sources)?;
        record::load(source, &self.sources, &self.job).map_err(|found| self.mistakes(&found))
    }

    /// Makes the plan of the job.
    pub fn plan(&self, extras: Extras) -> Plan {
        plan::make(self.inputs(&self.job), extras)
    }

    /// Makes the plan of a job that was read with this shop and catalog: of a variant, say.
    pub fn plan_of(&self, job: &Job) -> Plan {
        plan::make(self.inputs(job), Extras::NONE)
    }

    fn inputs<'a>(&'a self, job: &'a Job) -> Inputs<'a> {
        Inputs {
            job,
            shop: &self.shop,
            catalog: &self.catalog,
            library: &self.library,
        }
    }
}

/// Reads job, shop, catalog and step library.
///
/// # Errors
/// All mistakes in all files at once.
pub fn load(files: &Files) -> Result<Loaded, CommandError> {
    let Some(path) = &files.job else {
        return Err(no_job());
    };
    let mut loaded = load_job(path, &files.workshop)?;
    loaded.job = chosen(loaded.job, files.variant.as_deref())?;
    Ok(loaded)
}

/// Reads a job, with all its variants, and what it is planned with.
///
/// # Errors
/// All mistakes in all files at once.
pub fn load_job(path: &Path, workshop: &Workshop) -> Result<Loaded, CommandError> {
    let mut sources = Sources::default();
    let job_source = add(path, &mut sources)?;
    let shop_source = match &workshop.shop {
        Some(path) => add(path, &mut sources)?,
        None => sources.add("templates/shops/workbench.toml", WORKBENCH),
    };
    let catalog = read_catalog(&workshop.catalog, &mut sources)?;
    let job = job::load(job_source, &sources, &catalog);
    let shop = shop::load(shop_source, &sources, &catalog);
    match (job, shop) {
        (Ok(job), Ok(shop)) => Ok(Loaded {
            documents: DocumentTemplates::of(&shop, own_templates(&shop, workshop).as_deref())?,
            library: read_library(own_templates(&shop, workshop).as_deref(), &mut sources)?,
            job,
            shop: supply::marked(shop, workshop, &catalog)?,
            shop_text: sources.get(shop_source).text.clone(),
            catalog,
            sources,
        }),
        (job, shop) => {
            let mut mistakes: Vec<Diagnostic> = job.err().unwrap_or_default();
            mistakes.extend(shop.err().unwrap_or_default());
            Err(shown(&mistakes, &sources))
        }
    }
}

/// The workshop's own folder of templates: as asked, else as the shop file says.
fn own_templates(shop: &ShopFile, workshop: &Workshop) -> Option<PathBuf> {
    let beside = workshop.shop.as_deref().and_then(Path::parent);
    let told = shop.templates.as_ref().map(|folder| {
        let folder = PathBuf::from(&folder.value);
        beside.map_or(folder.clone(), |beside| beside.join(folder))
    });
    workshop.templates.clone().or(told)
}

/// The embedded steps, and over them those of a folder of templates.
fn read_library(folder: Option<&Path>, sources: &mut Sources) -> Result<StepLibrary, CommandError> {
    let embedded = embedded_step_files().into_iter();
    let mut layers = vec![
        embedded
            .map(|(path, text)| sources.add(path, text))
            .collect(),
    ];
    if let Some(steps) = folder.map(|folder| folder.join("steps"))
        && steps.is_dir()
    {
        layers.push(read_folder(&steps, sources)?);
    }
    method::load(&layers, sources).map_err(|found| shown(&found, sources))
}

/// That a job file must be named.
pub fn no_job() -> CommandError {
    CommandError::Usage(how_to_start())
}

/// The job itself, or the variant of it with a name.
fn chosen(job: Job, variant: Option<&str>) -> Result<Job, CommandError> {
    let Some(name) = variant else { return Ok(job) };
    match job.variant(name) {
        Some(variant) => Ok(variant.clone()),
        None => Err(no_such_variant(&job, name)),
    }
}

/// Tells which variants there are.
pub fn no_such_variant(job: &Job, name: &str) -> CommandError {
    let names: Vec<&str> = job.variants.iter().map(|row| row.name.as_str()).collect();
    let help = match (nearest(name, names.iter().copied()), names.is_empty()) {
        (Some(near), _) => format!("did you mean `{near}`?"),
        (None, true) => "variants stand in the job file under [[variant]]".to_owned(),
        (None, false) => format!("its variants are: {}", names.join(", ")),
    };
    let text = format!("error: the job has no variant `{name}`\nhelp: {help}");
    CommandError::Usage(text)
}

/// Reads the catalog: the embedded one, then each folder over it.
pub fn load_catalog(folders: &[PathBuf]) -> Result<Catalog, CommandError> {
    read_catalog(folders, &mut Sources::default())
}

fn read_catalog(folders: &[PathBuf], sources: &mut Sources) -> Result<Catalog, CommandError> {
    let mut layers: Vec<Vec<SourceId>> = vec![catalog::embedded(sources)];
    for folder in folders {
        layers.push(read_folder(folder, sources)?);
    }
    catalog::load(&layers, sources).map_err(|found| shown(&found, sources))
}

fn read_folder(folder: &Path, sources: &mut Sources) -> Result<Vec<SourceId>, CommandError> {
    let paths = files_of(folder, "toml")?;
    paths.iter().map(|path| add(path, sources)).collect()
}

/// The files of a folder with an ending, by name.
pub fn files_of(folder: &Path, ending: &str) -> Result<Vec<PathBuf>, CommandError> {
    let entries =
        std::fs::read_dir(folder).map_err(|error| CommandError::reading(folder, &error))?;
    let mut paths = Vec::new();
    for entry in entries {
        let entry = entry.map_err(|error| CommandError::reading(folder, &error))?;
        if entry.path().extension().is_some_and(|end| end == ending) {
            paths.push(entry.path());
        }
    }
    paths.sort();
    Ok(paths)
}

fn add(path: &Path, sources: &mut Sources) -> Result<SourceId, CommandError> {
    let text =
        std::fs::read_to_string(path).map_err(|error| CommandError::reading(path, &error))?;
    Ok(sources.add(path.display().to_string(), text))
}

fn shown(mistakes: &[Diagnostic], sources: &Sources) -> CommandError {
    let colour = std::io::stderr().is_terminal() && std::env::var_os("NO_COLOR").is_none();
    CommandError::Mistakes(render(mistakes, sources, colour))
}

fn how_to_start() -> String {
    format!(
        "No job file is named.\n\n\
         Start one from a job that comes with the program:\n\
         \x20   longlead new my-job.toml --like NAME\n\
         where NAME is one of: {}.\n\n\
         Then put in your own measurements and loads (`longlead reference job` explains every key),\n\
         and plan it:\n\
         \x20   longlead plan my-job.toml --out my-plan",
        super::new::names().join(", ")
    )
}
