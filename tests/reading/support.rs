//! Files, catalogs and messages for the tests.

use std::fs;
use std::path::{Path, PathBuf};

use longlead::catalog::{self, Catalog};
use longlead::diagnostic::{Diagnostic, Sources, render};
use longlead::job::{self, Job};
use longlead::record::{self, RecordFile};
use longlead::shop::{self, ShopFile};

/// A path inside the repository.
pub fn path(inside: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(inside)
}

/// The text of a file inside the repository.
pub fn text(inside: &str) -> String {
    let path = path(inside);
    fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// Every TOML file of a folder, in the order of their names.
pub fn toml_files(inside: &str) -> Vec<PathBuf> {
    let entries = fs::read_dir(path(inside)).unwrap();
    let mut files: Vec<PathBuf> = entries.map(|entry| entry.unwrap().path()).collect();
    files.retain(|file| file.extension().is_some_and(|end| end == "toml"));
    files.sort();
    files
}

/// The small catalog of these tests.
pub fn small_catalog() -> Catalog {
    let catalog = read_catalog("catalog.toml", &text("tests/files/valid/catalog.toml"));
    catalog.unwrap_or_else(|message| panic!("{message}"))
}

/// The catalog that comes with the program.
pub fn full_catalog() -> Catalog {
    let mut sources = Sources::default();
    let read = Catalog::embedded(&mut sources);
    read.unwrap_or_else(|mistakes| panic!("{}", render(&mistakes, &sources, false)))
}

/// Reads a job; what is wrong comes as the user would see it.
pub fn read_job(name: &str, text: &str, catalog: &Catalog) -> Result<Job, String> {
    shown(name, text, |source, sources| {
        job::load(source, sources, catalog)
    })
}

/// Reads a shop file.
pub fn read_shop(name: &str, text: &str, catalog: &Catalog) -> Result<ShopFile, String> {
    shown(name, text, |source, sources| {
        shop::load(source, sources, catalog)
    })
}

/// Reads a record of the smallest right job.
pub fn read_record(name: &str, record: &str, catalog: &Catalog) -> Result<RecordFile, String> {
    let job = read_job("job.toml", &text("tests/files/valid/job.toml"), catalog)?;
    shown(name, record, |source, sources| {
        record::load(source, sources, &job)
    })
}

/// Reads a catalog of one file.
pub fn read_catalog(name: &str, text: &str) -> Result<Catalog, String> {
    shown(name, text, |source, sources| {
        catalog::load(&[vec![source]], sources)
    })
}

fn shown<T>(
    name: &str,
    text: &str,
    read: impl FnOnce(longlead::diagnostic::SourceId, &Sources) -> Result<T, Vec<Diagnostic>>,
) -> Result<T, String> {
    let mut sources = Sources::default();
    let source = sources.add(name, text);
    read(source, &sources).map_err(|mistakes| render(&mistakes, &sources, false))
}
