//! The command `longlead`: arguments in, exit status out.

use std::process::ExitCode;

use mimalloc::MiMalloc;

/// A plan is made of many small values that come and go; the allocators of most systems take longer
/// over them.
#[global_allocator]
static ALLOCATOR: MiMalloc = MiMalloc;

fn main() -> ExitCode {
    longlead::run()
}
