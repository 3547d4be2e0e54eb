//! Why a command could not do its work.

use std::fmt;
use std::io;
use std::path::Path;

/// A command that failed.
#[derive(Debug)]
pub enum CommandError {
    /// Files hold mistakes; the text shows them all.
    Mistakes(String),
    /// The command was asked for something that cannot be.
    Usage(String),
    /// The machine failed.
    Machine(String),
    /// Nobody reads the output any more.
    Closed,
}

impl CommandError {
    /// The exit status that belongs to it.
    pub fn status(&self) -> u8 {
        match self {
            Self::Mistakes(_) | Self::Usage(_) => 1,
            Self::Machine(_) => 3,
            Self::Closed => 0,
        }
    }

    /// A file that could not be read. A file that is not there is the user's slip.
    pub fn reading(path: &Path, error: &io::Error) -> Self {
        let path = path.display();
        match error.kind() {
            io::ErrorKind::NotFound => Self::Usage(format!("error: there is no file `{path}`")),
            io::ErrorKind::InvalidData => {
                Self::Usage(format!("error: `{path}` is not a text file in UTF-8"))
            }
            io::ErrorKind::IsADirectory => {
                Self::Usage(format!("error: `{path}` is a folder, not a file"))
            }
            _ => Self::Machine(format!("error: `{path}` could not be read: {error}")),
        }
    }

    /// A file that could not be written.
    pub fn writing(path: &Path, error: &io::Error) -> Self {
        let path = path.display();
        Self::Machine(format!("error: `{path}` could not be written: {error}"))
    }
}

impl fmt::Display for CommandError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Mistakes(text) | Self::Usage(text) | Self::Machine(text) => f.write_str(text),
            Self::Closed => Ok(()),
        }
    }
}
