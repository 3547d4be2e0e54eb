//! The command `longlead`: arguments in, exit status out.

use std::process::ExitCode;

fn main() -> ExitCode {
    longlead::run()
}
