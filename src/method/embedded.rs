//! The step library that comes with the program.

use include_dir::{Dir, include_dir};

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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::{Sources, render};
    use crate::method::load;

    #[test]
    fn the_embedded_step_library_is_sound_and_deep() {
        let mut sources = Sources::default();
        let files = embedded_step_files().into_iter();
        let layer = files.map(|(path, text)| sources.add(path, text)).collect();
        let library = match load(&[layer], &sources) {
            Ok(library) => library,
            Err(mistakes) => unreachable!("{}", render(&mistakes, &sources, false)),
        };
        assert!(library.steps.len() >= 45, "{}", library.steps.len());
        assert!(library.cautions.len() >= 14);
    }
}
