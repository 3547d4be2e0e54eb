//! Longlead.
pub mod catalog;
pub mod diagnostic;
pub mod file;
pub mod quantity;
