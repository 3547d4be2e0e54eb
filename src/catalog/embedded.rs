//! The catalog that comes with the program.

use include_dir::{Dir, DirEntry, include_dir};

use super::{Catalog, load};
use crate::diagnostic::{Diagnostic, SourceId, Sources};

static FOLDER: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/catalog");

/// Adds every embedded catalog file to the sources, in the order of their paths.
pub fn embedded(sources: &mut Sources) -> Vec<SourceId> {
    let mut files = Vec::new();
    collect(&FOLDER, &mut files);
    files.sort();
    let files = files.into_iter();
    files.map(|(path, text)| sources.add(path, text)).collect()
}

impl Catalog {
    /// The catalog that comes with the program, without a user's own.
    ///
    /// # Errors
    /// Every mistake in its files.
    pub fn embedded(sources: &mut Sources) -> Result<Self, Vec<Diagnostic>> {
        let layer = embedded(sources);
        load(&[layer], sources)
    }
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
    use crate::catalog::lint;
    use crate::diagnostic::render;

    #[test]
    fn the_embedded_catalog_is_sound_and_has_no_holes() {
        let mut sources = Sources::default();
        let catalog = match Catalog::embedded(&mut sources) {
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
