//! Each stage imports only earlier ones.

#![allow(clippy::unwrap_used, missing_docs)]

use std::fs;
use std::path::{Path, PathBuf};

/// Modules from first to last; a module may import those before it and itself.
const ORDER: [&str; 25] = [
    "quantity",
    "diagnostic",
    "file",
    "catalog",
    "cable_check",
    "job",
    "shop",
    "record",
    "check",
    "route",
    "heat",
    "circuit",
    "sizing",
    "protection",
    "fittings",
    "method",
    "purchase",
    "shopping",
    "spares",
    "readings",
    "plan",
    "drawings",
    "compare",
    "quote",
    "documents",
];

fn rust_files(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            rust_files(&path, found);
        } else if path.extension().is_some_and(|end| end == "rs") {
            found.push(path);
        }
    }
}

/// The modules that a text imports as `crate::module`.
fn imports(text: &str) -> Vec<&str> {
    let code = text
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"));
    code.flat_map(|line| line.split("crate::").skip(1))
        .map(|rest| {
            let end = rest.find(|c: char| !c.is_alphanumeric() && c != '_');
            &rest[..end.unwrap_or(rest.len())]
        })
        .collect()
}

/// Later modules that a module at a place in the order imports.
fn too_late(place: usize, text: &str) -> Vec<&str> {
    let position = |name: &&str| ORDER.iter().position(|known| known == name);
    imports(text)
        .into_iter()
        .filter(|name| position(name).is_some_and(|other| other > place) || *name == "cli")
        .collect()
}

#[test]
fn each_stage_imports_only_earlier_ones() {
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    for (place, module) in ORDER.iter().enumerate() {
        let mut files = Vec::new();
        let single = source.join(format!("{module}.rs"));
        if single.exists() {
            files.push(single);
        } else {
            rust_files(&source.join(module), &mut files);
        }
        assert!(!files.is_empty(), "no code for {module}");
        for file in files {
            let text = fs::read_to_string(&file).unwrap();
            // Tests of a stage may read files and catalogs as they like.
            let code = text.split("#[cfg(test)]\nmod tests").next().unwrap();
            let late = too_late(place, code);
            assert!(late.is_empty(), "{} imports {late:?}", file.display());
        }
    }
}

#[test]
fn every_folder_of_the_source_has_its_place() {
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    for entry in fs::read_dir(source).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_stem().unwrap().to_str().unwrap().to_owned();
        let known = ORDER.contains(&name.as_str()) || ["cli", "lib", "main"].contains(&&*name);
        assert!(known, "{name} is in no layer");
    }
}

#[test]
fn an_import_of_a_later_stage_is_seen() {
    let route = ORDER.iter().position(|name| *name == "route").unwrap();
    assert_eq!(too_late(route, "use crate::sizing::Sizing;"), ["sizing"]);
    assert_eq!(too_late(route, "let x = crate::cli::run();"), ["cli"]);
    assert!(too_late(route, "use crate::job::Job; // crate::route").is_empty());
}
