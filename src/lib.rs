//! Longlead.
pub mod catalog;
pub mod check;
pub mod circuit;
pub mod diagnostic;
pub mod documents;
pub mod file;
pub mod fittings;
pub mod job;
pub mod method;
pub mod protection;
pub mod purchase;
pub mod quantity;
pub mod route;
pub mod shop;
pub mod sizing;
