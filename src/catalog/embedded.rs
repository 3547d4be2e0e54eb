//! The catalog that comes with the program.

use include_dir::{Dir, DirEntry, include_dir};

static FOLDER: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/catalog");

/// Path and text of every embedded catalog file, in the order of their paths.
pub fn embedded_files() -> Vec<(String, &'static str)> {
    let mut files = Vec::new();
    collect(&FOLDER, &mut files);
    files.sort();
    files
}

fn collect(folder: &'static Dir<'static>, files: &mut Vec<(String, &'static str)>) {
    for entry in folder.entries() {
        match entry {
            DirEntry::Dir(inner) => collect(inner, files),
            DirEntry::File(file) => {
                let toml = file.path().extension().is_some_and(|end| end == "toml");
                if let (true, Some(text)) = (toml, file.contents_utf8()) {
                    files.push((format!("catalog/{}", file.path().display()), text));
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::{lint, load};
    use crate::diagnostic::{Sources, render};

    #[test]
    fn the_embedded_catalog_is_sound_and_has_no_holes() {
        let mut sources = Sources::default();
        let layer = embedded_files()
            .into_iter()
            .map(|(path, text)| sources.add(path, text))
            .collect();
        let catalog = match load(&[layer], &sources) {
            Ok(catalog) => catalog,
            Err(mistakes) => unreachable!("{}", render(&mistakes, &sources, false)),
        };
        let holes: Vec<String> = lint(&catalog).iter().map(ToString::to_string).collect();
        assert!(
            holes.is_empty(),
            "{} holes:\n{}",
            holes.len(),
            holes.join("\n")
        );
        assert!(catalog.parts().count() >= 350);
    }
}
