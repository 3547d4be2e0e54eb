//! The step library that comes with the program.

use include_dir::{Dir, include_dir};

use super::library::StepLibrary;
use super::load::load;
use crate::diagnostic::{Diagnostic, Sources};

static FOLDER: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/templates/steps");

const CAUTIONS: &str = include_str!(concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/templates/cautions.toml"
));

/// Path and text of every embedded file of the step library, in the order of their paths.
pub fn embedded_step_files() -> Vec<(String, &'static str)> {
    let mut files = vec![("templates/cautions.toml".to_owned(), CAUTIONS)];
    for file in FOLDER.files() {
        let toml = file.path().extension().is_some_and(|end| end == "toml");
        if let (true, Some(text)) = (toml, file.contents_utf8()) {
            files.push((format!("templates/steps/{}", file.path().display()), text));
        }
    }
    files.sort();
    files
}

impl StepLibrary {
    /// The library that comes with the program.
    ///
    /// # Errors
    /// Every mistake in its files.
    pub fn embedded(sources: &mut Sources) -> Result<Self, Vec<Diagnostic>> {
        let files = embedded_step_files().into_iter();
        let layer = files.map(|(path, text)| sources.add(path, text)).collect();
        load(&[layer], sources)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::render;

    #[test]
    fn the_embedded_step_library_is_sound_and_deep() {
        let mut sources = Sources::default();
        let library = match StepLibrary::embedded(&mut sources) {
            Ok(library) => library,
            Err(mistakes) => unreachable!("{}", render(&mistakes, &sources, false)),
        };
        assert!(library.steps.len() >= 45, "{}", library.steps.len());
        assert!(library.cautions.len() >= 14);
    }
}
