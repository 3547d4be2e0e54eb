//! Whole plans: every job of the tree with the verdict it must get, the names that programs rely on,
//! the same bytes every time, and the command line as its user meets it.

#![allow(clippy::unwrap_used, clippy::panic, missing_docs)]

mod bundles;
mod bytes;
mod command;
mod completeness;
mod drawings;
mod faults;
mod json;
mod ledger;
mod physics;
mod quote;
mod readings;
mod safety;
mod shopping;
mod simulator;
mod sizes;
mod spares;
mod supply;
mod support;
mod templates;
mod variants;
mod verdicts;
