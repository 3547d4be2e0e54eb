//! Jobs of the tree, read and planned in this process.

use std::fs;
use std::path::{Path, PathBuf};

use longlead::catalog::Catalog;
use longlead::diagnostic::{Sources, render};
use longlead::job::{self, Job};
use longlead::plan::wiring;
use longlead::protection::{self, Protection};
use longlead::route::{self, Route};
use longlead::sizing::{self, Sizing};

/// The root of the tree.
pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// A folder of this benchmark's own for files that are made on the way.
pub fn scratch() -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("speed");
    fs::create_dir_all(&folder).unwrap();
    folder
}

/// The TOML files of a folder, by name; none where there is no such folder.
pub fn jobs(folder: &str) -> Vec<PathBuf> {
    let entries = fs::read_dir(root().join(folder)).into_iter().flatten();
    let mut files: Vec<PathBuf> = entries
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|end| end == "toml"))
        .collect();
    files.sort();
    files
}

/// The name of a job's file.
pub fn name(path: &Path) -> String {
    path.file_stem().unwrap().to_string_lossy().into_owned()
}

/// The embedded catalog.
pub fn catalog() -> Catalog {
    Catalog::embedded(&mut Sources::default()).unwrap()
}

/// The way, the cables and the devices chosen for a job.
pub fn chosen(job: &Job, catalog: &Catalog) -> (Route, Sizing, Protection) {
    let route = route::trace(job, catalog);
    let sizing = sizing::choose(job, &route, catalog);
    let protection = protection::choose(&wiring(job, &route, &sizing, None, catalog), &sizing);
    (route, sizing, protection)
}

/// A job of a text.
pub fn job(text: &str, catalog: &Catalog) -> Job {
    let mut sources = Sources::default();
    let source = sources.add("job.toml", text);
    job::load(source, &sources, catalog)
        .unwrap_or_else(|mistakes| panic!("{}", render(&mistakes, &sources, false)))
}
