//! Whole plans: every job of the tree with the verdict it must get, the names that programs rely on,
//! the same bytes every time, and the command line as its user meets it.

#![allow(clippy::unwrap_used, clippy::panic, missing_docs)]

mod bytes;
mod command;
mod completeness;
mod json;
mod safety;
mod simulator;
mod sizes;
mod support;
mod verdicts;
