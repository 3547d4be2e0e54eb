//! Writes to the terminal and to files, whole or not at all.

use std::io::{self, IsTerminal, Write};
use std::path::Path;

use serde::Serialize;

use super::error::CommandError;
use crate::documents::json;

/// Prints bytes.
pub fn print(bytes: &[u8]) -> Result<(), CommandError> {
    let mut out = io::stdout().lock();
    match out.write_all(bytes).and_then(|()| out.flush()) {
        Ok(()) => Ok(()),
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Err(CommandError::Closed),
        Err(error) => Err(CommandError::Machine(format!(
            "error: printing failed: {error}"
        ))),
    }
}

/// A view for programs.
pub fn json(view: &impl Serialize) -> Result<String, CommandError> {
    json::write(view).map_err(|error| CommandError::Machine(format!("error: {error}")))
}

/// Width for text: as asked, else that of the terminal, else 80.
pub fn width(asked: Option<usize>) -> usize {
    let given = asked.or_else(|| {
        let columns = std::env::var("COLUMNS").ok();
        columns.and_then(|columns| columns.parse().ok())
    });
    given.unwrap_or(80).clamp(40, 200)
}

/// Whether to use colour: only on a terminal, and not when the user forbids it.
pub fn colour() -> bool {
    io::stdout().is_terminal() && std::env::var_os("NO_COLOR").is_none()
}

/// Writes a file that is not there yet, by way of a temporary one.
pub fn write_new(path: &Path, bytes: &[u8], replace: bool) -> Result<(), CommandError> {
    let failed = |error: io::Error| CommandError::writing(path, &error);
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let temporary = path.with_file_name(format!(".{name}.part"));
    let written = std::fs::write(&temporary, bytes).and_then(|()| {
        if replace {
            std::fs::rename(&temporary, path)
        } else {
            // A hard link fails where a file has come up meanwhile; a rename would overwrite it.
            std::fs::hard_link(&temporary, path).and_then(|()| std::fs::remove_file(&temporary))
        }
    });
    written.map_err(|error| {
        // What is left of the temporary file is of no use; that it stays is no further harm.
        let _ = std::fs::remove_file(&temporary);
        failed(error)
    })
}
