//! The command line: the only place that reads files, writes files and prints.

mod arguments;
mod cable;
mod changes;
mod check;
mod circuit;
mod compare;
mod error;
mod input;
mod new;
mod output;
mod pack;
mod parts;
mod plan;
mod quote;
mod record;
mod reference;
mod several;
mod show;
mod stock;
mod supply;
mod templates;
mod verify;

use std::io::Write;
use std::process::ExitCode;

use clap::Parser;

use arguments::{Arguments, Command};

/// How a command that did its work ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outcome {
    /// All is well.
    Done,
    /// A plan was made, but a check fails or is open.
    NotReady,
}

/// Runs the command that the arguments name.
///
/// Exit status: 0 done; 1 bad input or usage, nothing written; 2 a plan was made, but a check fails
/// or is open; 3 the machine failed.
pub fn run() -> ExitCode {
    let arguments = match Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(error) => {
            let status = if error.use_stderr() { 1 } else { 0 };
            // Help asked for and a usage error differ only in where they go.
            let _ = error.print();
            return ExitCode::from(status);
        }
    };
    let result = match arguments.command {
        Command::Check(options) => check::run(&options),
        Command::Plan(options) => plan::run(&options),
        Command::Show(options) => show::run(&options),
        Command::Compare(options) => compare::run(&options),
        Command::Changes(options) => changes::run(&options),
        Command::New(options) => new::run(&options),
        Command::Stock(options) => stock::run(&options),
        Command::Parts(options) => parts::run(&options),
        Command::Cable(options) => cable::run(&options),
        Command::Record(options) => record::run(&options),
        Command::Verify(options) => verify::run(&options),
        Command::Reference(options) => reference::run(&options),
    };
    match result {
        Ok(Outcome::Done) => ExitCode::SUCCESS,
        Ok(Outcome::NotReady) => ExitCode::from(2),
        Err(error) => {
            // When even the error cannot be written, the exit status still tells.
            let _ = writeln!(std::io::stderr(), "{}", error.to_string().trim_end());
            ExitCode::from(error.status())
        }
    }
}
