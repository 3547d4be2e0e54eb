//! The readers of job, shop, record and catalog files, held against files right and wrong.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod defaults;
mod faults;
mod jobs;
mod mutations;
mod support;
mod wrong;
