//! `new`: starts a job file from one that comes with the program.

use include_dir::{Dir, include_dir};

use super::arguments::NewOptions;
use super::error::CommandError;
use super::{Outcome, output};
use crate::diagnostic::nearest;

static JOBS: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/templates/jobs");

/// Names of the jobs that come with the program.
pub fn names() -> Vec<&'static str> {
    let mut names: Vec<&str> = JOBS
        .files()
        .filter_map(|file| file.path().file_stem()?.to_str())
        .collect();
    names.sort_unstable();
    names
}

/// Runs the command.
pub fn run(options: &NewOptions) -> Result<Outcome, CommandError> {
    let like = &options.like;
    let file = JOBS.get_file(format!("{like}.toml"));
    let Some(text) = file.and_then(|file| file.contents_utf8()) else {
        let names = names();
        let help = match nearest(like, names.iter().copied()) {
            Some(name) => format!("did you mean `{name}`? "),
            None => String::new(),
        };
        return Err(CommandError::Usage(format!(
            "error: there is no job `{like}` to start from\nhelp: {help}The names are: {}",
            names.join(", ")
        )));
    };
    if options.file.exists() {
        return Err(CommandError::Usage(format!(
            "error: `{}` is there already; nothing was written",
            options.file.display()
        )));
    }
    output::write_new(&options.file, text.as_bytes(), false)?;
    let path = options.file.display();
    let next = format!(
        "{path} is written.\nNext:  longlead plan {path} --out {}\n",
        options.file.with_extension("").display()
    );
    output::print(next.as_bytes())?;
    Ok(Outcome::Done)
}
